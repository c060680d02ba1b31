"""Where the modules of a symbol lie in a picture, and what the scanner's aperture sees there."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from labeltool.readback.quality.model import Picture, Point


@dataclass(frozen=True, slots=True)
class Grid:
    """From module places (0 to `size` across the symbol) to pixels: the projective map through four corners.

    `corners`: of the dark square, from the first module's clockwise: top left, top right, bottom right, bottom left.
    """

    size: int
    corners: tuple[Point, Point, Point, Point]
    terms: tuple[float, ...]

    def at(self, x: float, y: float) -> Point:
        """A place in pixels."""
        a, b, c, d, e, f, g, h = self.terms
        u, v = x / self.size, y / self.size
        below = g * u + h * v + 1
        return (a * u + b * v + c) / below, (d * u + e * v + f) / below

    @property
    def sides(self) -> tuple[float, float]:
        """The mean length across and down, pixels."""
        first, second, third, fourth = self.corners
        return ((math.dist(first, second) + math.dist(fourth, third)) / 2,
                (math.dist(first, fourth) + math.dist(second, third)) / 2)


def grid(size: int, corners: Sequence[Point]) -> Grid:
    """The map of the unit square onto four corners (Heckbert's closed form)."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    dx1, dx2, sx = x1 - x2, x3 - x2, x0 - x1 + x2 - x3
    dy1, dy2, sy = y1 - y2, y3 - y2, y0 - y1 + y2 - y3
    below = dx1 * dy2 - dx2 * dy1
    if abs(below) < 1e-9:
        raise ValueError("the corners do not span an area")
    g, h = (sx * dy2 - dx2 * sy) / below, (dx1 * sy - sx * dy1) / below
    terms = (x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h)
    return Grid(size, ((x0, y0), (x1, y1), (x2, y2), (x3, y3)), terms)


@dataclass(frozen=True, slots=True)
class Sampled:
    """The light in the aperture at every module's middle, quiet zone included, 0 to 1."""

    values: tuple[tuple[float, ...], ...]
    quiet: int
    highest: float
    lowest: float

    def at(self, x: int, y: int) -> float:
        """The light at a module; the quiet zone's have places below 0 or beyond the size."""
        return self.values[y + self.quiet][x + self.quiet]

    @property
    def contrast(self) -> float:
        """Rmax - Rmin."""
        return self.highest - self.lowest

    @property
    def threshold(self) -> float:
        """The global threshold, midway between the two."""
        return (self.highest + self.lowest) / 2

    def modulation(self, x: int, y: int) -> float:
        """How far a module stands from the threshold, by half the contrast: 0 to 1."""
        return 2 * abs(self.at(x, y) - self.threshold) / self.contrast if self.contrast > 0 else 0.0

    def dark(self, x: int, y: int) -> bool:
        """Whether a module reads as dark."""
        return self.at(x, y) < self.threshold


Moves = Callable[[int, int], Point]


def _still(_x: int, _y: int) -> Point:
    return 0.0, 0.0


def sample(picture: Picture, places: Grid, aperture: float, quiet: int, moved: Moves = _still) -> Sampled:
    """What a round aperture of `aperture` modules sees at each module's middle and `quiet` modules around.

    `moved`: how far a module's middle lies from its place, modules.
    """
    radius = aperture * sum(places.sides) / (4 * places.size)
    span = range(-quiet, places.size + quiet)
    values = tuple(
        tuple(seen(picture, *places.at(x + 0.5 + dx, y + 0.5 + dy), radius) for x in span for dx, dy in (moved(x, y),))
        for y in span
    )
    return Sampled(values, quiet, max(map(max, values)), min(map(min, values)))


def seen(picture: Picture, x: float, y: float, radius: float) -> float:
    """The mean light, 0 to 1, of the pixels whose middles lie within a circle; the nearest pixel where none does."""
    total = count = 0
    for row in range(max(0, math.ceil(y - radius - 0.5)), min(picture.height, math.floor(y + radius + 0.5))):
        half = math.sqrt(max(0.0, radius * radius - (row + 0.5 - y) ** 2))
        left = max(0, math.ceil(x - half - 0.5))
        right = min(picture.width, math.floor(x + half - 0.5) + 1)
        if right > left:
            base = row * picture.width
            total += sum(picture.pixels[base + left:base + right])
            count += right - left
    if not count:
        column = min(max(int(x), 0), picture.width - 1)
        return picture.pixels[min(max(int(y), 0), picture.height - 1) * picture.width + column] / 255
    return total / count / 255
