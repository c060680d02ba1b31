"""The size found is the largest there is: every step of 0.01 mm above it is tried."""

from __future__ import annotations

import pytest
from test_fit import ARTWORKS, STOCKS, TEXTS
from typeset_samples import SIXTEENTH, balm, lotion

from labeltool import tables
from labeltool.symbol.qr import matrix
from labeltool.typeset.artmodel import blocks_of
from labeltool.typeset.search import Terms, Trial


def trial(text, artwork, stock, variant=0):
    chosen = ARTWORKS[artwork].variants[variant]
    qr = matrix(text.qr.payload) if "qr" in blocks_of(chosen) else None
    return Trial(text, ARTWORKS[artwork], chosen, STOCKS[stock], qr, tables.fonts())


@pytest.mark.parametrize(("text", "artwork", "stock", "variant"), [
    ("lotion", "back", "a4-3x8-63.5x33.9", 1), ("lotion", "back", "a4-2x4-99.1x67.7", 0),
    ("long", "back", "a4-1x6-140x40", 0), ("balm", "back", "roll-57x32-203dpi", 0),
    ("balm", "back", "a4-3x4-round-60", 2),
    ("lotion", "front", "a4-3x8-63.5x33.9", 0), ("lotion", "wrap", "letter-1x6-139.7x38.1", 0),
    ("lotion", "round-lid", "a4-4x6-round-40", 0), ("lotion", "front-and-back", "roll-102x76-300dpi", 0),
    ("three markets", "back", "a4-1x4-190x60", 0), ("lotion", "bottom-dot", "a4-8x12-round-20", 1),
    ("lotion", "bottom-dot", "a4-4x6-round-40", 0),
])
def test_no_larger_size_fits_under_the_same_terms(text, artwork, stock, variant):
    """Terms: ratio, module, margin and measure; the search may be blind to sizes far above a gap, so all are tried."""
    one = trial(TEXTS[text], artwork, stock, variant)
    fit = one.best()
    assert fit is not None
    leading = one.artwork.leading[0]
    terms = Terms(fit.terms.ratio, fit.terms.dots, fit.terms.margin, fit.terms.tidy, fit.terms.balanced)
    again = one.largest(terms, leading)
    assert again is not None
    fitting = [step for body, low, high in one.ranges(terms.ratio) for step in range(low, high + 1)
               if one.set(step, terms, body, leading) is not None]
    assert max(fitting) == again.step


def test_leading_opens_as_far_as_there_is_room():
    roomy = trial(balm(), "back", "a4-2x2-99.1x139").best()
    assert roomy.x_mm == 2.2 and 1.2 < roomy.leading <= 1.25
    tight = trial(lotion(), "back", "a4-3x8-63.5x33.9", 1).best()
    assert 1.15 <= tight.leading < 1.2


def test_the_legal_least_bounds_the_search():
    one = trial(balm(SIXTEENTH), "back", "a4-2x4-99.1x67.7")
    assert one.least_step(1.8) == 159
    assert one.best().step >= 159
    assert trial(lotion(26, SIXTEENTH), "back", "a4-3x8-63.5x33.9").best() is None


def test_thermal_ranges_go_down_through_the_weights():
    one = trial(balm(), "back", "roll-57x32-203dpi")
    assert one.ranges(1.8) == (("regular", 142, 220), ("medium", 102, 141), ("semibold", 93, 101))
