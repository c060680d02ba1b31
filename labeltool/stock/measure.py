"""A stock from ruler readings: the outermost edges, so that each reading's error is shared by the whole grid."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from labeltool.finding import Finding
from labeltool.stock.model import Stock

Pair = tuple[float, float]
READING_MM = 0.25  # what an eye is off by on a ruler with half millimetres
SLACK_MM = 4 * READING_MM
NAMES = ("across", "down")


@dataclass(frozen=True, slots=True)
class Readings:
    """What was measured, mm: page, label, how many labels each way, the first's left and top, the last's right and
    bottom edge from the paper's left and top edge."""

    page: Pair
    label: Pair
    grid: tuple[int, int]
    first: Pair
    last: Pair


@dataclass(frozen=True, slots=True)
class Measured:
    """What the readings give: origin and pitch, mm, and how far a label's place may be off each way."""

    origin: Pair
    pitch: Pair
    off: Pair


def measured(readings: Readings) -> tuple[Measured | None, tuple[Finding, ...]]:
    """Origin and pitch, or None with what the readings contradict each other in.

    Where labels would overlap, or a single one not fill its edges, by no more than the readings may be off, they are
    taken to touch, and what is over is shared by both ends.
    """
    axes = [_axis(readings, axis) for axis in (0, 1)]
    faults = tuple(item for item in axes if isinstance(item, Finding))
    if faults:
        return None, faults
    (left, across, off_x), (top, down, off_y) = (item for item in axes if not isinstance(item, Finding))
    return Measured((left, top), (across, down), (off_x, off_y)), ()


def _axis(readings: Readings, axis: int) -> tuple[float, float, float] | Finding:
    """(origin, pitch, how far off) of one axis."""
    count, label = readings.grid[axis], readings.label[axis]
    span = readings.last[axis] - readings.first[axis]
    spare = span - count * label
    if spare < -SLACK_MM or (count == 1 and spare > SLACK_MM):
        return _contradiction(axis, readings, span)
    if spare <= 0 or count == 1:
        return round(readings.first[axis] + spare / 2, 3), label, READING_MM + abs(spare) / 2
    return readings.first[axis], round((span - label) / (count - 1), 3), 2 * READING_MM


def _contradiction(axis: int, readings: Readings, span: float) -> Finding:
    count, label = readings.grid[axis], readings.label[axis]
    return Finding(
        "stock.readings", "error",
        f"{NAMES[axis]}, {count} label(s) of {label:g} mm do not fit from {readings.first[axis]:g} to "
        f"{readings.last[axis]:g} mm, which is {span:g} mm",
        limit=f"{count * label:g} mm" + (" or more" if count > 1 else "") + f", within {SLACK_MM:g} mm",
        do="measure again: --first is the left and top edge of the first label, --last the right and bottom edge of "
           "the last one, from the left and top edge of the paper",
    )


def table_of(readings: Readings, found: Measured) -> dict[str, Any]:
    """The stock as its file's table."""
    columns, rows = readings.grid
    width, height = readings.label
    table: dict[str, Any] = {
        "title": f"Sheet of {readings.page[0]:g} × {readings.page[1]:g} mm, {columns} × {rows} labels of "
                 f"{width:g} × {height:g} mm, measured",
        "kind": "sheet", "page": list(readings.page), "label": list(readings.label), "shape": "rectangle",
        "corner": 0, "grid": [columns, rows], "origin": list(found.origin),
    }
    if (columns, rows) != (1, 1):
        table["pitch"] = list(found.pitch)
    return table | {"safe": 1.5, "face": "white", "print": "laser", "dpi": 600}


def toml_of(table: dict[str, Any]) -> str:
    """The table as TOML, one key a line."""
    return "".join(f"{key:6} = {_toml(value)}\n" for key, value in table.items())


def _toml(value: Any) -> str:
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, list):
        return f"[{', '.join(map(_toml, value))}]"
    return f"{value:.6g}"


def like(item: Stock, others: Iterable[Stock], within_mm: float = 2 * READING_MM) -> Stock | None:
    """A stock of the same grid, shape and page of which every measure lies within what the readings may be off."""
    return next((other for other in others if _alike(item, other, within_mm)), None)


def _alike(item: Stock, other: Stock, within_mm: float) -> bool:
    same = (item.kind, item.shape, item.columns, item.rows) == (other.kind, other.shape, other.columns, other.rows)
    pairs = ((item.page_mm, other.page_mm), (item.label_mm, other.label_mm), (item.origin_mm, other.origin_mm),
             (_last(item), _last(other)))
    apart = [abs(a - b) for left, right in pairs for a, b in zip(left, right, strict=True)]
    return same and max(apart) <= within_mm + 1e-9


def _last(item: Stock) -> Pair:
    """The left and top edge of the last label."""
    return (item.origin_mm[0] + (item.columns - 1) * item.pitch_mm[0],
            item.origin_mm[1] + (item.rows - 1) * item.pitch_mm[1])
