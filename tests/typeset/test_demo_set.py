"""Every label of the demo on every built-in stock it fits, by the checks of a good label that a program can make."""

from __future__ import annotations

import pytest
from demo_labels import by_length
from test_fit import ARTWORKS, STOCKS
from typeset_checks import faults

from labeltool import tables
from labeltool.symbol.qr import matrix
from labeltool.typeset.fit import Misfit, typeset

FITS_AT_LEAST = {"back": 20, "front": 40, "front-and-back": 12, "wrap": 4, "round-lid": 45, "bottom-dot": 60}


@pytest.mark.parametrize("artwork", sorted(ARTWORKS))
def test_demo_labels_on_all_stocks_that_hold_them(artwork, samples):
    """The longest and the shortest label; all of them where samples are many."""
    fitting, ordered = 0, by_length()
    for text in (ordered[0], ordered[-1], *ordered[1:-1])[:samples(2)]:
        qr = matrix(text.qr.payload)
        for name, stock in STOCKS.items():
            found = typeset(text, ARTWORKS[artwork], stock, qr, tables.fonts())
            if isinstance(found, Misfit):
                continue
            fitting += 1
            assert faults(found, text, ARTWORKS[artwork], stock) == [], (text.product, name)
    assert fitting >= FITS_AT_LEAST[artwork]
