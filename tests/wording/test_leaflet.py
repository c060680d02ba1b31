"""Which words may leave the label for a leaflet (Regulation (EC) No 1223/2009, Art. 19(2)), and what is said of it."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from labeltool.wording.leaflet import moved, refusals, told, without
from labeltool.wording.model import LabelText

Label = Callable[..., LabelText]


def names(text: LabelText) -> list[str]:
    return [block.name for block in text.blocks]


def test_the_list_goes_first_then_the_warnings_too(label: Label) -> None:
    full = label()
    first, second = without(full)
    assert [name for name in names(full) if name not in names(first)] == ["ingredients"]
    assert [name for name in names(full) if name not in names(second)] == ["warnings", "ingredients"]
    assert [block.name for block in moved(full, second)] == ["warnings", "ingredients"]


def test_the_symbol_stands_in_their_place_and_all_else_stays(label: Label) -> None:
    full = label()
    for text in without(full):
        sign = text.blocks[-1]
        assert (sign.name, sign.symbol, sign.text, sign.required_by) == ("leaflet", "hand-on-book", "", ("UK",))
        assert set(text.blocks[:-1]) | set(moved(full, text)) == set(full.blocks)
        assert (text.code, text.qr, text.markets) == (full.code, full.qr, full.markets)


def test_what_has_neither_has_no_leaflet(label: Label) -> None:
    full = label()
    bare = replace(full, blocks=tuple(block for block in full.blocks if block.name not in ("warnings", "ingredients")))
    assert without(bare) == ()
    warned = replace(full, blocks=tuple(block for block in full.blocks if block.name != "ingredients"))
    assert [moved(warned, text)[0].name for text in without(warned)] == ["warnings"]


@pytest.mark.parametrize(("markets", "refused"), [
    (("UK",), []), (("UK", "EU"), []), (("EU", "US"), ["US"]), (("CA", "US"), ["CA", "US"]),
])
def test_only_europe_takes_a_leaflet(markets: tuple[str, ...], refused: list[str]) -> None:
    """21 CFR 701.3(b), (i): on the package; C.R.C., c. 869, s. 21.5: tag, card or website."""
    found = refusals(markets)
    assert [item.market for item in found] == refused
    assert all(item.level == "error" and item.source and item.do for item in found)


def test_the_note_names_what_is_in_it_and_the_condition(label: Label) -> None:
    full = label()
    first, second = (told(full, text) for text in without(full))
    assert first.text.endswith("label: the list of ingredients")
    assert second.text.endswith("label: the warnings and the list of ingredients")
    assert "impossible for practical reasons" in str(first.limit) and "19(2)" in str(first.source)
