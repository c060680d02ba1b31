"""Numbers and words out of a stock's table, with every fault kept as a finding."""

from __future__ import annotations

import difflib
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from labeltool.finding import Finding, Where

MOST_MM = 3000.0


@dataclass(slots=True)
class Reader:
    """Reads one stock's table; a faulty value gives the fallback, so that all faults are found at once."""

    name: str
    table: Mapping[str, Any]
    findings: list[Finding] = field(default_factory=list)

    def complain(self, key: str, text: str, *, rule: str = "stock.value", limit: str | None = None,
                 do: str | None = None) -> None:
        """Keep an error about a key."""
        where = Where(f"{self.name}.toml", key=key or None)
        self.findings.append(Finding(rule, "error", text, where, limit=limit, do=do))

    def known(self, keys: Sequence[str]) -> None:
        """Complain of every key that stocks do not have, with the nearest that they have."""
        for key in self.table:
            if key not in keys:
                near = difflib.get_close_matches(str(key), keys, 1, 0.5)
                do = f"did you mean {near[0]}?" if near else f"known keys: {', '.join(keys)}"
                self.complain(str(key), f"unknown key {key!r}", rule="stock.key", do=do)

    def needed(self, keys: Sequence[str]) -> None:
        """Complain of every key that is not there."""
        for key in keys:
            if key not in self.table:
                self.complain(key, f"{key} is missing", rule="stock.missing")

    def word(self, key: str, among: Sequence[str], fallback: str) -> str:
        """One of the words allowed."""
        value = self.table.get(key, fallback)
        if isinstance(value, str) and value in among:
            return value
        near = difflib.get_close_matches(str(value), among, 1, 0.5)
        do = f"did you mean {near[0]}?" if near else None
        self.complain(key, f"{key} is {value!r}", limit=", ".join(among), do=do)
        return fallback

    def text(self, key: str, fallback: str) -> str:
        """A line of text."""
        value = self.table.get(key, fallback)
        if isinstance(value, str) and value.strip() and value.isprintable() and len(value) <= 200:
            return value
        self.complain(key, f"{key} is no line of text", limit="1 to 200 printable characters")
        return fallback

    def length(self, key: str, fallback: float, *, least: float = 0.0) -> float:
        """A length in mm of at least `least`."""
        value = _number(self.table.get(key, fallback))
        if value is not None and least <= value <= MOST_MM:
            return value
        self.complain(key, f"{key} is {self.table[key]!r}", limit=_range(least))
        return fallback

    def pair(self, key: str, fallback: tuple[float, float], *, least: float = 0.0) -> tuple[float, float]:
        """Two lengths in mm, each of at least `least`."""
        value = self.table.get(key, fallback)
        numbers = [_number(item) for item in value] if isinstance(value, list | tuple) else []
        inside = [item for item in numbers if item is not None and least <= item <= MOST_MM]
        if len(numbers) == len(inside) == 2:
            return inside[0], inside[1]
        self.complain(key, f"{key} is {value!r}", limit=f"two numbers, [across, down], each {_range(least)}")
        return fallback

    def counts(self, key: str, fallback: tuple[int, int], most: int) -> tuple[int, int]:
        """Two whole numbers from 1 to `most`."""
        value = self.table.get(key, fallback)
        numbers = list(value) if isinstance(value, list | tuple) else []
        inside = [item for item in numbers if type(item) is int and 1 <= item <= most]
        if len(numbers) == len(inside) == 2:
            return inside[0], inside[1]
        self.complain(key, f"{key} is {value!r}", limit=f"[columns, rows], whole numbers from 1 to {most}")
        return fallback

    def whole(self, key: str, fallback: int, least: int, most: int) -> int:
        """A whole number from `least` to `most`."""
        value = self.table.get(key, fallback)
        if type(value) is int and least <= value <= most:
            return value
        self.complain(key, f"{key} is {value!r}", limit=f"a whole number from {least} to {most}")
        return fallback


def _number(value: Any) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) else None


def _range(least: float) -> str:
    return f"a length from {least:g} to {MOST_MM:g} mm"
