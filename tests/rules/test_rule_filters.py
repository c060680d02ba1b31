"""UV filters and sun words: Annex VI, 21 CFR 700.35, and the stop of a tool that tests nothing."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from rule_samples import CREAM, FACE, LOTION, SHAMPOO, advised, held, limits, one, rules, texts

ALL = ("UK", "EU", "US", "CA")
NOTHING = held("Aqua", "90")


@pytest.mark.parametrize("market", ALL)
def test_a_filter_without_another_purpose_stops_every_market(market):
    found = advised(FACE, held("Ethylhexyl Methoxycinnamate", "5"), markets=(market,))
    assert rules(found, "error", market) == ["sun.protection"]


def test_a_filter_that_protects_the_product_does_not_stop():
    found = advised(SHAMPOO, held("Benzophenone-4", "0.05", purposes=("uv-absorber",)), markets=ALL)
    assert "sun.protection" not in rules(found)
    assert one(found, "VI/22").state == "within"


def test_a_trace_of_a_filter_is_none():
    assert "sun.protection" not in rules(advised(FACE, held("Homosalate", "0.01")))
    assert "sun.protection" in rules(advised(FACE, held("Homosalate", "0.0101")), "error")
    assert "sun.protection" in rules(advised(FACE, held("Homosalate", "0", "0.1")), "warning")


def test_a_filter_inside_a_perfume_does_not_stop():
    assert "sun.protection" not in rules(advised(CREAM, held("Ethylhexyl Salicylate", "0.2", perfume=True)))


# Titanium dioxide and zinc oxide are filters only with that purpose or a sun claim.
def test_pigments_are_filters_only_when_they_are_meant_to_be():
    pigment = held("Zinc Oxide", "20")
    assert "sun.protection" not in rules(advised(LOTION, pigment, markets=ALL))
    assert not limits(advised(LOTION, pigment), "VI/30")
    meant = held("Zinc Oxide", "26", purposes=("uv-filter",))
    found = advised(LOTION, meant)
    assert "sun.protection" in rules(found, "error") and one(found, "VI/30").level == "error"
    claimed = advised(replace(LOTION, claims=("SPF 30",)), held("Zinc Oxide", "26"))
    assert one(claimed, "VI/30").level == "error"


@pytest.mark.parametrize(
    "claim",
    ["SPF 30", "spf15", "a natural sunscreen", "UVA and UVB", "broad-spectrum", "protects from the sun", "Sun cream"],
)
def test_words_of_sun_protection_stop_without_any_filter(claim):
    for market in ALL:
        found = advised(replace(FACE, claims=(claim,)), NOTHING, markets=(market,))
        assert rules(found, "error", market) == ["sun.protection"]


@pytest.mark.parametrize(
    "claim",
    [
        "not a sunscreen", "contains no SPF", "with sunflower oil", "after a day outside", "with uva-ursi leaf",
        "sun-kissed glow",
    ],
)
def test_words_that_only_sound_like_it_do_not(claim):
    assert "sun.protection" not in rules(advised(replace(FACE, claims=(claim,)), NOTHING, markets=ALL))


def test_a_warning_to_wear_sunscreen_is_no_claim():
    assert "sun.protection" not in rules(advised(replace(FACE, warnings=("Use a sunscreen.",)), NOTHING, markets=ALL))


# VI/3: face products only, 7.34 %; "no other product type is allowed".
def test_homosalate_is_for_the_face():
    amount = held("Homosalate", "7")
    assert one(advised(FACE, amount), "VI/3").state == "within"
    elsewhere = one(advised(LOTION, amount), "VI/3")
    assert (elsewhere.limit, elsewhere.level) == (Decimal(0), "error")


# VI/4: its text above 0.5 % on face, hand, lip and body products.
def test_benzophenone_three_has_a_text_above_half_a_percent():
    assert "Contains Benzophenone-3" in texts(advised(FACE, held("Benzophenone-3", "0.6")))
    assert "Contains Benzophenone-3" not in texts(advised(FACE, held("Benzophenone-3", "0.5")))


# VI/27 and 27a: the sum of both forms not above 25 %; the nano form not where it can be inhaled.
def test_nano_and_other_titanium_dioxide_are_one_sum():
    parts = (
        held("Titanium Dioxide", "15", purposes=("uv-filter",)),
        held("Titanium Dioxide", "12", purposes=("uv-filter",), nano=True),
    )
    assert one(advised(FACE, *parts), "VI/27").level == "error"
    assert one(advised(FACE, parts[0]), "VI/27").state == "within"
    spray = advised(replace(FACE, form="spray"), parts[1])
    assert "limit.use" in rules(spray, "error")
    assert limits(advised(FACE, parts[0]), "VI/27a") == []
