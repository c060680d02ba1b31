"""Sets entries line by line on a bed; in a draft it only counts, in earnest it keeps every line."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from labeltool.typeset.arc import Arc
from labeltool.typeset.artmodel import Entry
from labeltool.typeset.bed import Bed
from labeltool.typeset.linebreak import break_even, break_lines, count_even, count_lines
from labeltool.typeset.metrics import FontSet
from labeltool.typeset.paras import Item, Para, Sign
from labeltool.typeset.printed import LISTED
from labeltool.typeset.rows import set_row, set_run
from labeltool.typeset.signs import SetSign
from labeltool.typeset.sizes import ASCENT, DESCENT
from labeltool.typeset.slots import Cursor, Slots, slots_from

CENTRED_AIR, CLOSE_AIR, LEAST_AIR = 0.38, 0.28, 0.15  # under a centred name and under any larger type, by its size
HEADLINE = 0.94  # of its line that a centred name may fill
OWN_PITCH = 1.08  # line pitch of the name, by its size


@dataclass(frozen=True, slots=True)
class Line:
    """One set line: characters `first` to `last` of a paragraph from (x, y), y the baseline, mm."""

    para: Para
    first: int
    last: int
    x_mm: float
    y_mm: float
    size_mm: float


@dataclass(frozen=True, slots=True)
class Standing:
    """A set sign: its left edge and foot, mm."""

    sign: SetSign
    x_mm: float
    y_mm: float


Placed = Line | Standing | Arc
Ready = Para | SetSign


@dataclass(slots=True)
class Setter:
    """Sets items on a bed. `ends`: for each column the baseline number where the next line would no longer stand.

    `starts`: where columns begin; `space`: half lines between entries; `airy`: more white under a centred name;
    `reached`: the last baseline that bears a line.
    """

    bed: Bed
    items: Mapping[str, tuple[Item, ...]]
    fonts: FontSet
    align: Literal["left", "centre"]
    ends: tuple[int, ...]
    starts: tuple[int, ...]
    earnest: bool = False
    space: int = 1
    airy: bool = True
    reached: int = 0
    placed: list[Placed] = field(default_factory=list)

    def entries(self, entries: Sequence[Entry], at: Cursor, opening: bool) -> Cursor | None:
        """Sets entries half a line apart from `at` on; None where they do not fit. `opening`: nothing stands above."""
        started = False
        for entry in entries:
            found = [self.items[name] for name in entry.names if name in self.items]
            if not found:
                continue
            at = (at[0], at[1] + self.space) if started and at[1] > self.starts[at[0]] else at
            after = self._entry(entry, found, at, opening and not started)
            if after is None:
                return None
            at, started = after, True
        return at

    def _entry(self, entry: Entry, found: list[tuple[Item, ...]], at: Cursor, opening: bool) -> Cursor | None:
        flat = [item for group in found for item in group]
        if entry.kind == "row":
            return set_row(self, flat, at, opening, entry.spread)
        if entry.kind == "run":
            return set_run(self, flat, at, opening)
        step: Cursor | None = at
        signs = [item for item in flat if isinstance(item, Sign)]
        for item in flat:
            if step is None:
                return None
            alone = opening and step == at
            if isinstance(item, Para):
                several = step != at and entry.names == (item.block,) and item.block not in LISTED
                step = self.para(item, (step[0], step[1] + (1 if several else 0)), alone)
            elif item is signs[0]:
                step = set_row(self, list(signs), step, alone, False)
        return step

    def para(self, para: Para, at: Cursor, opening: bool) -> Cursor | None:
        """Sets one paragraph; the cursor after it."""
        size, slots = self.bed.sizes.of(para.role), self.slots(para, at, opening)
        count = self.count(para, slots)
        if count is None:
            return None
        column, unit = slots(count - 1) or at
        self.reached = unit
        if self.earnest:
            self._keep(para, slots, count, size)
        return column, unit + 2 + self.below(para)

    def count(self, para: Para, slots: Slots) -> int | None:
        """The fewest lines of a paragraph on these slots; None where it does not fit."""
        room = self._even_room(para)
        if room is None:
            return count_lines(para.body, self.measure_of(para, slots))
        count = count_even(para.body, room)
        if count is None or self._whole(para, slots, count):
            return count if count and slots(count - 1) else None
        return count_lines(para.body, self.measure_of(para, slots))

    def breaks(self, para: Para, slots: Slots, count: int, even_last: bool = False) -> tuple[int, ...]:
        """The best breaks of a paragraph into so many lines."""
        room = self._even_room(para)
        if room is not None and self._whole(para, slots, count):
            return break_even(para.body, room, count, even_last)
        return break_lines(para.body, self.measure_of(para, slots), count, even_last)

    def _even_room(self, para: Para) -> float | None:
        """The room of a line with all of its column, ems, where all columns are alike; None on round labels."""
        if not self.bed.square:
            return None
        width = self.bed.columns[0].width
        return self._share(para) * width / self.bed.sizes.of(para.role) if width > 0 else None

    def _whole(self, para: Para, slots: Slots, count: int) -> bool:
        """Whether all lines, as far as there are slots, have all of their column."""
        if self.bed.spot is None:
            return True
        _, down = self.reach_of(para)
        return all(self.bed.whole(column, unit, down) for column, unit in slots.lowest(count))

    def _share(self, para: Para) -> float:
        return HEADLINE if self.align == "centre" and para.role == "name" else 1.0

    def measure_of(self, para: Para, slots: Slots) -> Callable[[int], float]:
        """The room of each line of a paragraph, ems. A centred name keeps off the ends of its lines."""
        room, reach = self.bed.room, self.reach_of(para)
        wide = self._share(para) / self.bed.sizes.of(para.role)

        def measure(line: int) -> float:
            slot = slots(line)
            if slot is None:
                return -1.0
            left, right = room(*slot, *reach)
            return wide * (right - left)

        return measure

    def room_of(self, item: Ready, slot: Cursor) -> tuple[float, float]:
        """The left and right ends of a line of this paragraph, or for this sign, mm."""
        return self.bed.room(*slot, *self.reach_of(item))

    def reach_of(self, item: Ready) -> tuple[float, float]:
        """How far a line of a paragraph, or a sign, rises above its baseline and falls below it, mm."""
        if isinstance(item, SetSign):
            words = None if item.inside else item.sign.words
            down = words.reach[1] * self.bed.sizes.running_mm if words is not None else 0.0
            return item.height_mm + self.bed.sizes.dot_mm, down
        size = self.bed.sizes.of(item.role)
        return max(ASCENT, item.reach[0]) * size, max(DESCENT, item.reach[1]) * size

    def slots(self, para: Para, at: Cursor, opening: bool) -> Slots:
        """Which baseline each line of a paragraph takes: down the column, then on in the next."""
        sizes = self.bed.sizes
        if para.role == "running":
            return slots_from(at, 2, 0, 0, self.ends, self.starts)
        size, units = sizes.of(para.role), sizes.units
        step, over = max(2, units(OWN_PITCH * size)), ASCENT * (size - sizes.running_mm)
        first = at if opening else (at[0], at[1] + units(over))
        return slots_from(first, step, self.below(para), units(over, 0.0), self.ends, self.starts)

    def within(self, slot: Cursor, below: int, above: int) -> Cursor | None:
        """The slot itself, or the next column's first where this one is full.

        `below`, `above`: half lines that the line needs more than a running one, beneath it and at the top of a column.
        """
        column, unit = slot
        while unit + below + 2 > self.ends[column]:
            column += 1
            if column >= len(self.ends):
                return None
            unit = self.starts[column] + above
        return column, unit

    def below(self, para: Para) -> int:
        """Half lines that a paragraph of larger type needs beyond a running line before the next one."""
        sizes, size = self.bed.sizes, self.bed.sizes.of(para.role)
        if size <= sizes.running_mm:
            return 0
        air = LEAST_AIR if self.align != "centre" else CENTRED_AIR if self.airy else CLOSE_AIR
        need = (para.reach[1] + air) * size + ASCENT * sizes.running_mm - 2 * sizes.grid_mm
        return sizes.units(need, 0.01)

    def _keep(self, para: Para, slots: Slots, count: int, size: float) -> None:
        centred = self.align == "centre"
        even = centred or para.role == "name"
        chosen = self.breaks(para, slots, count, even)
        first = 0
        for number, index in enumerate(chosen):
            slot = slots(number)
            assert slot is not None
            last = para.body.breaks[index].end
            width = (para.body.edges[last] - para.body.edges[first] - para.spacing) * size
            left, right = self.room_of(para, slot)
            x = (left + right - width) / 2 if centred else left
            self.placed.append(Line(para, first, last, x, self.bed.y(slot[1]), size))
            first = para.body.breaks[index].start

    def stand(self, item: Ready, x: float, y: float) -> None:
        """Keeps a one-line paragraph or a sign at (x, y), y the baseline, mm."""
        if isinstance(item, Para):
            self.placed.append(Line(item, 0, len(item.text), x, y, self.bed.sizes.of(item.role)))
            return
        self.placed.append(Standing(item, x, y))
        words = item.sign.words
        if words is not None:
            self.placed.append(
                Line(words, 0, len(words.text), x + item.words_x_mm, y - item.lift_mm, self.bed.sizes.running_mm))
