"""One panel at one size: does everything stand, and where."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from labeltool.typeset.artmodel import Entry, Panel
from labeltool.typeset.bed import Bed, Spot, cut_columns, last_baseline
from labeltool.typeset.metrics import FontSet
from labeltool.typeset.paras import Item, Para
from labeltool.typeset.qrspot import Clear, Symbol, spot
from labeltool.typeset.region import Rect, Region
from labeltool.typeset.setter import Line, Placed, Setter
from labeltool.typeset.sizes import ASCENT, DESCENT, Sizes, first_ink

EM_PER_CHAR = 0.46  # of running text in the shipped face
SHORTEST, LONGEST = 30, 66  # characters a line of a column, where there is a choice
FAR = 10_000
SHORTER = 6  # half lines that columns may end earlier so that they end well


@dataclass(frozen=True, slots=True)
class Job:
    """All that setting a panel needs besides the panel: what to set, at which sizes, on what."""

    items: Mapping[str, tuple[Item, ...]]
    sizes: Sizes
    fonts: FontSet
    region: Region
    symbol: Symbol | None
    tidy: bool = True  # only columns of a good measure
    close: bool = False  # no margin inside the safe edge, narrow gaps


@dataclass(frozen=True, slots=True)
class PanelResult:
    """A set panel: lines and signs in reading order, and the symbol's place."""

    placed: tuple[Placed, ...]
    spot: Spot | None
    bed: Bed
    bottom_mm: float  # the lowest height its last baseline may have


def set_panel(panel: Panel, rect: Rect, clear: Clear, job: Job, earnest: bool) -> PanelResult | None:
    """The panel set in its rectangle with as few columns as do; None where nothing does."""
    for count in _column_counts(panel, rect, job):
        found = _PanelSetting(panel, rect, clear, job, count, earnest).run()
        if found is not None:
            return found
    return None


def _column_counts(panel: Panel, rect: Rect, job: Job) -> list[int]:
    least, most = panel.columns
    if not panel.flow or not job.tidy:
        return list(range(least, most + 1)) if panel.flow else [1]
    found = []
    for count in range(least, most + 1):
        chars = cut_columns(rect, count, job.sizes, job.close)[0].width / job.sizes.running_mm / EM_PER_CHAR
        if chars <= LONGEST and (count == least or chars >= SHORTEST):
            found.append(count)
    return found


class _PanelSetting:
    """The steps of setting one panel with one number of columns."""

    def __init__(self, panel: Panel, rect: Rect, clear: Clear, job: Job, count: int, earnest: bool) -> None:
        self.panel, self.rect, self.job, self.earnest = panel, rect, job, earnest
        self.clear = clear
        self.columns = cut_columns(rect, count, job.sizes, job.close)
        self.placed: list[Placed] = []

    def run(self) -> PanelResult | None:
        """The panel set, or None."""
        bed = self._bed()
        if bed is None or bed.last < 0:
            return None
        start = self._top(bed)
        if start is None:
            return None
        foot = self._foot(bed, start)
        if foot is None or not self._flow(bed, start, foot) or not self._middle(bed, start, foot):
            return None
        return PanelResult(tuple(self.placed), bed.spot, bed, self._bottom())

    def _bed(self) -> Bed | None:
        """The bed with the symbol on it. Where all is centred, what is left of the height is halved."""
        sizes = self.job.sizes
        first = self.rect.top + max(first_ink(self._first_items(), sizes), 0.5 * sizes.running_mm)
        full = last_baseline(first, self.rect.bottom - DESCENT * sizes.running_mm, sizes)
        last = last_baseline(first, self._bottom(), sizes)
        bed = Bed(self.columns, self.job.region, sizes, first, last, full)
        if self.panel.align == "centre" and not self.panel.flow:
            bed = replace(bed, first_mm=first + self._slack(bed) / 2)
        if self.panel.qr is None or self.job.symbol is None:
            return bed
        place = spot(self.job.symbol, self.panel.qr, self.columns[-1], self.clear, self.job.region, bed.y(last))
        if place is None:
            return None
        return replace(bed, spot=place, last=self._last_above(place, bed) if place.across else last)

    def _last_above(self, place: Spot, bed: Bed) -> int:
        sizes = self.job.sizes
        return min(bed.last, last_baseline(bed.first_mm, place.quiet.top - DESCENT * sizes.running_mm, sizes))

    def _bottom(self) -> float:
        """The lowest height of the last baseline, mm: the last block's own descenders decide."""
        sizes = self.job.sizes
        hang = [item.reach[1] * sizes.of(item.role) for item in self._last_items() if isinstance(item, Para)]
        there = self._last_items()
        return self.rect.bottom - (max(hang, default=0.0) if there else DESCENT * sizes.running_mm)

    def _slack(self, bed: Bed) -> float:
        return max(0.0, self._bottom() - bed.y(bed.last))

    def _first_items(self) -> tuple[Item, ...]:
        for entry in self.panel.top + self.panel.flow:
            found = tuple(item for name in entry.names for item in self.job.items.get(name, ()))
            if found:
                return found if entry.kind == "row" else found[:1]
        return ()

    def _last_items(self) -> tuple[Item, ...]:
        for entry in reversed(self.panel.foot):
            found = tuple(item for name in entry.names for item in self.job.items.get(name, ()))
            if found:
                return found
        return ()

    def _there(self, entries: Sequence[Entry]) -> bool:
        return any(name in self.job.items for entry in entries for name in entry.names)

    def _setter(self, bed: Bed, ends: tuple[int, ...], starts: tuple[int, ...], earnest: bool) -> Setter:
        panel, job = self.panel, self.job
        return Setter(bed, job.items, job.fonts, panel.align, ends, starts, earnest, panel.space, not job.close)

    def _set(
        self, bed: Bed, entries: Sequence[Entry], start: int, end: int, opening: bool, earnest: bool,
    ) -> int | None:
        """Sets a group in one column as wide as the group may be; the baseline after it."""
        setter = self._setter(bed, (end,), (start,), earnest)
        after = setter.entries(entries, (0, start), opening)
        self.placed += setter.placed
        return None if after is None else after[1]

    def _top(self, bed: Bed) -> int | None:
        """Sets the top group across all columns; the baseline where the rest begins."""
        if not self._there(self.panel.top):
            return 0
        wide = replace(bed, columns=(self.rect,))
        after = self._set(wide, self.panel.top, 0, bed.last + 2, True, self.earnest)
        return None if after is None else after + 1

    def _foot(self, bed: Bed, start: int) -> int | None:
        """Sets the foot so that it ends on the last baseline; where it begins, or one past the end without a foot."""
        if not self._there(self.panel.foot):
            return bed.last + 3
        foot = replace(bed, columns=(bed.columns[-1],))
        end, last = bed.last + 2, len(self.placed)
        for entry in reversed([entry for entry in self.panel.foot if self._there((entry,))]):
            begin = self._begin_of(entry, foot, start, end)
            if begin is None:
                return None
            if self.earnest:
                above, self.placed = self.placed[:last], self.placed[last:]
                below, self.placed = self.placed, []
                self._set(foot, (entry,), begin, FAR, False, True)
                self.placed = [*above, *self.placed, *below]
            end = begin - 1
        return end + 1

    def _begin_of(self, entry: Entry, foot: Bed, start: int, end: int) -> int | None:
        """The lowest baseline from which an entry stands above `end`."""
        begin = end - 2
        while begin >= start:
            after = self._set(foot, (entry,), begin, FAR, False, False)
            if after is not None and after <= end:
                return begin
            begin -= 1
        return None

    def _flow(self, bed: Bed, start: int, foot: int) -> bool:
        """Sets the running text over the columns, the last of which ends above the foot."""
        if not self._there(self.panel.flow):
            return True
        ends = (bed.full + 2,) * (len(bed.columns) - 1) + (min(foot - 1, bed.full + 2),)
        starts = (start,) + (start or self._highest(bed),) * (len(bed.columns) - 1)
        if not self.earnest:
            return self._setter(bed, ends, starts, False).entries(self.panel.flow, (0, start), start == 0) is not None
        best: tuple[float, list[Placed]] | None = None
        for shorter in range(SHORTER if len(ends) > 1 else 1):
            tried = (*(end - shorter for end in ends[:-1]), ends[-1])
            setter = self._setter(bed, tried, starts, True)
            if setter.entries(self.panel.flow, (0, start), start == 0) is not None:
                cost = 0.4 * shorter + split_cost(setter.placed, bed)
                best = (cost, setter.placed) if best is None or cost < best[0] else best
        self.placed[self._before_foot():self._before_foot()] = best[1] if best else []
        return best is not None

    def _highest(self, bed: Bed) -> int:
        """The number of the first baseline under the top edge, for columns beside one that begins with larger type."""
        spare = bed.first_mm - self.rect.top - ASCENT * bed.sizes.running_mm
        return -max(0, int(spare / bed.sizes.grid_mm + 1e-9))

    def _before_foot(self) -> int:
        """The index in reading order where the foot's lines begin."""
        names = {name for entry in self.panel.foot for name in entry.names}
        for index, item in enumerate(self.placed):
            block = item.sign.sign.block if not hasattr(item, "para") else item.para.block
            if block in names:
                return index
        return len(self.placed)

    def _middle(self, bed: Bed, start: int, foot: int) -> bool:
        """Sets the middle group halfway between the groups above and below, air left on both sides."""
        if not self._there(self.panel.middle):
            return True
        air = round(2 * self.panel.air)
        low = start - 1 + air if self._there(self.panel.top) else 0
        high = foot - air if self._there(self.panel.foot) else bed.last + 2
        whole = replace(bed, columns=(self.rect,))
        for length in range(2, high - low + 1):
            begin = (low + high - length) // 2
            after = self._set(whole, self.panel.middle, begin, FAR, False, False)
            if after is not None and after <= begin + length:
                whole, begin = self._centred(whole, begin, after - begin, low, high)
                if self.earnest:
                    self._keep_middle(whole, begin)
                return True
        return False

    def _keep_middle(self, whole: Bed, begin: int) -> None:
        keep, self.placed = self.placed, []
        self._set(whole, self.panel.middle, begin, FAR, False, True)
        at = self._before_foot_in(keep)
        self.placed = [*keep[:at], *self.placed, *keep[at:]]

    def _before_foot_in(self, placed: list[Placed]) -> int:
        keep, self.placed = self.placed, placed
        at = self._before_foot()
        self.placed = keep
        return at

    def _centred(self, bed: Bed, begin: int, length: int, low: int, high: int) -> tuple[Bed, int]:
        """The grid and the beginning that put the middle group's ink nearest to the middle of its room.

        A group that is alone moves off the grid; one between others keeps it, and may not come nearer to them.
        """
        sizes, spot = self.job.sizes, bed.spot
        floor = spot.quiet.top if spot is not None and spot.across else self.rect.bottom
        middle = (self.rect.top + floor) / 2

        def off(start: int) -> float:
            top, bottom = bed.y(start) - ASCENT * sizes.running_mm, bed.y(start + length - 2)
            return middle - (top + bottom) / 2

        if not self._there(self.panel.top + self.panel.foot + self.panel.flow):
            moved = replace(bed, first_mm=bed.first_mm + off(begin))
            if self._set(moved, self.panel.middle, begin, FAR, False, False) == begin + length:
                return moved, begin
        if bed.region.shape != "rectangle":
            return bed, begin
        return bed, min(range(low, max(low, high - length) + 1), key=lambda start: abs(off(start)))


def split_cost(placed: Sequence[Placed], bed: Bed) -> float:
    """How badly columns end: a paragraph cut at all, a short one cut, a line of one alone."""
    counts: dict[int, dict[int, int]] = {}
    for item in placed:
        if isinstance(item, Line):
            column = sum(item.x_mm > rect.right for rect in bed.columns)
            lines = counts.setdefault(id(item.para), {})
            lines[column] = lines.get(column, 0) + 1
    cost = 0.0
    for lines in counts.values():
        if len(lines) > 1:
            cost += 0.5 + (3.0 if min(lines.values()) == 1 else 0.0) + (2.0 if sum(lines.values()) < 4 else 0.0)
    return cost
