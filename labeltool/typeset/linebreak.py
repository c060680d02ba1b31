"""Optimum line breaking: of all ways to break a paragraph into the fewest lines, the least ragged one."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from labeltool.typeset.breaks import Break

Measure = Callable[[int], float]  # line number from 0 -> room, ems; 0 or less: no line stands there
SHORT_LAST = 0.12  # of the measure: what the last line should at least fill
SHORT_COST, ALONE_COST = 4.0, 0.2
LONGEST = 75  # characters a line
EPSILON = 1e-9


@dataclass(frozen=True, slots=True)
class Breakable:
    """A paragraph ready for breaking: `edges[i]` is the width of its first i characters, ems.

    `over[i]` is how far the ink of character i reaches out of its advance width to the right (an f at a line's end).
    """

    edges: tuple[float, ...]
    over: tuple[float, ...]
    breaks: tuple[Break, ...]
    ends: tuple[float, ...]  # edges at the breaks' ends, the last letter's ink included
    starts: tuple[float, ...]  # where line i + 1 would start after break i; starts[0] of the paragraph is 0
    places: tuple[int, ...]  # the breaks' ends, characters
    memo: dict[tuple[float, int, bool], tuple[int, ...] | int | None] = field(default_factory=dict, compare=False)

    def width(self, first: int, last: int) -> float:
        """The width of the line from after break first − 1 (0: the beginning) to break `last`, ems."""
        return self.ends[last] - self.starts[first]

    def chars(self, first: int, last: int) -> int:
        """The characters of that line."""
        return self.places[last] - (self.breaks[first - 1].start if first else 0)


def breakable(advances: Sequence[float], found: tuple[Break, ...], over: Sequence[float] = ()) -> Breakable:
    """The paragraph of these advances and overhangs (ems, one a character) and breaks."""
    edges, hangs = [0.0], tuple(over) or (0.0,) * len(advances)
    for step in advances:
        edges.append(edges[-1] + step)
    return Breakable(
        tuple(edges), hangs, found,
        tuple(edges[item.end] + (hangs[item.end - 1] if item.end else 0.0) for item in found),
        (0.0, *(edges[item.start] for item in found)), tuple(item.end for item in found),
    )


def count_lines(para: Breakable, measure: Measure, most: int = 1000) -> int | None:
    """The fewest lines that hold the paragraph; None where a word is too long or `most` lines do not do."""
    first = line = 0
    while first < len(para.ends):
        if line >= most:
            return None
        last = _farthest(para, first, measure(line))
        if last < first:
            return _count_all_ways(para, measure, most)
        first, line = last + 1, line + 1
    return line


def count_even(para: Breakable, room: float) -> int | None:
    """The fewest lines of one measure, remembered."""
    key = (room, 0, False)
    if key not in para.memo:
        para.memo[key] = count_lines(para, lambda line: room)
    found = para.memo[key]
    assert not isinstance(found, tuple)
    return found


def break_even(para: Breakable, room: float, lines: int, even_last: bool) -> tuple[int, ...]:
    """The best breaks into so many lines of one measure, remembered."""
    key = (room, lines, even_last)
    if key not in para.memo:
        para.memo[key] = break_lines(para, lambda line: room, lines, even_last)
    found = para.memo[key]
    assert isinstance(found, tuple)
    return found


def _count_all_ways(para: Breakable, measure: Measure, most: int) -> int | None:
    """The same where filling every line gets stuck at a word too long for its line, by all ends that can be reached.

    Filling is best until it is stuck: who has come farther needs no more lines.
    """
    starts, line = {0}, 0
    while starts and line < min(most, len(para.ends)):
        room = measure(line)
        reached = {last + 1 for first in starts for last in range(first, _farthest(para, first, room) + 1)}
        line += 1
        if len(para.ends) in reached:
            return line
        starts = reached
    return None


def _farthest(para: Breakable, first: int, room: float) -> int:
    last = bisect_right(para.ends, para.starts[first] + room + EPSILON, first) - 1
    while last >= first and para.chars(first, last) > LONGEST:
        last -= 1
    return last


def break_lines(para: Breakable, measure: Measure, lines: int, even_last: bool = False) -> tuple[int, ...]:
    """The last break of every line, for exactly `lines` lines (as `count_lines` says), of least total cost.

    Cost of a line: the square of the share of its measure left empty, and the cost of the break; of the last line only
    a fixed cost where it fills less than 12 % of the measure or holds one word (`even_last`: it counts as any other).
    """
    count = len(para.ends)
    table: list[dict[int, tuple[float, int]]] = [{-1: (0.0, -1)}]
    for line in range(lines):
        room = measure(line)
        row: dict[int, tuple[float, int]] = {}
        for before, (so_far, _) in table[-1].items():
            for last in range(before + 1, _farthest(para, before + 1, room) + 1 if before + 1 < count else 0):
                final = line == lines - 1
                if final != (last == count - 1):
                    continue
                cost = so_far + line_cost(para, before + 1, last, room, final and not even_last)
                if last not in row or cost < row[last][0] - EPSILON:
                    row[last] = (cost, before)
        table.append(row)
    if count - 1 not in table[-1]:
        raise ValueError(f"the paragraph does not fit {lines} lines")
    return _trace(table, count - 1)


def _trace(table: list[dict[int, tuple[float, int]]], last: int) -> tuple[int, ...]:
    found = []
    for row in reversed(table[1:]):
        found.append(last)
        last = row[last][1]
    return tuple(reversed(found))


def line_cost(para: Breakable, first: int, last: int, room: float, final: bool) -> float:
    """The cost of one line."""
    width = para.width(first, last)
    if final:
        return SHORT_COST if width < SHORT_LAST * room else ALONE_COST if first == last else 0.0
    return ((room - width) / room) ** 2 + para.breaks[last].cost
