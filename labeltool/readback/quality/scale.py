"""From a parameter's value to its grade, and from a grade to its letter (ISO/IEC 15415)."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from labeltool.readback.quality.model import LOWEST, TOP, Standard

STEPS = tuple(step / 10 for step in range(40, 9, -1))  # 4.0, 3.9 … 1.0
_ROUNDING = 1e-9


def standard(table: Mapping[str, Any]) -> Standard:
    """The table of package data as a value."""
    parameters = table["parameter"]
    damage = parameters["fixed-pattern-damage"]
    figures = {name: tuple(item["figures"]) for name, item in parameters.items() if "figures" in item} | {
        name: tuple(damage[name]) for name in ("finder_errors", "timing_share", "alignment_share")
    } | {"bit_errors": tuple(parameters["format-information"]["bit_errors"])}
    window = damage["timing_window"]
    return Standard(
        parameters, figures, tuple(table["letters"].items()), table["aperture_modules"], table["quiet_modules"],
        parameters["unused-error-correction"]["misdecode"], (window["length"], window["errors"]),
        table["wanted"]["grade"],
    )


def graded(value: float, figures: Sequence[float]) -> float:
    """The grade of a value, 4.0 to 1.0 between the figures of grades 4, 3, 2, 1, else 0: one decimal, rounded down.

    The figures fall where more is better (contrast), and rise where less is (damage).
    """
    sign = 1 if figures[0] > figures[-1] else -1
    marks = [sign * figure for figure in figures]
    at = sign * value
    if at >= marks[0] - _ROUNDING:
        return TOP
    for index, low in enumerate(marks[1:], 1):
        if at >= low - _ROUNDING:
            share = (at - low) / (marks[index - 1] - low)
            return math.floor((TOP - index + share) * 10 + 1e-6) / 10
    return LOWEST


def figure(grade: float, figures: Sequence[float]) -> float:
    """The value that a grade from 4.0 down to 1.0 begins at."""
    index = min(len(figures) - 2, int(TOP - grade))
    share = TOP - index - grade
    return figures[index] + (figures[index + 1] - figures[index]) * share


def overlaid(ceiling: Callable[[float], float], steps: Iterable[float] = STEPS) -> float:
    """The overlay of ISO/IEC 15415: the best of min(level, what the symbol is worth with all below it lost)."""
    best = LOWEST
    for step in steps:
        if step <= best:
            break
        best = max(best, min(step, ceiling(step)))
    return best


def letter(grade: float, letters: Sequence[tuple[str, float]]) -> str:
    """The letter of a grade."""
    return next((name for name, least in letters if grade >= least - _ROUNDING), "F")
