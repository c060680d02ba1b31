"""pH against what was added to set it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from labeltool.batch.bench import after
from labeltool.batch.model import Bench, Correction, Logged, Reading, Size


@dataclass(frozen=True, slots=True)
class Point:
    """A pH reading, and the grams of adjusters and other additions that were in the batch by then."""

    added_g: Decimal
    ph: Decimal
    at: str


def ph_curve(bench: Bench, log: Iterable[Logged]) -> tuple[Point, ...]:
    """Every pH reading that stands, in order. `bench`: the folded one, whose plan tells what is planned."""
    now = replace(bench, weighed=(), readings=(), corrections=(), notes=(), filled=(), yield_g=None)
    points: list[Point] = []
    for item in log:
        if isinstance(item.entry, Size):
            continue
        now = after(now, item)
        corrected = isinstance(item.entry, Correction)
        entry = item.entry.entry if isinstance(item.entry, Correction) else item.entry
        if isinstance(entry, Reading) and entry.name == "ph":
            point = Point(_added(now), entry.value, item.at)
            if corrected and points:
                point = replace(point, added_g=points.pop().added_g)
            points.append(point)
    return tuple(points)


def _added(bench: Bench) -> Decimal:
    planned = {row.line for row in bench.plan if row.kind != "to-ph"}
    return sum((item.grams for item in bench.weighed if item.line not in planned), Decimal(0))
