"""A plot of pH over additions as places on a small drawing; the template makes SVG of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

WIDTH, HEIGHT = 560, 300
LEFT, RIGHT, TOP, BOTTOM = 48, 20, 16, 44
_LEAST_SPAN_PH = Fraction(1)
_MOST_TICKS = 6


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on an axis: its place and its words."""

    at: float
    text: str


@dataclass(frozen=True, slots=True)
class Dot:
    """A reading on the drawing and its words."""

    x: float
    y: float
    text: str


@dataclass(frozen=True, slots=True)
class Plot:
    """The drawing. `band`: top and height of the release range, or None. `told` says it in words."""

    width: int
    height: int
    left: int
    right: int
    top: int
    bottom: int
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    dots: tuple[Dot, ...]
    band: tuple[float, float] | None
    told: str

    @property
    def line(self) -> str:
        """The points of the line through all dots."""
        return " ".join(f"{dot.x},{dot.y}" for dot in self.dots)


def plot(points: Sequence[tuple[Decimal, Decimal]], span: tuple[Decimal, Decimal] | None) -> Plot | None:
    """The drawing of (grams added, pH) readings with the release range; None without a reading."""
    if not points:
        return None
    grams, values = [Fraction(one) for one, _ in points], [Fraction(two) for _, two in points]
    x_ticks = _steps(Fraction(0), max(grams) or Fraction(1))
    y_ticks = _steps(*_around([*values, *map(Fraction, span or ())]))
    x, y = _Scale(x_ticks, LEFT, WIDTH - RIGHT), _Scale(y_ticks, HEIGHT - BOTTOM, TOP)
    dots = tuple(Dot(x(one), y(two), f"pH {ph} at {added} g") for one, two, (added, ph)
                 in zip(grams, values, points, strict=True))
    band = (y(Fraction(span[1])), round(y(Fraction(span[0])) - y(Fraction(span[1])), 1)) if span else None
    across = tuple(Tick(x(at), _text(at)) for at in x_ticks)
    up = tuple(Tick(y(at), _text(at)) for at in y_ticks)
    return Plot(WIDTH, HEIGHT, LEFT, WIDTH - RIGHT, TOP, HEIGHT - BOTTOM, across, up, dots, band,
                "; ".join(dot.text for dot in dots))


def _around(values: Sequence[Fraction]) -> tuple[Fraction, Fraction]:
    low, high = min(values), max(values)
    spare = max((high - low) / 8, (_LEAST_SPAN_PH - (high - low)) / 2)
    return low - spare, high + spare


def _steps(low: Fraction, high: Fraction) -> tuple[Fraction, ...]:
    """Round figures from at or below `low` to at or above `high`, six or fewer apart."""
    rough = (high - low) / (_MOST_TICKS - 1)
    power = Fraction(10) ** math.floor(math.log10(rough))
    step = next(power * factor for factor in (1, 2, 5, 10, 20) if power * factor >= rough)
    first, last = math.floor(low / step), math.ceil(high / step)
    return tuple(step * number for number in range(first, last + 1))


def _text(value: Fraction) -> str:
    return f"{float(value):.10g}"


class _Scale:
    """Places of values between two ends of an axis."""

    def __init__(self, ticks: Sequence[Fraction], start: int, end: int) -> None:
        self.low, self.span = ticks[0], ticks[-1] - ticks[0]
        self.start, self.length = start, end - start

    def __call__(self, value: Fraction) -> float:
        return round(float(self.start + (value - self.low) / self.span * self.length), 1)
