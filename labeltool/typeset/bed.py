"""The bed of one panel: its columns, its baseline grid, what is kept clear for the symbol, and the room of any line."""

from __future__ import annotations

import math
from dataclasses import dataclass

from labeltool.typeset.region import Rect, Region
from labeltool.typeset.sizes import Sizes

COLUMN_GAP, CLOSE_GAP = 1.6, 1.2  # between columns, ems of running type; the second where tight


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a QR symbol stands: its dark square, and with its quiet zone, mm. `across`: no text beside it."""

    dark: Rect
    quiet: Rect
    across: bool = False


@dataclass(frozen=True, slots=True)
class Bed:
    """Columns (rectangles), the region that ink must stay in, sizes, first baseline and the last one's number.

    `last` is for the column that ends in the foot, whose letters may have no descenders.

    Baselines are numbered in half lines from `first_mm`; running lines stand two apart.
    """

    columns: tuple[Rect, ...]
    region: Region
    sizes: Sizes
    first_mm: float
    last: int
    full: int = 0  # the last baseline of columns that end in running text
    spot: Spot | None = None

    def y(self, unit: int) -> float:
        """The height of a baseline, mm."""
        return self.first_mm + unit * self.sizes.grid_mm

    def room(self, column: int, unit: int, up_mm: float, down_mm: float) -> tuple[float, float]:
        """The left and right ends of a line on a baseline, above which it rises and below which it falls so far, mm."""
        rect = self.columns[column]
        if self.whole(column, unit, down_mm):
            return rect.left, rect.right
        base = self.y(unit)
        top, bottom = base - up_mm, base + down_mm
        edge = self.region.inset
        left, right = self.region.chord(max(top, edge), min(bottom, self.region.height - edge))
        left, right = max(left, rect.left), min(right, rect.right)
        if self.spot is None or self.spot.quiet.bottom <= top or self.spot.quiet.top >= bottom:
            return left, right
        return self._beside(left, right, self.spot.quiet)

    def whole(self, column: int, unit: int, down_mm: float) -> bool:
        """Whether a line surely has all of its column: no round edge and no symbol is near it."""
        if not self.square:
            return False
        if self.spot is None or self.spot.quiet.top >= self.y(unit) + down_mm:
            return True
        rect, quiet = self.columns[column], self.spot.quiet
        return not self.spot.across and (quiet.right <= rect.left or quiet.left >= rect.right)

    @property
    def square(self) -> bool:
        """Whether the region has no round edge."""
        return self.region.shape == "rectangle" and self.region.corner <= self.region.inset

    def _beside(self, left: float, right: float, quiet: Rect) -> tuple[float, float]:
        """What is left of a line beside the symbol: the wider side."""
        if self.spot is not None and self.spot.across:
            return left, left
        if quiet.right <= left or quiet.left >= right:
            return left, right
        if quiet.left - left >= right - quiet.right:
            return left, quiet.left
        return quiet.right, right


def cut_columns(rect: Rect, count: int, sizes: Sizes, close: bool = False) -> tuple[Rect, ...]:
    """A panel's rectangle cut into equal columns of text."""
    gap = (CLOSE_GAP if close else COLUMN_GAP) * sizes.running_mm
    width = (rect.width - gap * (count - 1)) / count
    return tuple(
        Rect(rect.left + index * (width + gap), rect.top, rect.left + index * (width + gap) + width, rect.bottom)
        for index in range(count)
    )


def last_baseline(first_mm: float, bottom_mm: float, sizes: Sizes) -> int:
    """The number of the last baseline not below `bottom_mm`; negative where none is."""
    return math.floor((bottom_mm - first_mm) / sizes.grid_mm + 1e-9)
