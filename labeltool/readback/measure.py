"""What a picture lets be measured of a symbol whose modules are known: its size, print growth, contrast, grade."""

from __future__ import annotations

import math
from dataclasses import dataclass

from labeltool.raster import Grey
from labeltool.readback.grade import grade_image
from labeltool.readback.photo import PhotoSymbol, area_around
from labeltool.readback.pictures import Photo
from labeltool.readback.quality.grading import CONTRAST
from labeltool.readback.quality.model import Grade, Known, Standard

LEAST_MODULE = 3.5    # pixels; coarser, an edge's place is a guess
MOST_SLANT = 0.06     # above, proportions are the camera's and not the print's
PAPER = 232           # the tone that the label's own white is brought to: reflectance 0.8
_LIGHTEST = 0.9       # the share of an area's pixels that are darker than its white


@dataclass(frozen=True, slots=True)
class Measured:
    """`module_px`: pixels a module. `side_mm`: of the symbol, where the picture states its resolution.

    `contrast`: of the ink against the label's own white in red light, 0 to 1; `growth`: how much wider dark modules are
    than they should be, as a share of a module, across and down. `grade`: None where it is not seen straight on.
    """

    module_px: float
    side_mm: float | None
    contrast: float | None = None
    growth: tuple[float, float] | None = None
    grade: Grade | None = None


def measured(photo: Photo, symbol: PhotoSymbol, known: Known, rules: Standard) -> Measured:
    """Measure a symbol that zxing found; only its size where the picture is too coarse for more."""
    module = symbol.side / known.size
    side_mm = symbol.side * 25.4 / photo.dpi if photo.dpi and not photo.camera else None
    if module < LEAST_MODULE or symbol.negative:
        return Measured(module, side_mm)
    area = area_around(photo.red, symbol.corners)
    part = _lit(photo.red.part(area))
    corners = [(x - area[0], y - area[1]) for x, y in symbol.corners]
    grade = grade_image(part, area[2] - area[0], area[3] - area[1], corners, known, rules)
    straight = symbol.slant <= MOST_SLANT and abs(math.log(_aspect(symbol))) <= MOST_SLANT
    return Measured(module, side_mm, grade.of(CONTRAST).value, grade.growth, grade if straight else None)


def _aspect(symbol: PhotoSymbol) -> float:
    a, b, c, d = symbol.corners
    return (math.dist(a, b) + math.dist(d, c)) / (math.dist(b, c) + math.dist(a, d))


def _lit(pixels: bytes) -> bytes:
    """The pixels with the label's own white brought to a set tone: a photo's exposure says nothing about the print."""
    white = sorted(pixels)[int(len(pixels) * _LIGHTEST)] if pixels else 255
    factor = PAPER / max(white, 1)
    return pixels.translate(bytes(min(255, round(value * factor)) for value in range(256)))


def is_blank(grey: Grey) -> bool:
    """Whether a picture has hardly any light and dark in it."""
    lowest, highest = min(grey.pixels, default=0), max(grey.pixels, default=0)
    return highest - lowest < 24
