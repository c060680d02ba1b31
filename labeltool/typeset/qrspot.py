"""Where the QR symbol stands: whole dots, quiet zone clear, as near to its corner as that allows."""

from __future__ import annotations

import math
from dataclasses import dataclass

from labeltool.stock.model import Stock
from labeltool.symbol.dots import dot_mm, dots_that_fit, least_dots
from labeltool.typeset.artmodel import Corner, Range
from labeltool.typeset.bed import Spot
from labeltool.typeset.region import Rect, Region

QUIET = 4  # modules
EDGE_MM = 2.0  # no dark module nearer to the label's edge
WISHED_DOTS = 4


@dataclass(frozen=True, slots=True)
class Symbol:
    """A QR symbol's measures: modules a side, printer dots a module, dots an inch."""

    modules: int
    dots: int
    dpi: int

    @property
    def module_mm(self) -> float:
        """The side of a module, mm."""
        return self.dots * dot_mm(self.dpi)

    @property
    def dark_mm(self) -> float:
        """The side without quiet zone, mm."""
        return self.modules * self.module_mm

    @property
    def quiet_mm(self) -> float:
        """The width of the quiet zone, mm."""
        return QUIET * self.module_mm


@dataclass(frozen=True, slots=True)
class Clear:
    """How far from each side of a panel's rectangle the next ink or the label's edge lies, mm."""

    left: float
    top: float
    right: float
    bottom: float


def dot_choices(stock: Stock, module_mm: Range, modules: int = 0, widest_mm: float | None = None) -> tuple[int, ...]:
    """Dots a module to try, the wished first, the least last.

    `widest_mm`: how wide `modules` of them may be on the container; where even the least are wider, the least alone.
    """
    least = least_dots(stock.dpi, module_mm[0])
    wished = max(least, WISHED_DOTS, round(module_mm[1] / dot_mm(stock.dpi)))
    if widest_mm is not None:
        wished = max(least, min(wished, dots_that_fit(stock.dpi, modules, widest_mm)))
    return tuple(range(wished, least - 1, -1))


def spot(symbol: Symbol, corner: Corner, rect: Rect, clear: Clear, region: Region, foot_mm: float) -> Spot | None:
    """The symbol in a corner of `rect`, its dark foot at `foot_mm` or above; None where it has no room."""
    dark, dot = symbol.dark_mm, dot_mm(symbol.dpi)
    bottom = min(foot_mm, rect.bottom - max(0.0, symbol.quiet_mm - clear.bottom))
    low, high = rect.left + max(0.0, symbol.quiet_mm - clear.left), rect.right - max(0.0, symbol.quiet_mm - clear.right)
    edge = max(EDGE_MM, symbol.quiet_mm)
    high, low = min(high, region.width - edge), max(low, edge)
    bottom = min(bottom, region.height - edge)
    if high - low < dark - 1e-9:
        return None
    left = high - dark if corner == "bottom-right" else low if corner == "bottom-left" else (low + high - dark) / 2
    rounding = math.ceil if corner == "bottom-left" else math.floor
    x = rounding(left / dot + (-1e-6 if corner == "bottom-left" else 1e-6)) * dot
    y = math.floor((bottom - dark) / dot + 1e-6) * dot
    while y >= max(rect.top, edge) - 1e-9:
        square = Rect(x, y, x + dark, y + dark)
        if region.holds(square):
            return Spot(square, square.inset(-symbol.quiet_mm), corner == "bottom-centre")
        y -= dot
    return None
