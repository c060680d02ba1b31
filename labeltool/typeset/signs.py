"""Drawn signs in their setting: how high, how wide, and where their words stand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from labeltool.symbol.icons import drawn
from labeltool.symbol.logo import Logo
from labeltool.symbol.model import Drawn
from labeltool.typeset.metrics import FontSet
from labeltool.typeset.paras import LOGO, Sign
from labeltool.typeset.sizes import Sizes

LEAST_LINES = 1.75  # height of a sign, in line pitches
FILL = 0.94  # share of a sign's inner box that its words may take
GAP = 0.35  # between a sign and the words beside it, ems


@dataclass(frozen=True, slots=True)
class SetSign:
    """A sign at its height: widths in mm; `inside`: its words stand in it, `lift_mm` above the sign's foot.

    `width_mm` is what it takes in a row, a printer dot for its place on the dot grid included.
    """

    sign: Sign
    outline: Drawn
    height_mm: float
    width_mm: float
    inside: bool
    words_x_mm: float
    lift_mm: float


@lru_cache(maxsize=256)
def _outline(name: str, stem: float) -> Drawn:
    return drawn(name, stem)


def outline(name: str, height_mm: float, sizes: Sizes, fonts: FontSet) -> Drawn:
    """A sign whose strokes are as heavy as the running text's stems."""
    font = fonts.of(sizes.body)
    return _outline(name, round(sizes.running_mm * font.em(font.stem) / height_mm, 3))


def sign_height(signs: Iterable[Sign], sizes: Sizes, fonts: FontSet) -> float:
    """The one height of all signs of a label, mm: their legal least, and room for the words inside; 0 without signs."""
    height = 0.0
    for sign in (sign for sign in signs if sign.logo is None):
        least = max(sign.least_mm, LEAST_LINES * 2 * sizes.grid_mm, height)
        box = outline(sign.symbol, least, sizes, fonts).label_box
        if box is not None and sign.words is not None:
            wide = sign.words.width * sizes.running_mm / (box[2] * FILL)
            high = fonts.semibold.em(fonts.semibold.cap_height) * sizes.running_mm / (box[3] * FILL)
            least = max(least, wide, high)
        height = max(height, least)
    return height


def set_sign(sign: Sign, sizes: Sizes, fonts: FontSet) -> SetSign:
    """A sign at the label's sign height, a logo at its own."""
    if sign.logo is not None:
        height = logo_height(sign.logo, sizes)
        width = sign.logo.width * height
        return SetSign(sign, Drawn(LOGO, sign.logo.width, ()), height, width + sizes.dot_mm, False, 0.0, 0.0)
    height = sizes.sign_mm
    shape = outline(sign.symbol, height, sizes, fonts)
    width = shape.width * height + sizes.dot_mm
    words = sign.words
    if words is None:
        return SetSign(sign, shape, height, width, False, 0.0, 0.0)
    if shape.label_box is None:
        start = width + GAP * sizes.running_mm
        return SetSign(sign, shape, height, start + words.width * sizes.running_mm, False, start, 0.0)
    left, top, wide, high = (value * height for value in shape.label_box)
    figures = fonts.semibold.em(fonts.semibold.cap_height) * sizes.running_mm
    middle = left + (wide - words.width * sizes.running_mm + sizes.dot_mm) / 2
    return SetSign(sign, shape, height, width, True, middle, height - top - high + (high - figures) / 2)


def logo_height(logo: Logo, sizes: Sizes) -> float:
    """The height of a logo, mm: as asked, in whole printer dots where signs stand on dots."""
    return round(logo.height_mm / sizes.dot_mm) * sizes.dot_mm if sizes.dot_mm else logo.height_mm
