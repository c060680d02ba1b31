"""The edges between light and dark modules as a picture has them, and the grid moved to where they lie."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import fmean

from labeltool.readback.quality.grid import Grid, grid
from labeltool.readback.quality.model import Known, Picture, Point

STEPS = 20  # samples a module


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge on grid line `line`, in lane `lane` (a row or column), `away` modules from the line."""

    line: int
    lane: int
    away: float
    falling: bool  # from dark to light


@dataclass(frozen=True, slots=True)
class Edges:
    """All edges found along one way, and how much wider dark modules are than they should be, modules."""

    found: tuple[Edge, ...]
    growth: float

    @property
    def even(self) -> list[Edge]:
        """The edges with the growth taken out."""
        half = self.growth / 2
        return [replace(edge, away=edge.away - (half if edge.falling else -half)) for edge in self.found]


def edges(picture: Picture, places: Grid, known: Known, threshold: float, *, down: bool) -> Edges:
    """The edges along every row, or where `down` along every column."""
    found = tuple(_edges(picture, places, known, threshold, down=down))
    return Edges(found, _growth(found))


def fitted(places: Grid, across: Edges, down: Edges) -> tuple[Grid, float]:
    """The grid moved to fit all edges best (least squares, bilinear), and the farthest that a corner moved, modules."""
    size = places.size
    ends = ((0, 0), (size, 0), (size, size), (0, size))
    shifts = [_bilinear([((edge.line, edge.lane + 0.5) if way == 0 else (edge.lane + 0.5, edge.line), edge.away)
                         for edge in found.even], size) for way, found in enumerate((across, down))]
    moves = [tuple(shift(x / size, y / size) for shift in shifts) for x, y in ends]
    corners = [places.at(x + dx, y + dy) for (x, y), (dx, dy) in zip(ends, moves, strict=True)]
    return grid(size, corners), max(abs(value) for move in moves for value in move)


def _edges(picture: Picture, places: Grid, known: Known, threshold: float, *, down: bool) -> Iterator[Edge]:
    """The edges along each lane: columns where `down`, else rows; each sought where the one before it points to."""
    for lane in range(known.size):
        drift = 0.0
        for line in range(known.size + 1):
            before, after = ((known.dark(lane, line - 1), known.dark(lane, line)) if down
                             else (known.dark(line - 1, lane), known.dark(line, lane)))
            if before == after:
                continue
            away = _crossing(picture, places, threshold, (line + drift, lane + 0.5), before, down=down)
            if away is not None:
                drift += away
                yield Edge(line, lane, drift, before)


def _crossing(picture: Picture, places: Grid, threshold: float, start: Point, falling: bool, *,
              down: bool) -> float | None:
    """How far from `start`, half a module at most, the light crosses the threshold the right way; the nearest such."""
    lights = _smooth([
        _light(picture, *(places.at(start[1], start[0] + step / STEPS) if down
                          else places.at(start[0] + step / STEPS, start[1]))) - threshold
        for step in range(-STEPS // 2 - 2, STEPS // 2 + 3)
    ])
    best: float | None = None
    for step, (earlier, light) in enumerate(pairwise(lights)):
        if (light >= 0) == falling and (earlier >= 0) != falling:
            found = (step + earlier / (earlier - light)) / STEPS - 0.5
            best = found if best is None or abs(found) < abs(best) else best
    return best


def _smooth(values: Sequence[float]) -> list[float]:
    """Softened a little, so that an edge sharper than the pixels lies where it should; two fewer at either end."""
    return [(a + 2 * b + 3 * c + 2 * d + e) / 9
            for a, b, c, d, e in zip(values, values[1:], values[2:], values[3:], values[4:], strict=False)]


def _light(picture: Picture, x: float, y: float) -> float:
    """The light at a place between pixel middles, 0 to 1."""
    left = min(max(int(x - 0.5), 0), picture.width - 2)
    top = min(max(int(y - 0.5), 0), picture.height - 2)
    right_share, low_share = min(max(x - 0.5 - left, 0.0), 1.0), min(max(y - 0.5 - top, 0.0), 1.0)
    at, width, pixels = top * picture.width + left, picture.width, picture.pixels
    upper = pixels[at] + (pixels[at + 1] - pixels[at]) * right_share
    lower = pixels[at + width] + (pixels[at + width + 1] - pixels[at + width]) * right_share
    return (upper + (lower - upper) * low_share) / 255


def _growth(edges: Sequence[Edge]) -> float:
    """How much wider dark modules are than they should be, modules."""
    falling, rising = ([edge.away for edge in edges if edge.falling is way] for way in (True, False))
    return fmean(falling) - fmean(rising) if falling and rising else 0.0


Shift = Callable[[float, float], float]


def _bilinear(points: Sequence[tuple[Point, float]], size: int) -> Shift:
    """The a + b u + c v + d u v nearest to all points, u and v being shares of the symbol's side."""
    rows = [((1.0, x / size, y / size, x * y / size ** 2), away) for (x, y), away in points]
    sums = [[sum(terms[i] * terms[j] for terms, _ in rows) for j in range(4)] for i in range(4)]
    right = [sum(terms[i] * away for terms, away in rows) for i in range(4)]
    a, b, c, d = _solved(sums, right)
    return lambda u, v: a + b * u + c * v + d * u * v


def _solved(sums: list[list[float]], right: list[float]) -> list[float]:
    """Gauss's elimination; zeros where the points do not tell."""
    table = [[*row, end] for row, end in zip(sums, right, strict=True)]
    size = len(table)
    for index in range(size):
        pivot = max(range(index, size), key=lambda row: abs(table[row][index]))
        if abs(table[pivot][index]) < 1e-9:
            return [0.0] * size
        table[index], table[pivot] = table[pivot], table[index]
        for row in range(size):
            if row != index:
                share = table[row][index] / table[index][index]
                table[row] = [value - share * own for value, own in zip(table[row], table[index], strict=True)]
    return [table[index][size] / table[index][index] for index in range(size)]
