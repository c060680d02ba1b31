"""The whole label at one size: areas cut up, every panel set."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from labeltool.typeset.artmodel import Area, Panel, Split
from labeltool.typeset.job import Job, PanelResult, Place
from labeltool.typeset.panel import set_panel
from labeltool.typeset.qrspot import Clear
from labeltool.typeset.region import Rect


@dataclass(frozen=True, slots=True)
class Hairline:
    """A rule between two parts: its middle line from (x1, y1) to (x2, y2), mm."""

    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class Arrangement:
    """A set label."""

    job: Job
    panels: tuple[PanelResult, ...]
    rules: tuple[Hairline, ...] = ()


def arrange(area: Area, rect: Rect, clear: Clear, job: Job, earnest: bool) -> Arrangement | None:
    """The label set in `rect`; None where a panel does not fit."""
    panels: list[PanelResult] = []
    rules: list[Hairline] = []
    if _arrange(area, rect, clear, job, earnest, panels, rules):
        return Arrangement(job, tuple(panels), tuple(rules))
    return None


def _arrange(
    area: Area, rect: Rect, clear: Clear, job: Job, earnest: bool, panels: list[PanelResult], rules: list[Hairline],
) -> bool:
    if isinstance(area, Panel):
        found = set_panel(Place(area, rect, clear), job, earnest)
        if found is None:
            return False
        panels.append(found)
        return True
    cut = cut_area(area, rect, clear, job)
    if cut is None:
        return False
    if area.rule:
        rules += _hairlines(area, [part for part, _ in cut])
    return all(
        _arrange(part.area, where, free, job, earnest, panels, rules)
        for part, (where, free) in zip(area.parts, cut, strict=True)
    )


def cut_area(split: Split, rect: Rect, clear: Clear, job: Job) -> list[tuple[Rect, Clear]] | None:
    """The rectangle and the clearances of every part; None where the fixed parts leave nothing for the shares."""
    gap = split.gap * job.sizes.x_mm
    along = rect.width if split.direction == "columns" else rect.height
    symbol = job.symbol.dark_mm + 2 * job.symbol.quiet_mm if job.symbol else 0.0
    fixed = [part.size if part.unit == "mm" else symbol if part.unit == "symbol" else 0.0 for part in split.parts]
    shares = sum(part.size for part in split.parts if part.unit == "share")
    rest = along - sum(fixed) - gap * (len(split.parts) - 1)
    if rest < 0 or (shares and rest <= 0):
        return None
    lengths = [rest * part.size / shares if part.unit == "share" else size
               for part, size in zip(split.parts, fixed, strict=True)]
    return _lay_out(split, rect, clear, lengths, gap)


def _lay_out(split: Split, rect: Rect, clear: Clear, lengths: list[float], gap: float) -> list[tuple[Rect, Clear]]:
    found = []
    inner = gap / 2 if split.rule else gap
    at = rect.left if split.direction == "columns" else rect.top
    for index, length in enumerate(lengths):
        first, last = index == 0, index == len(lengths) - 1
        if split.direction == "columns":
            where = Rect(at, rect.top, at + length, rect.bottom)
            free = Clear(clear.left if first else inner, clear.top, clear.right if last else inner, clear.bottom)
        else:
            where = Rect(rect.left, at, rect.right, at + length)
            free = Clear(clear.left, clear.top if first else inner, clear.right, clear.bottom if last else inner)
        found.append((where, free))
        at += length + gap
    return found


def _hairlines(split: Split, parts: list[Rect]) -> list[Hairline]:
    found = []
    for before, after in pairwise(parts):
        if split.direction == "columns":
            x = (before.right + after.left) / 2
            found.append(Hairline(x, before.top, x, before.bottom))
        else:
            y = (before.bottom + after.top) / 2
            found.append(Hairline(before.left, y, before.right, y))
    return found
