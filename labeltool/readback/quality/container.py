"""A symbol round a cylinder: where its grid is seen from the front, a little from aside and above, from far away."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from labeltool.readback.quality.model import Point
from labeltool.readback.quality.uniformity import Shape, anchored


@dataclass(frozen=True, slots=True)
class Cylinder:
    """What a label goes round, and how far from square it is looked at: aside and above, degrees."""

    diameter_mm: float
    view_deg: float


@dataclass(frozen=True, slots=True)
class View:
    """A symbol of `size` modules round a cylinder of `radius` modules, its middle before the eye but for two angles."""

    size: int
    radius: float
    aside: float
    above: float

    def seen(self, place: Point) -> Point:
        """Where a place of the flat symbol is seen, modules; the middle stays where it is."""
        middle = self.size / 2
        angle = max(-math.pi / 2, min(math.pi / 2, (place[0] - middle) / self.radius + self.aside))
        across = self.radius * (math.sin(angle) - math.sin(self.aside)) / math.cos(self.aside)
        down = self.radius * (math.cos(self.aside) - math.cos(angle)) * math.tan(self.above)
        return middle + across, place[1] + down


def rounded(shape: Shape, size: int, module_mm: float, cylinder: Cylinder) -> Shape:
    """The grid of a flat print as it is seen on its container."""
    angle = math.radians(cylinder.view_deg)
    view = View(size, cylinder.diameter_mm / 2 / module_mm, angle, angle)
    lines = range(size + 1)
    crossings = [[_added(shape.away[y][x], view.seen((x, y)), (x, y)) for x in lines] for y in lines]
    away, corners = anchored(crossings)
    across = _length(corners, size, down=False) / size * shape.sides[0]
    down = _length(corners, size, down=True) / size * shape.sides[1]
    return replace(shape, away=away, sides=(across, down))


def _added(away: Point, seen: Point, place: Point) -> Point:
    return away[0] + seen[0] - place[0], away[1] + seen[1] - place[1]


def _length(corners: tuple[Point, Point, Point, Point], size: int, *, down: bool) -> float:
    """The mean length of two sides as seen, modules."""
    ends = ((0, 0), (size, 0), (size, size), (0, size))
    at = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(ends, corners, strict=True)]
    pairs = ((0, 3), (1, 2)) if down else ((0, 1), (3, 2))
    return sum(math.dist(at[a], at[b]) for a, b in pairs) / 2
