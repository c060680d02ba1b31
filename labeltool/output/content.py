"""Page content as PDF operators (ISO 32000-1, 8.5 and 9): shapes, symbols, places. Points, y upwards."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator

from labeltool.typeset.frame import Modules, Outline, Rule, TextRun

POINTS_PER_MM = 72 / 25.4
HAIR_PT = 0.0002
_RUNS = re.compile("1+")
_OPERATORS = {"M": "m", "L": "l", "C": "c", "Z": "h"}


def points(mm: float) -> float:
    """Millimetres in points."""
    return mm * POINTS_PER_MM


def number(value: float) -> str:
    """A number as PDF writes it: at most five places, no exponent."""
    text = f"{value:.5f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def numbers(*values: float) -> str:
    """Several numbers with spaces between."""
    return " ".join(map(number, values))


def outline(item: Outline, height_mm: float) -> str:
    """A filled outline, even-odd, on a label of the given height."""
    return " ".join([*_path(item.path, height_mm), "f*"])


def _path(commands: Iterable[tuple[str | float, ...]], height_mm: float) -> Iterator[str]:
    for name, *values in commands:
        flat = [
            points(height_mm - float(value)) if index % 2 else points(float(value))
            for index, value in enumerate(values)
        ]
        yield " ".join([*map(number, flat), _OPERATORS[str(name)]])


def rule(item: Rule, height_mm: float) -> str:
    """A filled rectangle, a hair smaller, so that rounding never lets it touch one more printer dot."""
    low = height_mm - item.y_mm - item.height_mm
    x, y, width, height = map(points, (item.x_mm, low, item.width_mm, item.height_mm))
    return f"{numbers(x + HAIR_PT, y + HAIR_PT, width - 2 * HAIR_PT, height - 2 * HAIR_PT)} re f"


def modules(item: Modules, height_mm: float) -> str:
    """A QR symbol: runs of dark modules as rectangles in whole module units under one matrix, with one fill."""
    side = points(item.module_mm)
    matrix = numbers(side, 0, 0, -side, points(item.x_mm), points(height_mm - item.y_mm))
    bars = " ".join(
        f"{run.start()} {line} {len(run.group())} 1 re"
        for line, row in enumerate(item.rows) for run in _RUNS.finditer(row)
    )
    return f"q {matrix} cm {bars} f Q"


def text_matrix(item: TextRun, height_mm: float) -> tuple[float, float, float, float, float, float]:
    """The text matrix of a run: turned clockwise by its angle about the start of its baseline."""
    angle = math.radians(item.angle_deg)
    cos, sin = round(math.cos(angle), 7) + 0.0, round(math.sin(angle), 7) + 0.0
    return cos, 0.0 - sin, sin, cos, points(item.x_mm), points(height_mm - item.y_mm)


def placement(form: str, x_mm: float, y_mm: float, label_height_mm: float, page_height_mm: float) -> str:
    """A form drawn with its top left corner at (x, y)."""
    shift = numbers(points(x_mm), points(page_height_mm - y_mm - label_height_mm))
    return f"q 1 0 0 1 {shift} cm /{form} Do Q"
