"""Words that could never stand on a label are refused before any setting is tried."""

from __future__ import annotations

from dataclasses import replace

import pytest

from labeltool.errors import InputError
from labeltool.wording.model import Block
from labeltool.workflow.design import choose, design, find_artworks
from labeltool.workflow.layouts import stock
from labeltool.workflow.sample import sample_text


def test_a_flood_of_words_is_refused_at_once() -> None:
    flood = replace(sample_text(), blocks=(Block("directions", "Rub in well. " * 300, heading="Directions:"),))
    with pytest.raises(InputError) as caught:
        design(flood, stock("a4-3x8-63.5x33.9", None), find_artworks(("back",), None), None)
    assert [item.rule for item in caught.value.findings] == ["typeset.flood"]


def test_the_smallest_sheet_that_holds_the_words_is_chosen() -> None:
    found = choose(sample_text(), None, None, stock=None, artworks=(), letter=False)
    assert found.stock.name == "a4-3x8-63.5x33.9"
    assert [item.name for item in found.artworks] == ["back"]


def test_a_maker_across_the_ocean_gets_letter_paper() -> None:
    assert choose(sample_text(), None, None, stock=None, artworks=(), letter=True).stock.name.startswith("letter-")
