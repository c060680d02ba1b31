"""The middle group of a panel, between what stands above and below: near the middle, on the panel's grid."""

from __future__ import annotations

from collections.abc import Sequence

from labeltool.typeset.bed import Bed
from labeltool.typeset.job import FAR, Job, Place, setter
from labeltool.typeset.setter import Line, Placed, Standing
from labeltool.typeset.sizes import ASCENT

X_MIDDLE = 0.33  # height where the ink of a line balances, ems
INK = 1.6  # strokes of a letter, by its width
BALANCE_MM = 0.75


def set_middle(
    place: Place, job: Job, bed: Bed, room: tuple[int, int], others: Sequence[Placed], earnest: bool,
) -> list[Placed] | None:
    """The group set between the baselines `room`; None where it does not fit, empty in a draft.

    In earnest it moves to where the ink of the whole panel (`others`: what stands already) balances round its middle.
    """
    low, high = room
    length = 2
    while low + length <= high:
        begin = (low + high - length) // 2
        after = _draft(place, job, bed, begin)
        if after is not None and after <= begin + length:
            return _balanced(place, job, bed, (low, high), (begin, after), others) if earnest else []
        length = max(length + 1, after - begin if after is not None else 0)
    return None


def _draft(place: Place, job: Job, bed: Bed, begin: int) -> int | None:
    found = setter(place.panel, job, bed, (FAR,), (begin,), False).entries(place.panel.middle, (0, begin), False)
    return None if found is None else found[1]


def _keep(place: Place, job: Job, bed: Bed, begin: int) -> list[Placed]:
    found = setter(place.panel, job, bed, (FAR,), (begin,), True)
    found.entries(place.panel.middle, (0, begin), False)
    return found.placed


def _balanced(
    place: Place, job: Job, bed: Bed, room: tuple[int, int], group: tuple[int, int], others: Sequence[Placed],
) -> list[Placed] | None:
    begin, after = group
    found = _keep(place, job, bed, begin)
    weight = sum(_weight(item, job) for item in found)
    whole = weight + sum(_weight(item, job) for item in others)
    off = _off(place, job, (*found, *others), whole)
    better = begin - round(off * whole / weight / bed.sizes.grid_mm) if weight else begin
    better = max(room[0], min(better, room[1] - (after - begin)))
    if job.balanced and abs(off + (better - begin) * bed.sizes.grid_mm * weight / whole) > BALANCE_MM:
        return None
    still = _draft(place, job, bed, better)
    return _keep(place, job, bed, better) if still is not None and still - better <= after - begin else found


def _off(place: Place, job: Job, placed: Sequence[Placed], whole: float) -> float:
    """How far below the panel's middle the ink balances, mm."""
    middle = (place.rect.top + place.rect.bottom) / 2
    return sum(_weight(item, job) * (_height(item) - middle) for item in placed) / whole if whole else 0.0


def _weight(item: Placed, job: Job) -> float:
    """The ink of a line, roughly, mm²: its length by its stems' thickness; of a sign, a sixth of its box."""
    if isinstance(item, Line):
        edges, font = item.para.body.edges, job.fonts.of(item.para.pieces[0].weight)
        return (edges[item.last] - edges[item.first]) * item.size_mm * item.size_mm * font.em(font.stem) * INK
    return item.sign.width_mm * item.sign.height_mm / 6 if isinstance(item, Standing) else 0.0


def _height(item: Placed) -> float:
    if isinstance(item, Standing):
        return item.y_mm - item.sign.height_mm * ASCENT / 2
    return item.y_mm - X_MIDDLE * item.size_mm
