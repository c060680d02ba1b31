"""Sets entries line by line on a bed; in a draft it only counts, in earnest it keeps every line."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from labeltool.typeset.artmodel import Entry
from labeltool.typeset.bed import Bed
from labeltool.typeset.linebreak import LONGEST, break_lines, count_lines
from labeltool.typeset.metrics import FontSet
from labeltool.typeset.paras import Item, Para, Sign
from labeltool.typeset.signs import SetSign, set_sign
from labeltool.typeset.sizes import ASCENT, DESCENT

ROW_GAP = 1.0  # between the members of a row, ems of the running size
RUN_GAP = 0.8  # between paragraphs that share a line
CLUSTER_GAP = 0.5  # between the net quantity and its e-mark
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


Placed = Line | Standing
Ready = Para | SetSign
Cursor = tuple[int, int]  # column, baseline number


@dataclass(slots=True)
class Setter:
    """Sets items on a bed. `ends`: for each column the baseline number where the next line would no longer stand."""

    bed: Bed
    items: Mapping[str, tuple[Item, ...]]
    fonts: FontSet
    align: Literal["left", "centre"]
    ends: tuple[int, ...]
    starts: tuple[int, ...]
    earnest: bool = False
    placed: list[Placed] = field(default_factory=list)

    def entries(self, entries: Sequence[Entry], at: Cursor, opening: bool) -> Cursor | None:
        """Sets entries half a line apart from `at` on; None where they do not fit. `opening`: nothing stands above."""
        started = False
        for entry in entries:
            found = [self.items[name] for name in entry.names if name in self.items]
            if not found:
                continue
            at = (at[0], at[1] + 1) if started and at[1] > self.starts[at[0]] else at
            after = self._entry(entry, found, at, opening and not started)
            if after is None:
                return None
            at, started = after, True
        return at

    def _entry(self, entry: Entry, found: list[tuple[Item, ...]], at: Cursor, opening: bool) -> Cursor | None:
        flat = [item for group in found for item in group]
        if entry.kind == "row":
            return self._row(flat, at, opening, entry.spread)
        if entry.kind == "run":
            return self._run(flat, at, opening)
        step: Cursor | None = at
        signs = [item for item in flat if isinstance(item, Sign)]
        for item in flat:
            if step is None:
                return None
            alone = opening and step == at
            if isinstance(item, Para):
                several = step != at and entry.names == (item.block,)
                step = self.para(item, (step[0], step[1] + (1 if several else 0)), alone)
            elif item is signs[0]:
                step = self._row(list(signs), step, alone, False)
        return step

    def para(self, para: Para, at: Cursor, opening: bool) -> Cursor | None:
        """Sets one paragraph; the cursor after it."""
        size, slots = self.bed.sizes.of(para.role), self._slots(para, at, opening)
        count = count_lines(para.body, self._measure_of(slots, size))
        if count is None:
            return None
        column, unit = slots(count - 1) or at
        if self.earnest:
            self._keep(para, slots, count, size)
        return column, unit + 2 + self._below(size)

    def _run(self, items: list[Item], at: Cursor, opening: bool) -> Cursor | None:
        """Sets paragraphs one after another, each on the last line of the one before where it fits there whole."""
        gap, step, tail = RUN_GAP * self.bed.sizes.running_mm, at, None
        for item in items:
            if isinstance(item, Sign):
                after, tail = self._row([item], step, opening and step == at, False), None
            elif tail is not None and self._follow(item, tail[0], tail[1] + gap):
                tail = (tail[0], tail[1] + gap + item.width * self.bed.sizes.of(item.role))
                continue
            else:
                after = self.para(item, step, opening and step == at)
                tail = self._tail(item, step, opening and step == at) if after else None
            if after is None:
                return None
            step = after
        return step

    def _tail(self, para: Para, at: Cursor, opening: bool) -> tuple[Cursor, float] | None:
        """The baseline of a paragraph's last line and where its ink ends, mm; None where all is centred."""
        size, slots = self.bed.sizes.of(para.role), self._slots(para, at, opening)
        measure = self._measure_of(slots, size)
        count = count_lines(para.body, measure)
        slot = slots(count - 1) if count else None
        if count is None or slot is None or self.align == "centre" or para.role != "running":
            return None
        chosen = break_lines(para.body, measure, count)
        start = chosen[-2] + 1 if count > 1 else 0
        return slot, self.bed.room(*slot, size)[0] + para.body.width(start, chosen[-1]) * size

    def _follow(self, para: Para, slot: Cursor, x: float) -> bool:
        """Sets a paragraph at x on a baseline that already bears a line, if it fits there whole."""
        size = self.bed.sizes.of(para.role)
        fits = para.role == "running" and x + para.width * size <= self.bed.room(*slot, size)[1] + 1e-9
        if fits and self.earnest:
            self.placed.append(Line(para, 0, len(para.text), x, self.bed.y(slot[1]), size))
        return fits

    def _measure_of(self, slots: Callable[[int], Cursor | None], size: float) -> Callable[[int], float]:
        return lambda line: self._measure(slots(line), size)

    def _measure(self, slot: Cursor | None, size: float) -> float:
        if slot is None:
            return -1.0
        left, right = self.bed.room(*slot, size)
        return (right - left) / size

    def _slots(self, para: Para, at: Cursor, opening: bool) -> Callable[[int], Cursor | None]:
        """Which baseline each line of a paragraph takes: down the column, then on in the next."""
        size, units = self.bed.sizes.of(para.role), self.bed.sizes.units
        step = 2 if para.role == "running" else units(OWN_PITCH * size)
        step = max(step, 2)
        rise = 0 if opening else units(ASCENT * (size - self.bed.sizes.running_mm))
        found: list[Cursor | None] = []

        def slot(line: int) -> Cursor | None:
            while len(found) <= line:
                before = found[-1] if found else None
                if found and before is None:
                    return None
                nxt = (before[0], before[1] + step) if before else (at[0], at[1] + rise)
                found.append(self._within(nxt, size))
            return found[line]

        return slot

    def _within(self, slot: Cursor, size: float) -> Cursor | None:
        """The slot itself, or the first of the next column where this one is full."""
        column, unit = slot
        while unit + self._below(size) + 2 > self.ends[column]:
            column += 1
            if column >= len(self.ends):
                return None
            unit = self.starts[column]
        return column, unit

    def _below(self, size: float) -> int:
        """Half lines that a larger size needs beyond a running line before the next one."""
        sizes = self.bed.sizes
        need = DESCENT * size + ASCENT * sizes.running_mm - 2 * sizes.grid_mm
        return sizes.units(need) if size > sizes.running_mm else 0

    def _keep(self, para: Para, slots: Callable[[int], Cursor | None], count: int, size: float) -> None:
        centred = self.align == "centre"
        even = centred or para.role == "name"
        chosen = break_lines(para.body, self._measure_of(slots, size), count, even_last=even)
        first = 0
        for number, index in enumerate(chosen):
            slot = slots(number)
            assert slot is not None
            last = para.body.breaks[index].end
            width = (para.body.edges[last] - para.body.edges[first] - para.spacing) * size
            left, right = self.bed.room(*slot, size)
            x = (left + right - width) / 2 if centred else left
            self.placed.append(Line(para, first, last, x, self.bed.y(slot[1]), size))
            first = para.body.breaks[index].start

    def _row(self, items: list[Item], at: Cursor, opening: bool, spread: bool) -> Cursor | None:
        """Sets items side by side on one baseline, on more of them where one is too short."""
        clusters, step = self._clusters(items), at
        while clusters:
            after = self._one_row(clusters, step, opening and step == at, spread)
            if after is None:
                return None
            step, clusters = after
        return step

    def _clusters(self, items: list[Item]) -> list[list[Ready]]:
        """The members of a row, an e-mark together with what stands before it."""
        found: list[list[Ready]] = []
        for item in items:
            ready = set_sign(item, self.bed.sizes, self.fonts) if isinstance(item, Sign) else item
            if found and isinstance(item, Sign) and item.words is None:
                found[-1].append(ready)
            else:
                found.append([ready])
        return found

    def _one_row(
        self, clusters: list[list[Ready]], at: Cursor, opening: bool, spread: bool,
    ) -> tuple[Cursor, list[list[Ready]]] | None:
        """Sets as many clusters as one line holds; the cursor after it and the clusters left over."""
        for count in range(len(clusters), 0, -1):
            taken = clusters[:count]
            after = self._line_of(taken, at, opening, spread and count == len(clusters))
            if after is not None:
                return after, clusters[count:]
        first, *rest = clusters
        if len(first) > 1:
            return self._one_row([[item] for item in first] + rest, at, opening, spread)
        if isinstance(first[0], SetSign):
            return None
        after = self.para(first[0], at, opening)
        return None if after is None else (after, rest)

    def _line_of(self, clusters: list[list[Ready]], at: Cursor, opening: bool, spread: bool) -> Cursor | None:
        """Sets clusters on one line; None where they are too wide for it."""
        sizes, flat = self.bed.sizes, [item for cluster in clusters for item in cluster]
        up = max(self._rise_of(item) for item in flat)
        below = max(0 if isinstance(item, SetSign) else self._below(sizes.of(item.role)) for item in flat)
        rise = 0 if opening else sizes.units(up - ASCENT * sizes.running_mm)
        slot = self._within((at[0], at[1] + rise), sizes.running_mm)
        if slot is None or slot[1] + below + 2 > self.ends[slot[0]]:
            return None
        if any(isinstance(item, Para) and len(item.text) > LONGEST for item in flat):
            return None
        room = self.bed.room(*slot, sizes.running_mm, up)
        widths = [self._width_of(cluster) for cluster in clusters]
        if sum(widths) + ROW_GAP * sizes.running_mm * (len(widths) - 1) > room[1] - room[0] + 1e-9:
            return None
        if self.earnest:
            self._keep_row(clusters, widths, room, self.bed.y(slot[1]), spread)
        return slot[0], slot[1] + 2 + below

    def _width_of(self, cluster: list[Ready]) -> float:
        sizes = self.bed.sizes
        widths = [item.width_mm if isinstance(item, SetSign) else item.width * sizes.of(item.role) for item in cluster]
        return sum(widths) + CLUSTER_GAP * sizes.running_mm * (len(widths) - 1)

    def _rise_of(self, item: Ready) -> float:
        return item.height_mm if isinstance(item, SetSign) else ASCENT * self.bed.sizes.of(item.role)

    def _keep_row(
        self, clusters: list[list[Ready]], widths: list[float], room: tuple[float, float], y: float, spread: bool,
    ) -> None:
        gap = ROW_GAP * self.bed.sizes.running_mm
        x = room[0]
        if self.align == "centre":
            x = (room[0] + room[1] - sum(widths) - gap * (len(widths) - 1)) / 2
        for index, (cluster, width) in enumerate(zip(clusters, widths, strict=True)):
            if spread and 0 < index == len(widths) - 1:
                x = room[1] - width
            at = x
            for item in cluster:
                self._stand(item, at, y)
                at += self._width_of([item]) + CLUSTER_GAP * self.bed.sizes.running_mm
            x += width + gap

    def _stand(self, item: Ready, x: float, y: float) -> None:
        if isinstance(item, Para):
            self.placed.append(Line(item, 0, len(item.text), x, y, self.bed.sizes.of(item.role)))
            return
        self.placed.append(Standing(item, x, y))
        words = item.sign.words
        if words is not None:
            self.placed.append(
                Line(words, 0, len(words.text), x + item.words_x_mm, y - item.lift_mm, self.bed.sizes.running_mm))

