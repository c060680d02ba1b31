"""Frozen dataclasses to plain JSON values and back, for the record: Decimals and dates as strings, tuples as lists."""

from __future__ import annotations

import datetime as dt
import json
import types
import typing
from dataclasses import Field, fields, is_dataclass
from decimal import Decimal
from functools import cache
from typing import Any, TypeVar

T = TypeVar("T")


def to_plain(value: Any) -> Any:
    """A JSON-ready copy of a value made of dataclasses, tuples, dicts, numbers, strings, Decimals and dates.

    A dataclass becomes an object with a "$" key naming its class, so that unions can be read back. A field whose
    metadata says "left-out" is written only where it is not its default, so that what was written before it came
    still is. Raises TypeError for anything else.
    """
    if value is None or isinstance(value, bool | int | float | str):
        return value
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, tuple | list):
        return [to_plain(item) for item in value]
    if isinstance(value, dict):
        return {str(key): to_plain(item) for key, item in value.items()}
    if is_dataclass(value):
        body = {item.name: to_plain(getattr(value, item.name)) for item in fields(value) if not _left_out(item, value)}
        return {"$": type(value).__name__} | body
    raise TypeError(f"{type(value).__name__} has no place in the record")


def _left_out(item: Field[Any], value: Any) -> bool:
    return bool(item.metadata.get("left-out")) and getattr(value, item.name) == item.default


def from_plain(kind: type[T], value: Any) -> T:
    """The value of type `kind` that `to_plain` made `value` from. Raises ValueError where it does not fit.

    Fields that the stored object lacks take their defaults (older records); unknown ones are refused.
    """
    return typing.cast(T, _read(kind, value))


def canonical(value: Any) -> str:
    """The one JSON text of a value: sorted keys, no spaces, so that equal values give equal text."""
    return json.dumps(to_plain(value), sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


@cache
def _hints(kind: type) -> dict[str, Any]:
    return typing.get_type_hints(kind)


def _read(kind: Any, value: Any) -> Any:
    origin = typing.get_origin(kind)
    if origin is typing.Union or origin is types.UnionType:
        return _read_union(typing.get_args(kind), value)
    if origin is typing.Literal:
        return _literal(kind, value)
    if origin in (tuple, list):
        return _read_tuple(typing.get_args(kind), value)
    if origin is dict:
        return {key: _read(typing.get_args(kind)[1], item) for key, item in value.items()}
    if kind is Any:
        return value
    if kind is Decimal:
        return Decimal(value)
    if kind is dt.date:
        return dt.date.fromisoformat(value)
    if is_dataclass(kind):
        return _read_dataclass(typing.cast(type, kind), value)
    if kind is float and isinstance(value, int) and not isinstance(value, bool):
        return float(value)
    if kind is type(None) and value is None:
        return None
    if not isinstance(value, kind) or (isinstance(value, bool) and kind is not bool):
        raise ValueError(f"{value!r} is not {kind}")
    return value


def _literal(kind: Any, value: Any) -> Any:
    if value not in typing.get_args(kind):
        raise ValueError(f"{value!r} is none of {typing.get_args(kind)}")
    return value


def _read_union(kinds: tuple[Any, ...], value: Any) -> Any:
    named = value.get("$") if isinstance(value, dict) else None
    for kind in kinds:
        if named is not None and getattr(kind, "__name__", None) != named:
            continue
        try:
            return _read(kind, value)
        except (ValueError, TypeError, ArithmeticError):
            continue
    raise ValueError(f"{value!r} fits none of {kinds}")


def _read_tuple(kinds: tuple[Any, ...], value: Any) -> tuple[Any, ...]:
    if not isinstance(value, list):
        raise ValueError(f"{value!r} is no list")
    if len(kinds) == 2 and kinds[1] is Ellipsis:
        return tuple(_read(kinds[0], item) for item in value)
    if len(kinds) != len(value):
        raise ValueError(f"{len(value)} values where {len(kinds)} belong")
    return tuple(_read(kind, item) for kind, item in zip(kinds, value, strict=True))


def _read_dataclass(kind: type, value: Any) -> Any:
    if not isinstance(value, dict):
        raise ValueError(f"{value!r} is no object")
    hints = _hints(kind)
    given = {key: item for key, item in value.items() if key != "$"}
    unknown = given.keys() - hints.keys()
    if unknown:
        raise ValueError(f"{kind.__name__} has no {', '.join(sorted(unknown))}")
    return kind(**{key: _read(hints[key], item) for key, item in given.items()})
