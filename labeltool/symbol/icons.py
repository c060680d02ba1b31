"""The drawn symbols of a label as filled outlines of our own making, one height tall.

Which symbol means what: open jar, hourglass and hand on book are those of Regulation (EC) No 1223/2009, Annex VII;
the estimated sign is that of Directive 76/211/EEC, Annex I, 3.3, and Directive 2009/34/EC, Annex II, 3. Their forms
are drawn here from memory of the published figures; `stem` is the stroke as a share of the height.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

from labeltool.symbol.book import hand_on_book
from labeltool.symbol.model import Drawn
from labeltool.symbol.pen import Command, Pen, Point, bezier, shifted

LEAST_STEM, MOST_STEM = 0.03, 0.12


@lru_cache(maxsize=256)
def drawn(name: str, stem: float) -> Drawn:
    """A symbol by name: "open-jar", "hourglass", "hand-on-book" or "e-mark". Raises KeyError for another.

    `stem` (stroke over height) is kept within 0.03 to 0.12; the estimated sign has a form of its own and ignores it.
    """
    return _filling(_SYMBOLS[name](min(MOST_STEM, max(LEAST_STEM, stem))))


def _filling(symbol: Drawn) -> Drawn:
    """The symbol moved and scaled so that its ink fills the unit height and its width exactly."""
    xs = [number for command in symbol.path for number in command[1::2]]
    ys = [number for command in symbol.path for number in command[2::2]]
    left, top = min(map(float, xs)), min(map(float, ys))
    scale = 1 / (max(map(float, ys)) - top)

    def moved(command: Command) -> Command:
        numbers = [float(number) for number in command[1:]]
        return (command[0], *(round((number - (top if index % 2 else left)) * scale, 5) + 0.0
                              for index, number in enumerate(numbers)))

    box = symbol.label_box
    return Drawn(
        symbol.name, round((max(map(float, xs)) - left) * scale, 5), tuple(moved(item) for item in symbol.path),
        None if box is None else ((box[0] - left) * scale, (box[1] - top) * scale, box[2] * scale, box[3] * scale),
    )


def open_jar(stem: float) -> Drawn:
    """A jar with an open mouth, its lid lifted off; the months stand in the jar."""
    half, mouth, lip, turn = 0.40, 0.43, 0.085, 0.12
    middle, width = 0.43, 0.86
    inner, inner_turn, low = half - stem, max(0.03, turn - stem), mouth + stem
    pen = Pen()
    _vessel(pen, (middle, mouth), (half, lip), 1, turn, over=True)
    pen.arc((middle, mouth), (inner, lip - stem * 0.75), 0, 360).close()
    _vessel(pen, (middle, low), (inner, lip), 1 - stem, inner_turn, over=False)
    _lid(pen, middle, half + 0.02, stem)
    top = low + lip
    return Drawn("open-jar", width, pen.path(), (middle - inner, top, 2 * inner, 1 - stem - top))


def _vessel(pen: Pen, mouth: Point, radii: Point, foot: float, turn: float, *, over: bool) -> None:
    """Half an ellipse above (`over`) or below the mouth's line, upright sides, round corners at the foot."""
    x = mouth[0]
    pen.arc(mouth, radii, 180, 360 if over else 0)
    pen.arc((x + radii[0] - turn, foot - turn), (turn, turn), 0, 90)
    pen.arc((x - radii[0] + turn, foot - turn), (turn, turn), 90, 180).close()


def _lid(pen: Pen, middle: float, half: float, stem: float) -> None:
    """A flat lid, tilted, seen from above: a solid side and the rim of its top."""
    rise, thick, tilt = 0.08, 0.08, math.radians(-9)
    cos, sin = math.cos(tilt), math.sin(tilt)

    def turned(points: list[Point]) -> list[Point]:
        return [(middle + x * cos - y * sin, 0.145 + x * sin + y * cos) for x, y in points]

    def ellipse(rx: float, ry: float, start: int, end: int, down: float) -> list[Point]:
        angles = (math.radians(angle) for angle in range(start, end + 1, 6))
        return [(rx * math.cos(angle), ry * math.sin(angle) + down) for angle in angles]

    pen.polygon(turned([*ellipse(half, rise, 180, 360, 0), *ellipse(half, rise, 0, 180, thick)]))
    pen.polygon(turned(ellipse(half - stem, rise - stem * 0.75, 0, 354, 0)))


def hourglass(stem: float) -> Drawn:
    """An hourglass half run out, between two bars."""
    width, bar, middle = 0.64, stem * 1.2, 0.32
    wall = _glass(middle, 0.25, stem * 0.8, bar)
    right = [*wall, *((x, 1 - y) for x, y in reversed(wall[:-1]))]
    left = [(width - x, y) for x, y in reversed(right)]
    pen = Pen().polygon([(0, 0), (width, 0), (width, bar), *right, (width, 1 - bar), (width, 1),
                         (0, 1), (0, 1 - bar), *left, (0, bar)])
    inner = shifted(wall, stem)
    air = [point for point in inner if point[1] <= 0.25]
    pen.polygon([*air, (middle, air[-1][1] + 0.03), *((width - x, y) for x, y in reversed(air))])
    below = [(x, 1 - y) for x, y in inner if x >= middle + stem * 0.2 and y >= 0.14]
    heap = below[0][1]
    pen.polygon([*below, *((width - x, y) for x, y in reversed(below)), (middle, heap - 0.15)])
    return Drawn("hourglass", width, pen.path())


def _glass(middle: float, half: float, neck: float, top: float) -> list[Point]:
    """The right outer wall of the upper bulb, from the bar to the neck at half height."""
    start, first, second, end = (middle + half, top), (middle + half, 0.32), (middle + neck, 0.33), (middle + neck, 0.5)
    return [bezier(start, first, second, end, step / 24) for step in range(25)]


def estimated_sign(_stem: float) -> Drawn:
    """The estimated sign: an ellipse wider than tall, upright inner sides, a thin bar across."""
    width, bar_top, bar_low, left = 1.1, 0.466, 0.512, 0.2
    centre, outer, inner, tail = (width / 2, 0.5), (width / 2, 0.5), (0.492, 0.455), 0.314
    side = math.degrees(math.acos((centre[0] - left) / inner[0]))
    end_in, end_out = (math.degrees(math.asin(tail / radii[1])) for radii in (inner, outer))
    pen = Pen().move(width, bar_low).line((left, bar_low))
    pen.arc(centre, inner, 180 - side, end_in).arc(centre, outer, end_out, 360).close()
    pen.move(left, bar_top).arc(centre, inner, 180 + side, 360 - side).line((width - left, bar_top)).close()
    return Drawn("e-mark", width, pen.path())


_SYMBOLS: dict[str, Callable[[float], Drawn]] = {
    "open-jar": open_jar, "hourglass": hourglass, "hand-on-book": hand_on_book, "e-mark": estimated_sign,
}
