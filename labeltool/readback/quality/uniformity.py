"""Where the grid of a symbol really lies: axial and grid non-uniformity, and print growth."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import fmean, median

from labeltool.readback.quality.edges import Edge, Edges
from labeltool.readback.quality.grid import Grid
from labeltool.readback.quality.model import Parameter, Point, Standard

AXIAL, UNEVEN = "axial-non-uniformity", "grid-non-uniformity"
Corners = tuple[Point, Point, Point, Point]
NEAR = 3  # modules whose edges tell where a crossing lies


@dataclass(frozen=True, slots=True)
class Shape:
    """How far each grid crossing lies from the ideal grid, modules; its sides; the growth of dark modules.

    `corners`: how far the symbol's own corners lie from those that were given, modules.
    """

    away: tuple[tuple[Point, ...], ...]
    corners: Corners
    sides: tuple[float, float]
    growth: tuple[float, float]

    def moved(self, x: int, y: int) -> Point:
        """How far a module's middle lies from where the given corners put it; as beside it for the quiet zone."""
        size = len(self.away) - 1
        left, top = min(max(x, 0), size - 1), min(max(y, 0), size - 1)
        near = [self.away[top + down][left + across] for down in (0, 1) for across in (0, 1)]
        corner = _between(self.corners, (left + 0.5) / size, (top + 0.5) / size)
        return fmean(item[0] for item in near) + corner[0], fmean(item[1] for item in near) + corner[1]


def axial(shape: Shape, rules: Standard) -> tuple[float, str]:
    """Axial non-uniformity: the difference of the mean spacings across and down by their mean; and its confidence."""
    across, down = shape.sides
    return abs(across - down) / ((across + down) / 2), rules.confidence(AXIAL)


def uneven(shape: Shape) -> float:
    """Grid non-uniformity: the largest distance of a crossing from the ideal grid, modules."""
    return max(math.hypot(x, y) for row in shape.away for x, y in row)


def measure(places: Grid, across: Edges, down: Edges) -> Shape:
    """From the edges found, each crossing of the grid, against the even grid between the symbol's own corners."""
    size = places.size
    fields = [_field(found.even, size) for found in (across, down)]
    crossings = [[(fields[0](x, y), fields[1](y, x)) for x in range(size + 1)] for y in range(size + 1)]
    away, corners = anchored(crossings)
    return Shape(away, corners, _sides(places, corners), (across.growth, down.growth))


def anchored(crossings: Sequence[Sequence[Point]]) -> tuple[tuple[tuple[Point, ...], ...], Corners]:
    """How far crossings lie from the even grid between the outermost four; and how far those lie from their places."""
    size = len(crossings) - 1
    corners = (crossings[0][0], crossings[0][size], crossings[size][size], crossings[size][0])
    away = tuple(
        tuple(_less(point, _between(corners, x / size, y / size)) for x, point in enumerate(row))
        for y, row in enumerate(crossings)
    )
    return away, corners


def _sides(places: Grid, corners: Sequence[Point]) -> tuple[float, float]:
    size = places.size
    ends = ((0, 0), (size, 0), (size, size), (0, size))
    first, second, third, fourth = (
        places.at(x + dx, y + dy) for (x, y), (dx, dy) in zip(ends, corners, strict=True)
    )
    return ((math.dist(first, second) + math.dist(fourth, third)) / 2,
            (math.dist(first, fourth) + math.dist(second, third)) / 2)


def _field(edges: Sequence[Edge], size: int) -> Callable[[int, int], float]:
    """How far a grid line lies from its place at a crossing with lane line `lane`: the median of the edges near it."""
    found: list[list[tuple[int, float]]] = [[] for _ in range(size + 1)]
    for edge in edges:
        found[edge.line].append((edge.lane, edge.away))

    def at(line: int, lane: int) -> float:
        own = found[line]
        if not own:
            return 0.0
        near = [away for place, away in own if lane - NEAR - 1 < place < lane + NEAR]
        return median(near or [min(own, key=lambda item: abs(item[0] + 0.5 - lane))[1]])

    return at


def _between(corners: Sequence[Point], u: float, v: float) -> Point:
    """Between four corners, straight along both ways."""
    shares = ((1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v)
    return (sum(share * point[0] for share, point in zip(shares, corners, strict=True)),
            sum(share * point[1] for share, point in zip(shares, corners, strict=True)))


def _less(point: Point, other: Point) -> Point:
    return point[0] - other[0], point[1] - other[1]


def parameters(shape: Shape, rules: Standard, grade: Callable[[str, float], float]) -> tuple[Parameter, Parameter]:
    """Both as graded parameters."""
    value, confidence = axial(shape, rules)
    off = uneven(shape)
    return (Parameter(AXIAL, value, grade(AXIAL, value), confidence),
            Parameter(UNEVEN, off, grade(UNEVEN, off), rules.confidence(UNEVEN)))
