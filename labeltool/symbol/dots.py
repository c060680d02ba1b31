"""Whole printer dots: a module that is not a whole number of dots prints uneven bars."""

from __future__ import annotations

import math

INCH_MM = 25.4
LEAST_DOTS = 3
LEAST_MM = 0.33
WISH_MM = 0.38
_ROUNDING = 1e-9


def dot_mm(dpi: float) -> float:
    """The side of one printer dot, mm."""
    return INCH_MM / dpi


def least_dots(dpi: float, least_mm: float = LEAST_MM) -> int:
    """The fewest whole dots that make a module of `least_mm`; never under three."""
    return max(LEAST_DOTS, math.ceil(least_mm / dot_mm(dpi) - _ROUNDING))


def module_dots(dpi: float, wish_mm: float = WISH_MM, least_mm: float = LEAST_MM) -> int:
    """Dots a module: the whole number nearest to `wish_mm`, but never under `least_mm` and never under three."""
    return max(least_dots(dpi, least_mm), math.floor(wish_mm / dot_mm(dpi) + 0.5))


def module_mm(dpi: float, wish_mm: float = WISH_MM, least_mm: float = LEAST_MM) -> float:
    """The side of such a module, mm."""
    return module_dots(dpi, wish_mm, least_mm) * dot_mm(dpi)


def dots_that_fit(dpi: float, modules: int, room_mm: float) -> int:
    """The most whole dots a module that keep `modules` (quiet zone included) within `room_mm`; 0 where none does."""
    return max(0, math.floor(room_mm / (modules * dot_mm(dpi)) + _ROUNDING))


def snap_mm(value_mm: float, dpi: float) -> float:
    """The nearest place on the dot grid, mm."""
    return math.floor(value_mm / dot_mm(dpi) + 0.5) * dot_mm(dpi)
