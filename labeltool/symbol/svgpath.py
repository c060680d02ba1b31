"""SVG path data (SVG 1.1, 8.3) as contours of lines and cubic curves."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator

from labeltool.symbol.pen import Command, Point

_TOKEN = re.compile(r"\s*,?\s*(?:([MmLlHhVvCcSsQqTtAaZz])|([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,3})?))")
_FLAG = re.compile(r"\s*,?\s*([01])")
COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
Contour = list[Command]


def contours(data: str) -> list[Contour]:
    """The closed contours of path data. Raises ValueError where it is not path data."""
    pen = _Pen()
    for name, values in _segments(data):
        pen.draw(name, values)
    return [item for item in pen.found if len(item) > 1]


def _segments(data: str) -> Iterator[tuple[str, list[float]]]:
    at, name = 0, ""
    data = data.strip()
    while at < len(data):
        token = _TOKEN.match(data, at)
        if token is None:
            raise ValueError(f"path data that cannot be read: {data[at:at + 20]!r}")
        if token[1]:
            name, at = token[1], token.end()
            if name in "Zz":
                yield name, []
                continue
        elif name in ("", "Z", "z"):
            raise ValueError("path data without a command")
        values, at = _numbers(data, at, name.upper())
        yield name, values
        name = {"M": "L", "m": "l"}.get(name, name)


def _numbers(data: str, at: int, name: str) -> tuple[list[float], int]:
    values: list[float] = []
    for index in range(COUNTS[name]):
        flag = name == "A" and index in (3, 4)
        token = (_FLAG if flag else _TOKEN).match(data, at)
        text = token[1] if token and flag else token[2] if token else None
        if token is None or text is None:
            raise ValueError(f"too few numbers for {name} in path data")
        values.append(float(text))
        at = token.end()
    return values, at


class _Pen:
    """Draws segments one by one, in absolute cubic curves and lines."""

    def __init__(self) -> None:
        self.found: list[Contour] = []
        self.at: Point = (0.0, 0.0)
        self.begun: Point = (0.0, 0.0)
        self.control: tuple[str, Point] = ("", (0.0, 0.0))

    def draw(self, name: str, values: list[float]) -> None:
        """One segment."""
        upper = name.upper()
        points = self._absolute(name, values)
        before, self.control = self.control, ("", self.at)
        if upper == "M":
            self._move(points[0])
        elif upper == "Z":
            self.at = self.begun
            self.found.append([])
        elif upper in "LHV":
            self._line(points[0])
        elif upper == "A":
            self._arc(values, points[0])
        else:
            self._curve(upper, points, before)

    def _absolute(self, name: str, values: list[float]) -> list[Point]:
        upper, (x, y) = name.upper(), self.at if name.islower() else (0.0, 0.0)
        if upper == "H":
            return [(values[0] + x, self.at[1])]
        if upper == "V":
            return [(self.at[0], values[0] + y)]
        pairs = values[5:] if upper == "A" else values
        return [(pairs[index] + x, pairs[index + 1] + y) for index in range(0, len(pairs), 2)]

    def _move(self, to: Point) -> None:
        self.at = self.begun = to
        self.found.append([("M", *to)])

    def _open(self) -> Contour:
        if not self.found or not self.found[-1]:
            self.found.append([("M", *self.at)])
        return self.found[-1]

    def _line(self, to: Point) -> None:
        self._open().append(("L", *to))
        self.at = to

    def _cubic(self, first: Point, second: Point, to: Point) -> None:
        self._open().append(("C", *first, *second, *to))
        self.at = to

    def _curve(self, name: str, points: list[Point], before: tuple[str, Point]) -> None:
        kind = "cubic" if name in "CS" else "square"
        mirrored = self.at
        if name in "ST" and before[0] == kind:
            mirrored = (2 * self.at[0] - before[1][0], 2 * self.at[1] - before[1][1])
        if name in "ST":
            points = [mirrored, *points]
        if kind == "square":
            (start, control, end) = (self.at, points[0], points[1])
            self._cubic(_toward(start, control, 2 / 3), _toward(end, control, 2 / 3), end)
            self.control = (kind, control)
        else:
            self._cubic(points[0], points[1], points[2])
            self.control = (kind, points[1])

    def _arc(self, values: list[float], to: Point) -> None:
        rx, ry, tilt, large, sweep = abs(values[0]), abs(values[1]), math.radians(values[2]), values[3], values[4]
        if self.at == to:
            return
        if not rx or not ry:
            self._line(to)
            return
        for first, second, end in arc_curves(self.at, to, (rx, ry), tilt, bool(large), bool(sweep)):
            self._cubic(first, second, end)


def _toward(start: Point, to: Point, share: float) -> Point:
    return start[0] + share * (to[0] - start[0]), start[1] + share * (to[1] - start[1])


def arc_curves(
    start: Point, end: Point, radii: Point, tilt: float, large: bool, sweep: bool,
) -> Iterator[tuple[Point, Point, Point]]:
    """An elliptical arc as cubic curves (SVG 1.1, F.6.5 and F.6.6)."""
    cos, sin = math.cos(tilt), math.sin(tilt)
    dx, dy = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    x, y = cos * dx + sin * dy, cos * dy - sin * dx
    grow = max(1.0, math.hypot(x / radii[0], y / radii[1]))
    rx, ry = radii[0] * grow, radii[1] * grow
    rest = max(0.0, 1 / ((x / rx) ** 2 + (y / ry) ** 2) - 1)
    factor = (-1 if large == sweep else 1) * math.sqrt(rest)
    cx, cy = factor * rx * y / ry, -factor * ry * x / rx
    first = math.atan2((y - cy) / ry, (x - cx) / rx)
    turn = math.atan2((-y - cy) / ry, (-x - cx) / rx) - first
    turn += 2 * math.pi if sweep and turn < 0 else -2 * math.pi if not sweep and turn > 0 else 0
    middle = ((start[0] + end[0]) / 2 + cos * cx - sin * cy, (start[1] + end[1]) / 2 + sin * cx + cos * cy)

    def on(across: float, down: float) -> Point:
        return middle[0] + cos * rx * across - sin * ry * down, middle[1] + sin * rx * across + cos * ry * down

    yield from _quarters(on, first, turn)


def _quarters(
    on: Callable[[float, float], Point], first: float, turn: float,
) -> Iterator[tuple[Point, Point, Point]]:
    count = max(1, math.ceil(abs(turn) / (math.pi / 2) - 1e-9))
    step = turn / count
    reach = 4 / 3 * math.tan(step / 4)
    for index in range(count):
        a, b = first + index * step, first + (index + 1) * step
        yield (on(math.cos(a) - reach * math.sin(a), math.sin(a) + reach * math.cos(a)),
               on(math.cos(b) + reach * math.sin(b), math.sin(b) - reach * math.cos(b)),
               on(math.cos(b), math.sin(b)))
