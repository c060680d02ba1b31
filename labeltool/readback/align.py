"""The small shift and scale that another program may give a whole page, told from labels that moved on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from statistics import fmean, median

from labeltool.raster import Char
from labeltool.readback.model import ExpectedLabel
from labeltool.readback.words import same_words, starts

MOST_SHIFT_MM = 0.3
MOST_SCALE = 0.002
_ODD_MM = 0.5


@dataclass(frozen=True, slots=True)
class Axis:
    """Along one axis: what is added to a place, mm, as a part that is the same everywhere and one a mm."""

    shift: float = 0.0
    slope: float = 0.0

    def moved(self, at: float) -> float:
        """A place with the correction added."""
        return at + self.shift + self.slope * at


def aligned(labels: Sequence[ExpectedLabel], chars: Sequence[Sequence[Char]]) -> tuple[ExpectedLabel, ...]:
    """The labels where they should lie on this page: up to 0.3 mm and 0.2 % from their places, all alike.

    `chars`: those found on each label. Labels whose words differ do not count; a larger move is left to be found.
    """
    known = [_offset(label, own) for label, own in zip(labels, chars, strict=True) if same_words(label, own)]
    seen = [item for item in known if item is not None]
    across, down = (_fit([(place[axis], away[axis]) for place, away in seen]) for axis in (0, 1))
    return tuple(replace(label, x_mm=label.x_mm + _at(across, label.x_mm + label.frame.width_mm / 2),
                         y_mm=label.y_mm + _at(down, label.y_mm + label.frame.height_mm / 2)) for label in labels)


def _at(axis: Axis, place: float) -> float:
    return axis.moved(place) - place


def _offset(label: ExpectedLabel, chars: Sequence[Char]) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """A label's middle, and how far its words lie from their places."""
    away = list(_away(label, chars))
    if not away:
        return None
    middle = (label.x_mm + label.frame.width_mm / 2, label.y_mm + label.frame.height_mm / 2)
    return middle, (median(x for x, _ in away), median(y for _, y in away))


def _away(label: ExpectedLabel, chars: Sequence[Char]) -> Iterator[tuple[float, float]]:
    for run, char in starts(label, chars):
        yield char.x_mm - label.x_mm - run.x_mm, char.y_mm - label.y_mm - run.y_mm


def _fit(points: Sequence[tuple[float, float]]) -> Axis:
    """The straight line through most offsets; none where it is more than another program would do."""
    if not points:
        return Axis()
    usual = median(away for _, away in points)
    kept = [(place, away) for place, away in points if abs(away - usual) <= _ODD_MM]
    if not kept:
        return Axis()
    centre, mean = fmean(place for place, _ in kept), fmean(away for _, away in kept)
    spread = sum((place - centre) ** 2 for place, _ in kept)
    slope = sum((place - centre) * (away - mean) for place, away in kept) / spread if spread > 1 else 0.0
    if abs(slope) > MOST_SCALE or abs(mean) > MOST_SHIFT_MM:
        return Axis()
    return Axis(mean - slope * centre, slope)
