"""One panel at one size: does everything stand, and where."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from labeltool.typeset.artmodel import Entry
from labeltool.typeset.bed import Bed, Spot, cut_columns, last_baseline
from labeltool.typeset.breaks import TORN
from labeltool.typeset.halving import lowest_begin
from labeltool.typeset.job import FAR, Job, PanelResult, Place, setter
from labeltool.typeset.lone import set_lone
from labeltool.typeset.middle import set_middle
from labeltool.typeset.paras import Para
from labeltool.typeset.qrspot import spot
from labeltool.typeset.setter import Line, Placed
from labeltool.typeset.sizes import ASCENT, BORROWED, DESCENT, first_ink
from labeltool.typeset.slots import Cursor

EM_PER_CHAR = 0.46  # of running text in the shipped face
SHORTEST, LONGEST = 30, 66  # characters a line of a column, where there is a choice
TALLER = 3  # half lines by which a foot may overtop the symbol that it stands beside
IN_NAME, WORST = 1.0, 3.0  # what a column that ends inside a name costs, and a line that ends before its figure
SHORTER, SHORTER_COST = 6, 0.4  # half lines that columns may end earlier so that they end well, what each costs


def set_panel(place: Place, job: Job, earnest: bool) -> PanelResult | None:
    """The panel set in its rectangle with as few columns as do; None where nothing does."""
    panel = place.panel
    if job.there(panel.middle) and not job.there(panel.top + panel.flow + panel.foot):
        return set_lone(place, job, earnest)
    for count in _column_counts(place, job):
        found = _Setting(place, job, count, earnest or (job.balanced and bool(panel.middle))).run()
        if found is not None:
            return found
    return None


def _column_counts(place: Place, job: Job) -> list[int]:
    least, most = place.panel.columns
    if not place.panel.flow or not job.tidy:
        return list(range(least, most + 1)) if place.panel.flow else [1]
    found = []
    for count in range(least, most + 1):
        width = cut_columns(place.rect, count, job.sizes, job.close)[0].width
        chars = width / job.sizes.running_mm / EM_PER_CHAR
        if chars <= LONGEST and (count == least or chars >= SHORTEST):
            found.append(count)
    return found


class _Setting:
    """The steps of setting one panel with one number of columns: top, foot, then what stands between."""

    def __init__(self, place: Place, job: Job, count: int, earnest: bool) -> None:
        self.place, self.panel, self.rect, self.job, self.earnest = place, place.panel, place.rect, job, earnest
        self.columns = cut_columns(place.rect, count, job.sizes, job.close)
        self.top: list[Placed] = []
        self.between: list[Placed] = []
        self.foot: list[Placed] = []
        self.standing: list[tuple[Entry, Bed, int]] = []  # the foot's entries, where each begins
        self.ended: Cursor = (0, 0)  # where the flow ends

    def run(self) -> PanelResult | None:
        """The panel set, or None."""
        bed = self._bed()
        if bed is None or bed.last < 0:
            return None
        start = self._top(bed)
        if start is None:
            return None
        begin = next((begin for begin in self._feet(bed, start) if self._flow(bed, start, begin)), None)
        if begin is None:
            return None
        if self.earnest:
            self._keep_foot(bed, start)
        if not self._middle(bed, start, begin):
            return None
        return PanelResult((*self.top, *self.between, *self.foot), bed.spot, bed, self._bottom())

    def _bed(self) -> Bed | None:
        """The bed with the symbol on it. Where all is centred, what is left of the height is halved."""
        sizes = self.job.sizes
        opening = self.job.first(self.panel.top + self.panel.flow)
        ink = max(first_ink(opening, sizes) if opening else 0.0, self._rise_of_others())
        first = self.rect.top + max(ink, 0.5 * sizes.running_mm)
        full = last_baseline(first, self.rect.bottom - DESCENT * sizes.running_mm, sizes)
        last = last_baseline(first, self._bottom(), sizes)
        bed = Bed(self.columns, self.job.region, sizes, first, last, full)
        if self.panel.align == "centre" and not self.panel.flow:
            bed = replace(bed, first_mm=first + max(0.0, self._bottom() - bed.y(last)) / 2)
        if self.panel.qr is None or self.job.symbol is None:
            return bed
        found = spot(self.job.symbol, self.panel.qr, self.columns[-1], self.place.clear, self.job.region, bed.y(last))
        if found is None:
            return None
        return replace(bed, spot=found, last=self._last_above(found, bed) if found.across else last)

    def _rise_of_others(self) -> float:
        """How far under the top edge the first baseline must lie where middle or foot may come up to that edge, mm."""
        job, sizes, panel = self.job, self.job.sizes, self.panel
        if job.there(panel.top):
            return 0.0
        items = [item for item in job.first(panel.middle) + job.first(panel.foot) if isinstance(item, Para)]
        over = max(((item.reach[0] - ASCENT) * sizes.of(item.role) for item in items), default=-1.0)
        least = ASCENT * sizes.running_mm + BORROWED * sizes.grid_mm if not job.there(panel.flow) else 0.0
        return max(least, least + over, ASCENT * sizes.running_mm + over if over > 0 else 0.0)

    def _last_above(self, found: Spot, bed: Bed) -> int:
        sizes = self.job.sizes
        return min(bed.last, last_baseline(bed.first_mm, found.quiet.top - DESCENT * sizes.running_mm, sizes))

    def _bottom(self) -> float:
        """The lowest height of the last baseline, mm: the last block's own descenders decide."""
        hang = self.job.hang_mm(self.panel.foot)
        return self.rect.bottom - (DESCENT * self.job.sizes.running_mm if hang is None else hang)

    def _set(self, bed: Bed, entries: Sequence[Entry], start: int, end: int, opening: bool) -> int | None:
        """Drafts a group in one column; the baseline after it."""
        after = setter(self.panel, self.job, bed, (end,), (start,), False).entries(entries, (0, start), opening)
        return None if after is None else after[1]

    def _keep(self, bed: Bed, entries: Sequence[Entry], start: int, end: int, opening: bool) -> list[Placed]:
        """Sets a group in earnest that fitted in a draft."""
        found = setter(self.panel, self.job, bed, (end,), (start,), True)
        found.entries(entries, (0, start), opening)
        return found.placed

    def _top(self, bed: Bed) -> int | None:
        """Sets the top group across all columns; the baseline where the rest begins."""
        if not self.job.there(self.panel.top):
            return 0
        wide = replace(bed, columns=(self.rect,))
        after = self._set(wide, self.panel.top, 0, bed.last + 2, True)
        if after is not None and self.earnest:
            self.top = self._keep(wide, self.panel.top, 0, bed.last + 2, True)
        return None if after is None else after + 1

    def _feet(self, bed: Bed, start: int) -> Iterator[int]:
        """Where the foot begins, one past the end without a foot: the ways it can stand from the last baseline upwards.

        Beside a symbol at the left all its lines begin at the symbol's right, or it stands above the symbol.
        """
        if not self.job.there(self.panel.foot):
            yield bed.last + 3
            return
        column = replace(bed, columns=(bed.columns[-1],))
        if bed.spot is None or bed.spot.across or self.panel.qr != "bottom-left":
            yield from self._stand(column, start, bed.last + 2)
            return
        above = self._last_above(bed.spot, bed) + 3
        tall = replace(column, spot=replace(bed.spot, quiet=replace(bed.spot.quiet, top=0.0)))
        ways = [(tall, bed.last + 2), (column, above - 1)]
        if next(iter(self._stand(tall, start, bed.last + 2)), above) < above - TALLER:
            ways.reverse()
        for where, end in ways:
            yield from (min(begin, above) for begin in self._stand(where, start, end))

    def _stand(self, column: Bed, start: int, end: int) -> Iterator[int]:
        """Finds the place of each entry of the foot above `end`; the baseline where the first begins, if all stand."""
        standing: list[tuple[Entry, Bed, int]] = []
        for entry in reversed([entry for entry in self.panel.foot if self.job.there((entry,))]):
            begin = self._begin_of(entry, column, start, end)
            if begin is None:
                return
            standing.insert(0, (entry, column, begin))
            end = begin - 1
        self.standing = standing
        yield end + 1

    def _keep_foot(self, bed: Bed, start: int) -> None:
        """Sets the foot in earnest. What follows running text stands right under it; codes stay beside the symbol."""
        at, flows = self._under_flow(bed, start), self.job.there(self.panel.flow)
        for index, (entry, column, begin) in enumerate(self.standing):
            rises = flows and (self.panel.qr is None or index < len(self.standing) - 1)
            after = self._set(column, (entry,), at, FAR, False) if rises and at < begin else None
            if after is not None and after <= begin + FAR:
                begin = at
            self.foot += self._keep(column, (entry,), begin, FAR, False)
            at = (self._set(column, (entry,), begin, FAR, False) or begin) + self.panel.space

    def _under_flow(self, bed: Bed, start: int) -> int:
        column, unit = self.ended
        return unit + self.panel.space if column == len(bed.columns) - 1 else start or self._highest(bed)

    def _begin_of(self, entry: Entry, column: Bed, start: int, end: int) -> int | None:
        """The lowest baseline from which an entry stands above `end`: the higher, the clearer of the symbol."""

        def height(begin: int) -> int | None:
            after = self._set(column, (entry,), begin, FAR, False)
            return None if after is None else after - begin

        return lowest_begin(start, end, height)

    def _flow(self, bed: Bed, start: int, begin: int) -> bool:
        """Sets the running text over the columns, the last of which ends above the foot."""
        if not self.job.there(self.panel.flow):
            return True
        ends = (bed.full + 2,) * (len(bed.columns) - 1) + (min(begin - 1, bed.full + 2),)
        starts = (start,) + (start or self._highest(bed),) * (len(bed.columns) - 1)
        if not self.earnest:
            draft = setter(self.panel, self.job, bed, ends, starts, False)
            return draft.entries(self.panel.flow, (0, start), start == 0) is not None
        best: tuple[float, list[Placed], Cursor] | None = None
        for shorter in range(SHORTER if len(ends) > 1 and not self.job.quick else 1):
            if best is not None and best[0] <= SHORTER_COST * shorter:
                break
            tried = (*(end - shorter for end in ends[:-1]), ends[-1])
            flow = setter(self.panel, self.job, bed, tried, starts, True)
            after = flow.entries(self.panel.flow, (0, start), start == 0)
            if after is None:
                break
            cost = SHORTER_COST * shorter + split_cost(flow.placed, bed)
            best = (cost, flow.placed, after) if best is None or cost < best[0] else best
        if best:
            _, self.between, self.ended = best
        return best is not None

    def _highest(self, bed: Bed) -> int:
        """The number of the first baseline under the top edge, for columns beside one that begins with larger type."""
        flow = [item for entry in self.panel.flow for item in self.job.of(entry) if isinstance(item, Para)]
        reach = max((item.reach[0] for item in flow if item.role == "running"), default=ASCENT)
        spare = bed.first_mm - self.rect.top - max(ASCENT, reach) * bed.sizes.running_mm
        return -max(0, int(spare / bed.sizes.grid_mm + 1e-9))

    def _middle(self, bed: Bed, start: int, begin: int) -> bool:
        """Sets the middle group between the groups above and below, air left on both sides."""
        if not self.job.there(self.panel.middle):
            return True
        air = round(2 * self.panel.air)
        low = start - 1 + air if self.job.there(self.panel.top) else 0
        high = begin - air if self.job.there(self.panel.foot) else bed.last + 1
        whole = replace(bed, columns=(self.rect,))
        found = set_middle(self.place, self.job, whole, (low, high), self.top + self.foot, self.earnest)
        self.between += found or []
        return found is not None


def split_cost(placed: Sequence[Placed], bed: Bed) -> float:
    """How badly columns and lines end: a paragraph cut at all, a short one cut, a line alone, a figure torn off."""
    parts: dict[int, dict[int, list[Line]]] = {}
    for item in placed:
        if isinstance(item, Line):
            column = sum(item.x_mm > rect.right for rect in bed.columns)
            parts.setdefault(id(item.para), {}).setdefault(column, []).append(item)
    return sum(_cut_cost(list(columns.values())) + _torn_cost(columns) for columns in parts.values())


def _cut_cost(columns: list[list[Line]]) -> float:
    """How badly one paragraph is cut over columns."""
    if len(columns) < 2:
        return 0.0
    whole, least = sum(map(len, columns)), min(map(len, columns))
    cost = 0.5 + (3.0 if least == 1 else 2.0 if least == 2 or whole < 4 else 0.0)
    return cost + IN_NAME * any(_break_cost(lines[-1]) > 0 for lines in columns[:-1])


def _torn_cost(columns: dict[int, list[Line]]) -> float:
    return WORST * sum(_break_cost(line) >= TORN for lines in columns.values() for line in lines)


def _break_cost(line: Line) -> float:
    """What the break at a line's end costs."""
    return next((item.cost for item in line.para.body.breaks if item.end == line.last), 0.0)
