"""A page against the same page drawn anew from its frames: ink that is too much, and ink that is not there.

Pictures are compared as one long number, a byte a pixel, so that shifts and bit operations do the work of a loop. The
neighbours of a pixel count as its own: programs that save a file anew round places differently.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from io import BytesIO

from labeltool.output.model import Placed, Sheet
from labeltool.output.pdf import write_pdf
from labeltool.raster import Grey, Pdf
from labeltool.readback.ink import Rect
from labeltool.readback.model import ExpectedPage

CORE, PALE = 64, 110     # a pixel that is all ink when drawn anew; and what it may have become
TINT, ANY = 238, 250     # a pixel that is no longer white; and what is white when drawn anew
MOST_SPOTS = 20_000
_SPOT = re.compile(b"\x01+")


@dataclass(frozen=True, slots=True)
class Difference:
    """Where ink is too much, and where it lacks: rectangles of one pixel's height, mm."""

    surplus: tuple[Rect, ...]
    lacking: tuple[Rect, ...]


def drawn_anew(page: ExpectedPage, fonts: Mapping[str, bytes], dpi: float) -> Grey:
    """The page as its frames and fonts draw it."""
    target = BytesIO()
    sheet = Sheet(page.width_mm, page.height_mm,
                  tuple(Placed(item.frame, item.x_mm, item.y_mm) for item in page.labels))
    write_pdf([sheet], target, fonts=fonts, title="", author="")
    return Pdf(target.getvalue()).printed(0, dpi)


def differences(found: Grey, drawn: Grey) -> Difference:
    """What tells two pictures of one size apart by more than a pixel."""
    surplus = _mask(found, TINT) & ~_spread(_mask(drawn, ANY), drawn.width)
    lacking = _mask(drawn, CORE) & ~_spread(_mask(found, PALE), found.width)
    return Difference(tuple(_spots(surplus, found)), tuple(_spots(lacking, found)))


def _mask(grey: Grey, below: int) -> int:
    """A number whose byte is 1 at each pixel darker than a tone."""
    table = bytes(value < below for value in range(256))
    return int.from_bytes(bytes(grey.pixels).translate(table), "little")


def _spread(mask: int, width: int) -> int:
    """The marked pixels and their eight neighbours."""
    row = mask | mask << 8 | mask >> 8
    return row | row << 8 * width | row >> 8 * width


def _spots(mask: int, grey: Grey) -> Iterator[Rect]:
    if not mask:
        return
    size = grey.to_mm(1)
    data = mask.to_bytes(grey.width * grey.height, "little")
    for count, spot in enumerate(_SPOT.finditer(data)):
        if count == MOST_SPOTS:
            return
        y, x = divmod(spot.start(), grey.width)
        yield x * size, y * size, (x + len(spot[0])) * size, (y + 1) * size
