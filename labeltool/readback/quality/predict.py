"""The predicted grade of a symbol from its printer dots and the press that prints them."""

from __future__ import annotations

from dataclasses import dataclass

from labeltool.readback.quality.container import Cylinder, rounded
from labeltool.readback.quality.grading import grade
from labeltool.readback.quality.model import Grade, Known, Picture, Point, Standard
from labeltool.readback.quality.press import Dots, Press, printed

PIXELS = 10  # of the picture, a module


@dataclass(frozen=True, slots=True)
class Seat:
    """Where a symbol stands among dots: left and top of its first module, and the dots of its side."""

    left: float
    top: float
    side: float


def dots_of(rows: tuple[str, ...], dots_a_module: int, dot_mm: float, quiet: int) -> tuple[Dots, Seat]:
    """A symbol and its quiet zone as dots, each module the same whole number of them."""
    side = len(rows) + 2 * quiet
    blank = "0" * side
    framed = [blank] * quiet + ["0" * quiet + row + "0" * quiet for row in rows] + [blank] * quiet
    lines = tuple("".join(cell * dots_a_module for cell in row) for row in framed for _ in range(dots_a_module))
    start = float(quiet * dots_a_module)
    return Dots(lines, dot_mm), Seat(start, start, float(len(rows) * dots_a_module))


def pictured(dots: Dots, seat: Seat, size: int, press: Press) -> tuple[Picture, tuple[Point, Point, Point, Point]]:
    """The print, ten pixels a module, and the corners of the symbol in it."""
    pixel_mm = seat.side * dots.dot_mm / size / PIXELS
    scale = dots.dot_mm / pixel_mm
    left, top, side = seat.left * scale, seat.top * scale, seat.side * scale
    corners = ((left, top), (left + side, top), (left + side, top + side), (left, top + side))
    return printed(dots, press, pixel_mm), corners


def predicted(dots: Dots, seat: Seat, known: Known, press: Press, rules: Standard,
              cylinder: Cylinder | None = None) -> Grade:
    """The predicted grade of a symbol, flat or round a cylinder."""
    picture, corners = pictured(dots, seat, known.size, press)
    if cylinder is None:
        return grade(picture, corners, known, rules)
    module_mm = seat.side * dots.dot_mm / known.size
    return grade(picture, corners, known, rules, lambda shape: rounded(shape, known.size, module_mm, cylinder))
