"""A pen for filled contours: lines, elliptical arcs and curves as path commands, and strokes of an even thickness."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

Point = tuple[float, float]
Command = tuple[str | float, ...]
Path = tuple[Command, ...]
_PLACES = 5


@dataclass(slots=True)
class Pen:
    """Collects the commands of closed contours; y runs downwards, angles in degrees run clockwise from the right."""

    commands: list[Command] = field(default_factory=list)

    def move(self, x: float, y: float) -> Pen:
        """Begin a contour."""
        return self._add("M", x, y)

    def line(self, *points: Point) -> Pen:
        """Straight lines through the points."""
        for x, y in points:
            self._add("L", x, y)
        return self

    def curve(self, first: Point, second: Point, end: Point) -> Pen:
        """A cubic curve with two control points."""
        return self._add("C", *first, *second, *end)

    def arc(self, centre: Point, radii: Point, start: float, end: float) -> Pen:
        """An arc of an upright ellipse from angle to angle, begun by a line or, in a new contour, by a move."""
        begin = _on(centre, radii, math.radians(start))
        if not self.commands or self.commands[-1][0] == "Z":
            self.move(*begin)
        else:
            self.line(begin)
        for first, second in pairwise(_quarters(start, end)):
            self._quarter(centre, radii, math.radians(first), math.radians(second))
        return self

    def close(self) -> Pen:
        """End the contour."""
        self.commands.append(("Z",))
        return self

    def polygon(self, points: Iterable[Point]) -> Pen:
        """A closed contour of straight lines."""
        first, *rest = points
        return self.move(*first).line(*rest).close()

    def path(self) -> Path:
        """The commands so far."""
        return tuple(self.commands)

    def _quarter(self, centre: Point, radii: Point, start: float, end: float) -> None:
        reach = 4 / 3 * math.tan((end - start) / 4)
        (x0, y0), (x3, y3) = _on(centre, radii, start), _on(centre, radii, end)
        self.curve(
            (x0 - reach * radii[0] * math.sin(start), y0 + reach * radii[1] * math.cos(start)),
            (x3 + reach * radii[0] * math.sin(end), y3 - reach * radii[1] * math.cos(end)),
            (x3, y3),
        )

    def _add(self, name: str, *numbers: float) -> Pen:
        self.commands.append((name, *(round(number, _PLACES) + 0.0 for number in numbers)))
        return self


def _quarters(start: float, end: float) -> list[float]:
    """The angles from start to end with every multiple of 90 between, so that controls stay in the ellipse's box."""
    low, high = min(start, end), max(start, end)
    between = [float(angle) for angle in range(-720, 721, 90) if low < angle < high]
    return [start, *(between if start < end else reversed(between)), end]


def _on(centre: Point, radii: Point, angle: float) -> Point:
    return centre[0] + radii[0] * math.cos(angle), centre[1] + radii[1] * math.sin(angle)


def smooth(points: Sequence[Point], *, closed: bool = False, steps: int = 8) -> list[Point]:
    """Points of a curve through all given points (Catmull-Rom); a point given twice in a row stays a corner."""
    count = len(points)
    out: list[Point] = []
    for index in range(count if closed else count - 1):
        p1, p2 = points[index], points[(index + 1) % count]
        if p1 == p2:
            continue
        p0 = points[index - 1] if closed or index else p1
        p3 = points[(index + 2) % count] if closed or index + 2 < count else p2
        out += [_between(p0, p1, p2, p3, step / steps) for step in range(steps)]
    return out if closed else [*out, points[-1]]


def _between(p0: Point, p1: Point, p2: Point, p3: Point, t: float) -> Point:
    def along(a: float, b: float, c: float, d: float) -> float:
        return b + t * ((c - a) / 2 + t * (a - 2.5 * b + 2 * c - d / 2 + t * (1.5 * (b - c) + (d - a) / 2)))

    return along(p0[0], p1[0], p2[0], p3[0]), along(p0[1], p1[1], p2[1], p3[1])


def bezier(p0: Point, p1: Point, p2: Point, p3: Point, t: float) -> Point:
    """The point of a cubic curve at t from 0 to 1."""
    s = 1 - t
    weights = (s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t)
    points = (p0, p1, p2, p3)
    return (
        sum(weight * point[0] for weight, point in zip(weights, points, strict=True)),
        sum(weight * point[1] for weight, point in zip(weights, points, strict=True)),
    )


def shifted(points: Sequence[Point], distance: float, *, closed: bool = False) -> list[Point]:
    """The line moved sideways by a distance (to its right, as y runs downwards), mitred at the joins."""
    count = len(points)
    out = []
    for index, point in enumerate(points):
        before = points[index - 1] if closed or index else None
        after = points[(index + 1) % count] if closed or index + 1 < count else None
        out.append(_mitred(before, point, after, distance))
    return out


def _mitred(before: Point | None, point: Point, after: Point | None, distance: float) -> Point:
    normals = [_normal(a, b) for a, b in ((before, point), (point, after)) if a is not None and b is not None]
    x, y = sum(item[0] for item in normals), sum(item[1] for item in normals)
    length = math.hypot(x, y)
    reach = distance / max(0.4, length / len(normals)) / length
    return point[0] + reach * x, point[1] + reach * y


def _normal(a: Point, b: Point) -> Point:
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = math.hypot(dx, dy)
    return -dy / length, dx / length
