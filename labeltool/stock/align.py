"""From two crosses on paper to what a printer needs corrected."""

from __future__ import annotations

import math

from labeltool.errors import InputError
from labeltool.finding import Finding
from labeltool.stock.model import Stock
from labeltool.stock.printers import MOST_NUDGE_MM, SCALES, Correction

Point = tuple[float, float]
INSET_MM = 20.0
ARM_MM = 2.0
SCALED = 0.01


def marks(stock: Stock) -> tuple[Point, Point]:
    """Where the two crosses of the alignment page are meant to lie: mm from the paper's left and top edge."""
    if stock.shape != "rectangle" and stock.per_page == 1:
        return _on_curve(stock)
    insets = [max(stock.safe_mm + ARM_MM, min(INSET_MM, side / 4)) for side in stock.page_mm]
    across, down = (round(inset * 2) / 2 for inset in insets)
    width, height = stock.page_mm
    return (across, down), (round(width - across, 2), round(height - down, 2))


def _on_curve(stock: Stock) -> tuple[Point, Point]:
    """On a round or oval label of a roll: on its diagonal, arms within the safe edge."""
    radii = [side / 2 - stock.safe_mm - ARM_MM for side in stock.label_mm]
    across, down = (math.floor(radius * math.sqrt(0.5) * 2) / 2 for radius in radii)
    middle = [stock.page_mm[0] / 2, stock.page_mm[1] / 2]
    return ((round(middle[0] - across, 2), round(middle[1] - down, 2)),
            (round(middle[0] + across, 2), round(middle[1] + down, 2)))


def correction_of(meant: tuple[Point, Point], read: tuple[Point, Point]) -> tuple[Correction, tuple[Finding, ...]]:
    """The correction after which places land where they are meant to, from where the crosses really lie (mm).

    The printer is taken to move and scale: real = offset + factor x meant, each axis by itself. Raises InputError
    for readings that no printer gives. A warning tells of a factor that looks like scaling left on.
    """
    axes = [_axis(axis, meant, read) for axis in (0, 1)]
    faults = [fault for axis, pair in enumerate(axes) for fault in _faults(axis, *pair)]
    if faults:
        raise InputError(faults)
    found = Correction((round(axes[0][0], 3), round(axes[1][0], 3)), (round(axes[0][1], 6), round(axes[1][1], 6)))
    return found, tuple(_doubts(found))


def _axis(axis: int, meant: tuple[Point, Point], read: tuple[Point, Point]) -> tuple[float, float]:
    """(nudge, scale) of one axis; nan where the readings say nothing."""
    apart = read[1][axis] - read[0][axis]
    if apart <= 0:
        return math.nan, math.nan
    scale = (meant[1][axis] - meant[0][axis]) / apart
    return meant[0][axis] - scale * read[0][axis], scale


def _faults(axis: int, nudge: float, scale: float) -> list[Finding]:
    name = ("across", "down")[axis]
    if math.isnan(scale):
        return [_wrong(f"{name}, the second cross is not beyond the first", "cross 1 first, then cross 2")]
    if not SCALES[0] <= scale <= SCALES[1]:
        text = f"{name}, the crosses lie {abs(1 / scale - 1):.1%} too {'near' if scale > 1 else 'far'}"
        return [_wrong(text, "5 %", "print the page again at 100 %, scaling off, and read both crosses from the left "
                             "and top edge of the paper")]
    if abs(nudge) > MOST_NUDGE_MM:
        return [_wrong(f"{name}, everything is {abs(nudge):.1f} mm off its place", f"{MOST_NUDGE_MM:g} mm")]
    return []


def _wrong(text: str, limit: str, do: str | None = None) -> Finding:
    again = "read both crosses once more: mm from the left and the top edge of the paper"
    return Finding("printer.read", "error", text, limit=limit, do=do or again)


def _doubts(found: Correction) -> list[Finding]:
    off = max(abs(scale - 1) for scale in found.scale)
    if off <= SCALED:
        return []
    text = f"the printer seems to scale by {off:.1%}: places are corrected, labels are never stretched"
    return [Finding("printer.scaled", "warning", text, do="look for a scaling or fit-to-page setting, switch it off, "
                    "print the page again and measure again")]
