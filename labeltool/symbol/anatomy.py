"""Which modules of a QR Code Model 2 symbol do what (ISO/IEC 18004): fixed patterns, format and version, codewords.

Cells are (column, row) from the symbol's top left module; those of the quiet zone are below 0 or beyond the size.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

Cell = tuple[int, int]
Cells = tuple[Cell, ...]
QUIET = 4
_FIRST_VERSION_WITH_INFORMATION = 7


def size_of(version: int) -> int:
    """Modules a side, without the quiet zone."""
    return 17 + 4 * version


@lru_cache(maxsize=64)
def finders(version: int) -> tuple[Cells, Cells, Cells]:
    """The finders A1 (top left), A2 (top right), A3 (bottom left) with separators: 168 cells each.

    8 × 8 cells, and the quiet zone beside them, four wide, as far as three cells past the separator.
    """
    last = size_of(version) - 1
    first = tuple((x, y) for y in range(-QUIET, 11) for x in range(-QUIET, 11) if min(x, y) < 0 or max(x, y) < 8)
    return first, tuple((last - x, y) for x, y in first), tuple((x, last - y) for x, y in first)


@lru_cache(maxsize=64)
def timings(version: int) -> tuple[Cells, Cells]:
    """The timing patterns B1 (row 6) and B2 (column 6) between the separators: 4 V + 1 cells each."""
    between = range(8, size_of(version) - 8)
    return tuple((at, 6) for at in between), tuple((6, at) for at in between)


@lru_cache(maxsize=64)
def alignments(version: int) -> Cells:
    """The cells of all alignment patterns."""
    return tuple((x + dx, y + dy) for x, y in alignment_centres(version) for dy in range(-2, 3) for dx in range(-2, 3))


def alignment_centres(version: int) -> Cells:
    """The centres of the alignment patterns, none on a finder (ISO/IEC 18004, annex E)."""
    if version == 1:
        return ()
    count = version // 7 + 2
    last = size_of(version) - 7
    step = 26 if version == 32 else (version * 4 + count * 2 + 1) // (count * 2 - 2) * 2
    places = [6, *reversed([last - step * index for index in range(count - 1)])]
    corners = {(6, 6), (6, last), (last, 6)}
    return tuple((x, y) for y in places for x in places if (x, y) not in corners)


@lru_cache(maxsize=64)
def formats(version: int) -> tuple[Cells, Cells]:
    """The two copies of the format information, 15 cells each."""
    size = size_of(version)
    line = [0, 1, 2, 3, 4, 5, 7, 8]
    first = [*((8, y) for y in line), *((x, 8) for x in (7, 5, 4, 3, 2, 1, 0))]
    second = [*((size - 1 - step, 8) for step in range(8)), *((8, size - 7 + step) for step in range(7))]
    return tuple(first), tuple(second)


@lru_cache(maxsize=64)
def versions(version: int) -> tuple[Cells, ...]:
    """The two copies of the version information, 18 cells each; none below version 7."""
    if version < _FIRST_VERSION_WITH_INFORMATION:
        return ()
    first = tuple((size_of(version) - 11 + x, y) for y in range(6) for x in range(3))
    return first, tuple((y, x) for x, y in first)


@lru_cache(maxsize=64)
def codewords(version: int) -> tuple[Cells, ...]:
    """The eight cells of each codeword in the order they are placed, the highest bit first."""
    cells = list(_data(version))
    return tuple(tuple(cells[start:start + 8]) for start in range(0, len(cells) - 7, 8))


def _data(version: int) -> Iterator[Cell]:
    size, taken = size_of(version), _taken(version)
    upwards = True
    for right in (*range(size - 1, 6, -2), *range(5, 0, -2)):
        for y in range(size - 1, -1, -1) if upwards else range(size):
            yield from ((x, y) for x in (right, right - 1) if (x, y) not in taken)
        upwards = not upwards


def _taken(version: int) -> frozenset[Cell]:
    size = size_of(version)
    parts: Iterable[Cells] = (*finders(version), *timings(version), alignments(version), *formats(version),
                              *versions(version), ((8, size - 8),))
    return frozenset(cell for part in parts for cell in part)


@lru_cache(maxsize=64)
def fixed(version: int) -> dict[Cell, bool]:
    """Which colour (dark: True) each cell of the fixed patterns must have, quiet zone beside the finders included."""
    size = size_of(version)
    found: dict[Cell, bool] = {}
    for corner, cells in zip(((3, 3), (size - 4, 3), (3, size - 4)), finders(version), strict=True):
        found |= {cell: _ring(cell, corner) in (0, 1, 3) for cell in cells}
    found |= {cell: sum(cell) % 2 == 0 for part in timings(version) for cell in part}
    for centre in alignment_centres(version):
        found |= {(centre[0] + x, centre[1] + y): max(abs(x), abs(y)) != 1 for x in range(-2, 3) for y in range(-2, 3)}
    return found


def _ring(cell: Cell, centre: Cell) -> int:
    return max(abs(cell[0] - centre[0]), abs(cell[1] - centre[1]))


def block_of(blocks: tuple[tuple[int, int], ...]) -> tuple[int, ...]:
    """The block of each codeword as placed; `blocks`: (codewords, data codewords) of each, interleaved as in 7.6."""
    data = [number for at in range(max(data for _, data in blocks))
            for number, (_, own) in enumerate(blocks) if at < own]
    correction = [number for at in range(max(total - data for total, data in blocks))
                  for number, (total, own) in enumerate(blocks) if at < total - own]
    return (*data, *correction)
