"""What a label that is too small says."""

from __future__ import annotations

from dataclasses import replace

from test_fit import STOCKS, set_label
from typeset_samples import SIXTEENTH, balm, lotion, stock, three_markets

from labeltool.typeset.fit import Misfit


def test_it_says_by_how_much_and_what_decides():
    found = set_label(three_markets(), "back", STOCKS["a4-3x8-63.5x33.9"])
    assert isinstance(found, Misfit)
    (said,) = found.findings
    assert (said.rule, said.level) == ("typeset.room", "error")
    assert f"{found.short_mm2:.0f} mm²" in said.text and "63.5 × 33.9" in said.text
    assert "1.59 mm" in said.limit and "1/16 inch" in said.limit
    assert ("ingredients", SIXTEENTH) in found.smallest


def test_the_area_it_asks_for_is_enough():
    """A label taller by what lacks does hold the text."""
    small = stock(63.5, 33.9)
    found = set_label(lotion(40), "back", small)
    assert isinstance(found, Misfit) and found.short_mm2 > 0
    taller = stock(63.5, 33.9 + found.short_mm2 / 63.5 + 0.2)
    assert not isinstance(set_label(lotion(40), "back", taller), Misfit)
    shorter = stock(63.5, 33.9 + found.short_mm2 / 63.5 - 0.4)
    assert isinstance(set_label(lotion(40), "back", shorter), Misfit)


def test_a_word_wider_than_the_label_is_another_trouble():
    text = balm()
    long = replace(text, blocks=tuple(
        replace(item, text="Hydroxypropyltrimoniumhydrolyzedsomethingorother") if item.name == "name" else item
        for item in text.blocks))
    found = set_label(long, "front", STOCKS["a4-7x10-round-25"])
    assert isinstance(found, Misfit)
    assert found.findings[0].rule == "typeset.width" and "wider" in found.findings[0].text
    assert found.short_mm2 == 0


def test_nothing_is_left_out_to_make_it_fit():
    found = set_label(lotion(40), "back", STOCKS["a4-5x13-38.1x21.2"])
    assert isinstance(found, Misfit)
