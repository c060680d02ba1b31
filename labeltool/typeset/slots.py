"""The baselines that the lines of a paragraph take: down a column, then on in the next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

Cursor = tuple[int, int]  # column, baseline number
Stretch = tuple[int, int, int]  # column, baseline number of its first line, how many lines it holds


@dataclass(frozen=True, slots=True)
class Slots:
    """Where each line stands, `step` half lines apart."""

    stretches: tuple[Stretch, ...]
    step: int

    def __call__(self, line: int) -> Cursor | None:
        """The baseline of a line, counted from 0; None where the columns are full."""
        for column, unit, lines in self.stretches:
            if line < lines:
                return column, unit + line * self.step
            line -= lines
        return None

    def lowest(self, count: int) -> Iterator[Cursor]:
        """The lowest baseline of the first `count` lines in each column that they reach, as far as there is room."""
        for column, unit, lines in self.stretches:
            if count <= 0:
                return
            yield column, unit + (min(lines, count) - 1) * self.step
            count -= lines


def slots_from(
    at: Cursor, step: int, below: int, above: int, ends: Sequence[int], starts: Sequence[int],
) -> Slots:
    """The slots from `at` on; `ends`, `starts`: of the columns, see Setter.

    `below`, `above`: half lines that a line needs more than a running one, beneath it and at the top of a column.
    """
    column, unit = at
    found = []
    while True:
        room = ends[column] - below - 2 - unit
        if room >= 0:
            found.append((column, unit, room // step + 1))
        column += 1
        if column >= len(ends):
            return Slots(tuple(found), step)
        unit = starts[column] + above
