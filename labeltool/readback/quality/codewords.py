"""Modulation, reflectance margin and unused error correction: graded by codeword and block."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from labeltool.readback.quality.grid import Sampled
from labeltool.readback.quality.model import Known, Parameter, Standard
from labeltool.readback.quality.scale import STEPS, figure, graded, overlaid
from labeltool.symbol.anatomy import Cells, block_of, codewords

UNUSED = "unused-error-correction"


@dataclass(frozen=True, slots=True)
class Repair:
    """How much a symbol's blocks can mend: correction codewords of each, those kept against misreading taken off."""

    spare: tuple[int, ...]
    blocks: tuple[int, ...]

    @classmethod
    def of(cls, known: Known, rules: Standard) -> Repair:
        """The blocks of a symbol."""
        kept = rules.misdecode.get(f"{known.version}-{known.level}", 0)
        return cls(tuple(total - data - kept for total, data in known.blocks), block_of(known.blocks))

    def unused(self, wrong: Iterable[bool]) -> float:
        """The share of error correction left in the worst block, 1 to 0; below 0 where it cannot be mended."""
        counts = [0] * len(self.spare)
        for block, bad in zip(self.blocks, wrong, strict=True):
            counts[block] += bad
        return min(1 - 2 * count / spare for count, spare in zip(counts, self.spare, strict=True))


def correction(known: Known, sampled: Sampled, rules: Standard) -> Parameter:
    """Unused error correction: 1 - 2t / (d - p) of the worst block, t codewords with a module of the wrong colour."""
    wrong = [any(sampled.dark(*cell) != known.dark(*cell) for cell in cells) for cells in codewords(known.version)]
    value = Repair.of(known, rules).unused(wrong)
    return Parameter(UNUSED, value, graded(value, rules.figures[UNUSED]), rules.confidence(UNUSED))


def modulation(known: Known, sampled: Sampled, rules: Standard) -> Parameter:
    """Modulation: how clearly modules stand off the threshold, whatever their colour."""
    return _codewise("modulation", known, rules, lambda cell: sampled.modulation(*cell))


def margin(known: Known, sampled: Sampled, rules: Standard) -> Parameter:
    """Reflectance margin: as modulation, but nothing for a module of the wrong colour."""

    def of(cell: tuple[int, int]) -> float:
        return sampled.modulation(*cell) if sampled.dark(*cell) == known.dark(*cell) else 0.0

    return _codewise("reflectance-margin", known, rules, of)


def _codewise(name: str, known: Known, rules: Standard, of: Callable[[tuple[int, int]], float]) -> Parameter:
    worst = [_worst(cells, of) for cells in codewords(known.version)]
    grade = by_codeword(worst, Repair.of(known, rules), rules.figures[name], rules.figures[UNUSED])
    return Parameter(name, min(worst), grade, rules.confidence(name))


def _worst(cells: Cells, of: Callable[[tuple[int, int]], float]) -> float:
    return min(of(cell) for cell in cells)


def by_codeword(worst: Sequence[float], repair: Repair, figures: Sequence[float], unused: Sequence[float]) -> float:
    """The grade from each codeword's worst module: codewords below a level count as errors against it."""

    def ceiling(step: float) -> float:
        least = figure(step, figures) - 1e-9
        return graded(repair.unused(value < least for value in worst), unused)

    return overlaid(ceiling, STEPS)
