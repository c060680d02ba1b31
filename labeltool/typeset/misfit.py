"""Why a text does not fit a label: by how much, what decides, and what would help."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from labeltool.coding.link import shorter
from labeltool.finding import Finding
from labeltool.typeset.search import Trial
from labeltool.typeset.sizes import STEP_MM
from labeltool.wording.model import Minimum

FARTHEST = 8  # times the label's height


@dataclass(frozen=True, slots=True)
class Misfit:
    """No Frame: the reasons, the area that lacks (mm², 0 where that is not the trouble), and the heights that decide.

    `smallest`: (block, minimum) pairs, the one that counts for each block that was to be printed.
    """

    findings: tuple[Finding, ...]
    short_mm2: float = 0.0
    smallest: tuple[tuple[str, Minimum], ...] = ()


def refused(findings: Iterable[Finding]) -> Misfit:
    """A Misfit for other reasons than room."""
    return Misfit(tuple(findings))


def misfit(trials: list[Trial]) -> Misfit:
    """The Misfit of the arrangement that comes nearest."""
    lacks = [(lack, index) for index, trial in enumerate(trials) if (lack := _lacking_mm(trial)) is not None]
    if not lacks:
        return Misfit((_too_narrow(trials[0]),), 0.0, smallest(trials[0]))
    lack, index = min(lacks)
    trial = trials[index]
    area = lack * trial.stock.label_mm[0]
    return Misfit((_too_small(trial, area),), round(area, 1), smallest(trial))


def smallest(trial: Trial) -> tuple[tuple[str, Minimum], ...]:
    """For each printed block the tallest of its minimums."""
    blocks = [block for block in trial.text.blocks if block.name in trial.names and block.minimums]
    return tuple((block.name, max(block.minimums, key=lambda item: item.height_mm)) for block in blocks)


def _lacking_mm(trial: Trial) -> float | None:
    """How much taller the label must be for the smallest type, mm to 0.1; None where no height helps."""
    low, high = 0.0, FARTHEST * trial.stock.label_mm[1]
    if not _stands(trial, high):
        return None
    while high - low > 0.1:
        middle = (low + high) / 2
        low, high = (low, middle) if _stands(trial, middle) else (middle, high)
    return high


def _stands(trial: Trial, stretch_mm: float) -> bool:
    """Whether the text stands at its smallest size on a label so much taller."""
    return replace(trial, stretch_mm=stretch_mm).stands()


def _smallest_mm(trial: Trial) -> float:
    ranges = trial.ranges(trial.variant.ratio[0])
    return ranges[-1][1] * STEP_MM if ranges else 0.0


def _deciding(trial: Trial) -> str:
    """The minimum that sets the size, in words."""
    own = ("net", "e-mark")
    found = [(item.height_mm, name, item.source) for name, item in smallest(trial) if name not in own]
    if not found:
        return "the smallest legible type"
    _, name, source = max(found)
    return f"{name}, {source}"


def _too_small(trial: Trial, area: float) -> Finding:
    width, height = trial.stock.label_mm
    return Finding(
        "typeset.room", "error",
        f"{trial.artwork.name} on {trial.stock.name} ({width:g} × {height:g} mm): the text lacks {area:.0f} mm² "
        f"at an x-height of {_smallest_mm(trial):.2f} mm",
        limit=f"an x-height of {_smallest_mm(trial):.2f} mm at least ({_deciding(trial)})",
        do=f"take a label of about {width * height + 1.1 * area:.0f} mm² or more, carry some words on a second label, "
           "or shorten directions and the maker's own warnings",
    )


def _too_narrow(trial: Trial) -> Finding:
    width, height = trial.stock.label_mm
    smaller = shorter(trial.qr.payload, trial.qr.version) if trial.qr else ""
    return Finding(
        "typeset.width", "error",
        f"{trial.artwork.name} on {trial.stock.name} ({width:g} × {height:g} mm): a word or the symbol is wider than "
        f"the label leaves room for at an x-height of {_smallest_mm(trial):.2f} mm",
        limit=f"an x-height of {_smallest_mm(trial):.2f} mm at least ({_deciding(trial)})",
        do=f"take a wider label or another artwork{f'; {smaller}' if smaller else ''}",
    )
