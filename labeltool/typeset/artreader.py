"""Reads the values of an artwork file one by one, and notes every fault with its key."""

from __future__ import annotations

import difflib
import math
from collections.abc import Mapping
from typing import Any

from labeltool.finding import Finding, Where


class Reader:
    """Reads tables and collects findings; every method gives a usable value even where it complains."""

    def __init__(self, name: str, homes: Mapping[str, str]) -> None:
        """`homes`: where each known key belongs."""
        self.file, self.homes = f"{name}.toml", homes
        self.findings: list[Finding] = []

    def complain(self, key: str, text: str, limit: str, do: str | None = None) -> None:
        """Notes an error at a key."""
        where = Where(self.file, key=key)
        self.findings.append(Finding("artwork.file", "error", f"{key}: {text}", where, limit=limit, do=do))

    def known(self, place: str, table: Mapping[str, Any], keys: tuple[str, ...]) -> None:
        """Complains of every key that is not among `keys`, with the nearest one."""
        for key in table:
            if key not in keys:
                self.complain(key_path(place, key), "unknown key", ", ".join(keys), self._hint(str(key), keys))

    def _hint(self, key: str, keys: tuple[str, ...]) -> str:
        if key in self.homes:
            return f"it belongs in {self.homes[key]}"
        near = difflib.get_close_matches(key, keys, 1, 0.5)
        return f"did you mean {near[0]}?" if near else "delete it"

    def table(self, place: str, value: Any) -> Mapping[str, Any]:
        """The value as a table; an empty one where it is none."""
        if isinstance(value, Mapping):
            return value
        self.complain(place, f"{value!r} is no table", "a table of keys")
        return {}

    def number(self, place: str, value: Any, low: float, high: float, default: float) -> float:
        """The value as a number from `low` to `high`; the default where it is none."""
        sound = isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
        if sound and low <= value <= high:
            return float(value)
        self.complain(place, f"{value!r} is not allowed", f"a number from {low:g} to {high:g}")
        return default

    def numbers(
        self, place: str, value: Any, count: int, low: float, high: float, default: tuple[float, ...],
    ) -> tuple[float, ...]:
        """The value as so many rising numbers; the default where it is not."""
        if not isinstance(value, list) or len(value) != count:
            self.complain(place, f"{value!r} is not allowed", f"a list of {count} numbers")
            return default
        found = tuple(self.number(place, item, low, high, default[0]) for item in value)
        if list(found) != sorted(found):
            self.complain(place, f"{value!r} does not rise", "the lower figure first")
            return default
        return found

    def choice(self, place: str, value: Any, allowed: tuple[Any, ...], default: Any) -> Any:
        """The value if it is allowed, else the default."""
        if isinstance(value, str | bool) and value in allowed:
            return value
        near = difflib.get_close_matches(str(value), [str(item) for item in allowed], 1, 0.5)
        limit = ", ".join(str(item).lower() if isinstance(item, bool) else str(item) for item in allowed)
        self.complain(place, f"{value!r} is not allowed", limit, f"did you mean {near[0]}?" if near else None)
        return default

    def texts(self, place: str, value: Any, allowed: tuple[str, ...]) -> tuple[str, ...]:
        """The value as a list of allowed words, the others left out."""
        if not isinstance(value, list):
            self.complain(place, f"{value!r} is no list", f"a list of: {', '.join(allowed)}")
            return ()
        return tuple(found for item in value if (found := self.choice(place, item, allowed, "")))


def key_path(place: str, key: object) -> str:
    """The dotted name of a key inside a place."""
    return f"{place}.{key}" if place else str(key)
