"""Where the edges between modules really lie: axial and grid non-uniformity, and print growth."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean, median

from labeltool.readback.quality.grid import Grid
from labeltool.readback.quality.model import Known, Parameter, Picture, Point, Standard

AXIAL, UNEVEN = "axial-non-uniformity", "grid-non-uniformity"
STEPS = 20  # samples a module
NEAR = 3  # modules whose edges tell where a crossing lies


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge on grid line `line`, in lane `lane` (a row or column), `away` modules from the line; dark before it?"""

    line: int
    lane: int
    away: float
    falling: bool  # from dark to light


@dataclass(frozen=True, slots=True)
class Shape:
    """How far each grid crossing lies from the ideal grid, modules; its sides; the growth of dark modules."""

    away: tuple[tuple[Point, ...], ...]
    sides: tuple[float, float]
    growth: tuple[float, float]


def axial(shape: Shape, rules: Standard) -> tuple[float, str]:
    """Axial non-uniformity: the difference of the mean spacings across and down by their mean; and its confidence."""
    across, down = shape.sides
    return abs(across - down) / ((across + down) / 2), rules.confidence(AXIAL)


def uneven(shape: Shape) -> float:
    """Grid non-uniformity: the largest distance of a crossing from the ideal grid, modules."""
    return max(math.hypot(x, y) for row in shape.away for x, y in row)


def measure(picture: Picture, places: Grid, known: Known, threshold: float) -> Shape:
    """Find all edges and from them each crossing, against the even grid between the symbol's own corners."""
    across = list(_edges(picture, places, known, threshold, down=False))
    down = list(_edges(picture, places, known, threshold, down=True))
    growth = (_growth(across), _growth(down))
    fields = [_field(_even(edges, grown), known.size) for edges, grown in zip((across, down), growth, strict=True)]
    size = known.size
    crossings = [[(fields[0](x, y), fields[1](y, x)) for x in range(size + 1)] for y in range(size + 1)]
    corners = (crossings[0][0], crossings[0][size], crossings[size][size], crossings[size][0])
    away = tuple(
        tuple(_less(point, _between(corners, x / size, y / size)) for x, point in enumerate(row))
        for y, row in enumerate(crossings)
    )
    return Shape(away, _sides(places, corners), growth)


def _sides(places: Grid, corners: Sequence[Point]) -> tuple[float, float]:
    size = places.size
    ends = ((0, 0), (size, 0), (size, size), (0, size))
    first, second, third, fourth = (
        places.at(x + dx, y + dy) for (x, y), (dx, dy) in zip(ends, corners, strict=True)
    )
    return ((math.dist(first, second) + math.dist(fourth, third)) / 2,
            (math.dist(first, fourth) + math.dist(second, third)) / 2)


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


def _even(edges: Sequence[Edge], growth: float) -> list[Edge]:
    """The edges with the growth taken out."""
    return [Edge(edge.line, edge.lane, edge.away - (growth if edge.falling else -growth) / 2, edge.falling)
            for edge in edges]


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
