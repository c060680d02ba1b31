"""Where ink may lie on a label of any shape: the outline drawn in by a margin, and its chords."""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

STEPS = 720  # points a quarter of an oval's inner line


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle, mm, y downwards."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Width, mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height, mm."""
        return self.bottom - self.top

    def inset(self, by: float) -> Rect:
        """The rectangle drawn in on all sides."""
        return Rect(self.left + by, self.top + by, self.right - by, self.bottom - by)

    def meets(self, other: Rect, slack: float = 1e-6) -> bool:
        """Whether two rectangles share more than an edge."""
        return (self.left < other.right - slack and other.left < self.right - slack
                and self.top < other.bottom - slack and other.top < self.bottom - slack)


@dataclass(frozen=True, slots=True)
class Region:
    """The inside of a label at least `inset` mm away from its edge. A round label that is not square counts as oval."""

    shape: Literal["rectangle", "round", "oval"]
    width: float
    height: float
    corner: float
    inset: float

    @property
    def box(self) -> Rect:
        """The rectangle around it."""
        return Rect(0, 0, self.width, self.height).inset(self.inset)

    def chord(self, top: float, bottom: float) -> tuple[float, float]:
        """The left and right ends of what is inside all the way from y `top` to `bottom`; left > right: nothing."""
        if self.shape == "rectangle" and self.corner <= self.inset:
            half, away = self.width / 2 - self.inset, max(abs(top - self.height / 2), abs(bottom - self.height / 2))
            half = half if away <= self.height / 2 - self.inset + 1e-9 else -1.0
        else:
            half = min(self._half(top), self._half(bottom))
        return self.width / 2 - half, self.width / 2 + half

    def holds(self, rect: Rect) -> bool:
        """Whether a rectangle lies inside."""
        left, right = self.chord(rect.top, rect.bottom)
        return left <= rect.left + 1e-6 and rect.right <= right + 1e-6

    def _half(self, y: float) -> float:
        """Half the chord at one height, mm; negative outside."""
        away = abs(y - self.height / 2)
        if self.shape == "rectangle":
            return self._half_of_rectangle(away)
        heights, halves = _quarter(self.width / 2, self.height / 2, self.inset)
        if away > heights[-1] + 1e-9:
            return -1.0
        return halves[min(bisect_left(heights, away), len(halves) - 1)]

    def _half_of_rectangle(self, away: float) -> float:
        half_width, half_height = self.width / 2 - self.inset, self.height / 2 - self.inset
        if away > half_height + 1e-9:
            return -1.0
        radius = max(0.0, self.corner - self.inset)
        into = away - (half_height - radius)
        if into <= 0:
            return half_width
        return half_width - radius + math.sqrt(max(0.0, radius * radius - into * into))


@lru_cache(maxsize=64)
def _quarter(a: float, b: float, inset: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The inner parallel of an ellipse as (heights, half chords): heights rise, no chord is too long."""
    points = []
    for step in range(STEPS + 1):
        angle = math.pi / 2 * step / STEPS
        x, y = a * math.cos(angle), b * math.sin(angle)
        nx, ny = b * math.cos(angle), a * math.sin(angle)
        length = math.hypot(nx, ny)
        points.append((y - inset * ny / length, x - inset * nx / length))
    points = [point for point in points if point[0] >= -1e-9 and point[1] >= -1e-9] or [(0.0, -1.0)]
    points.sort()
    halves = [half for _, half in points]
    for index in range(1, len(halves)):
        halves[index] = min(halves[index], halves[index - 1])
    return tuple(height for height, _ in points), tuple(halves)
