"""A correction written into the text of printers.toml, all else in it left as it stands."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from typing import Any

from labeltool.stock.printers import Correction

_BARE = re.compile("[A-Za-z0-9_-]+")
_KEY = r'[A-Za-z0-9_-]+|"(?:[^"\\]|\\.)*"|' r"'[^']*'"
_ENTRY = re.compile(rf"^(?P<indent>[ \t]*)(?P<key>(?:{_KEY})(?:[ \t]*\.[ \t]*(?:{_KEY}))*)[ \t]*=[ \t]*"
                    r"\{[^{}#]*\}(?P<rest>[ \t]*(?:#.*)?)$")
_HEADER = re.compile(r"^[ \t]*\[[^\[].*$")
HEAD = "# What each printer needs corrected on each stock, mm: right and down; distances across and down.\n"


def line_of(stock: str, correction: Correction) -> str:
    """The line of a correction, as it stands under its printer's heading."""
    return f"stock.{_quoted(stock)} = {_value(correction)}"


def header_of(printer: str) -> str:
    """A printer's heading."""
    return f"[{_key(printer)}]"


def with_correction(text: str, printer: str, stock: str, correction: Correction) -> str | None:
    """The text with the correction set, or None where its form leaves no sure place for it.

    Comments, order and line ends are kept. Raises tomllib.TOMLDecodeError for a text that is no TOML.
    """
    wanted = _wanted(tomllib.loads(text), printer, stock, correction)
    end = "\r\n" if "\r\n" in text else "\n"
    for candidate in _candidates(text.replace("\r\n", "\n"), printer, stock, correction):
        if _parsed(candidate) == wanted:
            return candidate.replace("\n", end)
    return None


def _wanted(table: dict[str, Any], printer: str, stock: str, correction: Correction) -> dict[str, Any]:
    own = table.get(printer, {})
    stocks = own.get("stock", {}) | {stock: _plain(correction)}
    return table | {printer: own | {"stock": stocks}}


def _plain(correction: Correction) -> dict[str, Any]:
    parsed: dict[str, Any] = tomllib.loads(f"x = {_value(correction)}")["x"]
    return parsed


def _parsed(text: str) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return None


def _candidates(text: str, printer: str, stock: str, correction: Correction) -> Iterator[str]:
    lines = text.split("\n")
    for index, line in enumerate(lines):
        entry = _ENTRY.match(line)
        if entry:
            new = f"{entry['indent']}{entry['key']} = {_value(correction)}{entry['rest']}"
            yield "\n".join([*lines[:index], new, *lines[index + 1:]])
    short = f"{_quoted(stock)} = {_value(correction)}"
    for index, line in enumerate(lines):
        if _HEADER.match(line):
            for new in (line_of(stock, correction), short):
                yield "\n".join([*lines[:index + 1], new, *lines[index + 1:]])
    body = text.rstrip("\n")
    gap = "\n\n" if body else HEAD
    yield f"{body}{gap}{header_of(printer)}\n{line_of(stock, correction)}\n"


def _value(correction: Correction) -> str:
    return f"{{ nudge = [{_pair(correction.nudge_mm)}], scale = [{_pair(correction.scale)}] }}"


def _pair(values: tuple[float, float]) -> str:
    return ", ".join(_number(value) for value in values)


def _number(value: float) -> str:
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _key(name: str) -> str:
    return name if _BARE.fullmatch(name) else _quoted(name)


def _quoted(name: str) -> str:
    escaped = name.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
