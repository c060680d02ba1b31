"""Where lines may end."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.typeset.breaks import (
    AFTER_SIGN,
    FREE,
    IN_BRACKETS,
    INSIDE_NAME,
    INSIDE_PART,
    TORN,
    address_breaks,
    breaks,
    led_breaks,
)


def pieces(text: str, names_from: int | None = None) -> list[str]:
    """The text cut at every break."""
    found, start = [], 0
    for item in breaks(text, names_from):
        found.append(text[start:item.end])
        start = item.start
    return found


@pytest.mark.parametrize("whole", [
    "1,2-Hexanediol", "CI 77491", "50 ml", "21 °C", "PEG-100", "EX0 0EX", "OR 97401", "K1A 0B1", "10/2027", "3.52 oz.",
    "C10-30", "+44 20 7946 0000", "care@otters-holt.example", "https://a-b.example/c", "[+/-", "fl. oz.", "1,000",
])
def test_stays_whole(whole):
    assert any(whole in line for line in pieces(f"word {whole} word"))


def test_never_between_a_name_and_its_bracket():
    assert pieces("Zinc Oxide (nano), Aqua (Water)", 0) == ["Zinc", "Oxide (nano),", "Aqua (Water)"]
    assert pieces("Seed Oil [+/- Mica, CI 77492].") == ["Seed", "Oil [+/- Mica,", "CI 77492]."]


def test_after_slash_and_hyphen_between_letters():
    assert pieces("Caprylic/Capric Alpha-Isomethyl") == ["Caprylic/", "Capric", "Alpha-", "Isomethyl"]
    assert pieces("Acrylates/C10-30 A-b") == ["Acrylates/C10-30", "A-b"]


def test_a_colour_of_two_words_stays_whole_in_a_list():
    assert pieces("Aqua, Blue 1, Yellow 5 Lake", 0) == ["Aqua,", "Blue 1,", "Yellow 5", "Lake"]


def test_costs():
    text = "List: Aqua, Olea Europaea/Oliva"
    assert [item.cost for item in breaks(text, 6)] == [FREE, FREE, INSIDE_NAME, AFTER_SIGN, FREE]


@given(st.text(st.sampled_from("ab1 ,/-([)].°%ml"), max_size=40))
def test_no_line_begins_with_a_clinging_sign_and_nothing_but_spaces_is_lost(text):
    text = " ".join(text.split())
    found = pieces(text)
    assert "".join(found).replace(" ", "") == text.replace(" ", "")
    for line in found[1:]:
        assert not line or line[0] not in ",/)]([", (text, found)


@given(st.lists(st.from_regex(r"[0-9]{1,4} (ml|g|oz|°C)", fullmatch=True), min_size=1, max_size=4))
def test_a_figure_and_its_unit_never_part(figures):
    text = " and ".join(figures)
    assert all(any(figure in line for line in pieces(text)) for figure in figures)


def test_what_leads_to_a_date_stays_with_it():
    text = "Best used before the end of 10/2027"
    costs = {text[item.start:]: item.cost for item in led_breaks(text, text.index("10/"))}
    assert costs["10/2027"] == costs["of 10/2027"] == costs["end of 10/2027"] == TORN
    assert costs["the end of 10/2027"] == costs["before the end of 10/2027"] == FREE


def test_an_address_breaks_at_its_commas_and_never_beside_a_number():
    text = "Example GmbH, Musterweg 3, 00000 Musterstadt"
    costs = {text[item.start:]: item.cost for item in address_breaks(text)}
    assert costs["Musterweg 3, 00000 Musterstadt"] == costs["00000 Musterstadt"] == FREE
    assert costs["GmbH, Musterweg 3, 00000 Musterstadt"] == INSIDE_PART
    assert costs["Musterstadt"] == costs.get("3, 00000 Musterstadt", TORN) == TORN


def test_words_in_brackets_part_only_at_a_cost():
    text = "CI 77491 (Iron Oxides), Aqua"
    assert {text[item.start:]: item.cost for item in breaks(text, 0)}["Oxides), Aqua"] == IN_BRACKETS
