"""printers.toml: what each printer needs corrected on each stock, as values."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labeltool.finding import Finding, Where
from labeltool.stock.model import Stock
from labeltool.symbol.dots import snap_mm

FILE = "printers.toml"
MOST_NUDGE_MM = 20.0
SCALES = (0.95, 1.05)
KEYS = ("nudge", "scale")


@dataclass(frozen=True, slots=True)
class Correction:
    """What is added to every place, mm (right, down), after distances from the page's corner were multiplied."""

    nudge_mm: tuple[float, float] = (0.0, 0.0)
    scale: tuple[float, float] = (1.0, 1.0)

    def moved(self, x_mm: float, y_mm: float, dpi: float) -> tuple[float, float]:
        """Where a place is put, on the nearest whole dots of the printer; nothing is stretched."""
        return (round(snap_mm(x_mm * self.scale[0] + self.nudge_mm[0], dpi), 6),
                round(snap_mm(y_mm * self.scale[1] + self.nudge_mm[1], dpi), 6))


@dataclass(frozen=True, slots=True)
class Printer:
    """A printer by its maker's name for it, with its correction on each stock measured."""

    name: str
    corrections: tuple[tuple[str, Correction], ...] = ()

    def on(self, stock: str) -> Correction | None:
        """The correction on a stock, or None where it was not measured."""
        return dict(self.corrections).get(stock)


def parse_printers(table: Mapping[str, Any]) -> tuple[tuple[Printer, ...], tuple[Finding, ...]]:
    """The printers of a file's table, and every fault of it; `where.key` is the key path, dotted."""
    faults: list[Finding] = []
    printers = tuple(_printer(name, value, faults) for name, value in table.items())
    return printers, tuple(faults)


def _printer(name: str, value: Any, faults: list[Finding]) -> Printer:
    if not isinstance(value, Mapping):
        faults.append(_fault((name,), f"{name} is no printer", f'[{name}] on a line of its own, and its stocks below'))
        return Printer(name)
    faults += _unknown((name,), value, ("stock",))
    stocks = value.get("stock", {})
    if not isinstance(stocks, Mapping):
        faults.append(_fault((name, "stock"), "stock names no stock", 'stock."NAME" = { nudge = [0, 0] }'))
        return Printer(name)
    return Printer(name, tuple((stock, _correction((name, "stock", stock), item, faults))
                               for stock, item in stocks.items()))


def _correction(path: Sequence[str], value: Any, faults: list[Finding]) -> Correction:
    if not isinstance(value, Mapping):
        limit = "{ nudge = [right, down], scale = [across, down] }"
        faults.append(_fault(path, f"{path[-1]} has no correction", limit))
        return Correction()
    faults += _unknown(path, value, KEYS)
    nudge = _pair(path, "nudge", value, (0.0, 0.0), (-MOST_NUDGE_MM, MOST_NUDGE_MM), faults)
    return Correction(nudge, _pair(path, "scale", value, (1.0, 1.0), SCALES, faults))


def _pair(path: Sequence[str], key: str, table: Mapping[str, Any], fallback: tuple[float, float],
          ends: tuple[float, float], faults: list[Finding]) -> tuple[float, float]:
    value = table.get(key, fallback)
    numbers = [_number(item) for item in value] if isinstance(value, list | tuple) else []
    inside = [item for item in numbers if ends[0] <= item <= ends[1]]
    if len(numbers) == len(inside) == 2:
        return inside[0], inside[1]
    limit = f"two numbers, [across, down], each from {ends[0]:g} to {ends[1]:g}"
    faults.append(_fault((*path, key), f"{key} is {_shown(value)}", limit))
    return fallback


def _shown(value: Any) -> str:
    """A value of the file, short."""
    if isinstance(value, list):
        return f"[{', '.join(map(_shown, value[:4]))}]"
    return str(value)[:40] if isinstance(value, Decimal) else repr(value)[:40]


def _number(value: Any) -> float:
    """A number of the file; nan for anything else."""
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        return math.nan
    number = Decimal(value)
    return float(number) if number.is_finite() and abs(number) <= 1000 else math.nan


def _unknown(path: Sequence[str], table: Mapping[str, Any], known: Sequence[str]) -> Iterator[Finding]:
    for key in table:
        if key not in known:
            near = difflib.get_close_matches(str(key), known, 1, 0.5)
            do = f"did you mean {near[0]}?" if near else f"known keys: {', '.join(known)}"
            yield _fault((*path, str(key)), f"unknown key {key!r}", None, do, "printer.key")


def _fault(path: Sequence[str], text: str, limit: str | None, do: str | None = None,
           rule: str = "printer.value") -> Finding:
    return Finding(rule, "error", text, Where(FILE, key=".".join(path)), limit=limit, do=do)


def off_page(stock: Stock, correction: Correction, places: Sequence[tuple[float, float]]) -> float:
    """How far the printable part of the labels at these uncorrected places leaves the page once moved, mm; 0 if not."""
    return max((_beyond(stock, correction.moved(*place, stock.dpi)) for place in places), default=0.0)


def _beyond(stock: Stock, place: tuple[float, float]) -> float:
    over = [0.0]
    for at, label, page in zip(place, stock.label_mm, stock.page_mm, strict=True):
        over += [-(at + stock.safe_mm), at + label - stock.safe_mm - page]
    return max(over)
