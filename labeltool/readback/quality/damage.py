"""Damage to what a decoder finds a symbol by: finders, timing lines, alignment patterns, format and version."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from statistics import fmean

from labeltool.readback.quality.grid import Sampled
from labeltool.readback.quality.model import Known, Parameter, Standard
from labeltool.readback.quality.scale import figure, graded, overlaid
from labeltool.symbol.anatomy import Cells, alignments, finders, fixed, formats, timings, versions

FIXED, FORMAT = "fixed-pattern-damage", "format-information"
Bad = Callable[[tuple[int, int]], bool]


def fixed_patterns(known: Known, sampled: Sampled, rules: Standard) -> Parameter:
    """Fixed pattern damage: the lowest of segments A1 to A3, B1, B2 and C; the value is the number of wrong modules."""
    colours = fixed(known.version)

    def wrong(cell: tuple[int, int]) -> bool:
        return sampled.dark(*cell) != colours[cell]

    grade = min(segment_grades(known, sampled, rules).values())
    return Parameter(FIXED, float(sum(map(wrong, colours))), grade, rules.confidence(FIXED))


def segment_grades(known: Known, sampled: Sampled, rules: Standard) -> dict[str, float]:
    """The grade of each segment: A1, A2, A3, B1, B2, and C where the version has alignment patterns."""
    colours = fixed(known.version)
    parts: dict[str, tuple[Cells, Callable[[Sequence[bool]], float]]] = {
        name: (cells, lambda bad: graded(sum(bad), rules.figures["finder_errors"]))
        for name, cells in zip(("A1", "A2", "A3"), finders(known.version), strict=True)
    }
    parts |= {name: (cells, lambda bad: timing_grade(bad, rules))
              for name, cells in zip(("B1", "B2"), timings(known.version), strict=True)}
    if alignments(known.version):
        parts["C"] = (alignments(known.version), lambda bad: graded(fmean(bad), rules.figures["alignment_share"]))
    return {name: _overlaid(cells, of, colours, sampled, rules) for name, (cells, of) in parts.items()}


def timing_grade(bad: Sequence[bool], rules: Standard) -> float:
    """The grade of a timing line: by its share of wrong modules; 0 where too many lie close together."""
    length, most = rules.window
    if any(sum(bad[start:start + length]) > most for start in range(max(1, len(bad) - length + 1))):
        return 0.0
    return graded(fmean(bad), rules.figures["timing_share"])


def information(known: Known, sampled: Sampled, rules: Standard) -> Parameter:
    """Format information, and version information where there is any: the mean of two copies, the lower of the two."""
    groups = [formats(known.version), *([versions(known.version)] if versions(known.version) else [])]
    colours = {cell: known.dark(*cell) for copies in groups for cells in copies for cell in cells}
    wrong = sum(sampled.dark(*cell) != dark for cell, dark in colours.items())

    def of(bad: Sequence[bool]) -> float:
        return graded(sum(bad), rules.figures["bit_errors"])

    grade = min(
        int(10 * fmean(_overlaid(cells, of, colours, sampled, rules) for cells in copies) + 1e-6) / 10
        for copies in groups
    )
    return Parameter(FORMAT, float(wrong), grade, rules.confidence(FORMAT))


def _overlaid(cells: Cells, of: Callable[[Sequence[bool]], float], colours: dict[tuple[int, int], bool],
              sampled: Sampled, rules: Standard) -> float:
    clear = [sampled.modulation(*cell) if sampled.dark(*cell) == colours[cell] else -1.0 for cell in cells]

    def ceiling(step: float) -> float:
        least = figure(step, rules.figures["modulation"]) - 1e-9
        return of([value < least for value in clear])

    return overlaid(ceiling)
