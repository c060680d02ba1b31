from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest
from rule_samples import CREAM, WASH, advised, held, rules

from labeltool.compose.model import Line
from labeltool.formula.model import Product

ALL = ("UK", "EU", "US", "CA")
DAY = dt.timedelta(days=1)
EU_DAY, CA_DAY = dt.date(2026, 8, 1), dt.date(2026, 4, 12)


def declared(product, *substances, markets=ALL, **more):
    found = advised(product, *substances, markets=markets, **more)
    assert len(found.allergens) == 1
    return dict(found.allergens[0].declared)


def extras(product, *substances, **more):
    return [(item.market, item.name) for item in advised(product, *substances, **more).extras]


# Regulation (EU) 2023/1545: "when its concentration exceeds 0,001 % in leave-on products, 0,01 % in rinse-off" ones.
# Cosmetic Regulations, C.R.C., c. 869, s. 21.4(4): "greater than".
@pytest.mark.parametrize(
    ("product", "percent", "sure"),
    [(CREAM, "0.001", "no"), (CREAM, "0.0010001", "certain"), (WASH, "0.01", "no"), (WASH, "0.010001", "certain")],
)
def test_a_name_is_due_strictly_above_the_threshold(product, percent, sure):
    found = declared(product, held("Linalool", percent, contained=True))
    assert found == {"UK": sure, "EU": sure, "US": "no", "CA": sure}


def test_only_the_high_end_above_the_threshold_is_possible_and_printed_with_a_note():
    item = held("Linalool", "0.001", "0.002", contained=True)
    assert declared(CREAM, item)["EU"] == "possible"
    assert extras(CREAM, item) == [("EU", "Linalool")]
    assert rules(advised(CREAM, item)).count("allergen.possible") == 1


def test_shares_in_the_open_in_perfume_and_contained_count_together():
    parts = (
        held("Linalool", "0.0004"), held("Linalool", "0.0004", perfume=True, source="scent"),
        held("Linalool", "0.0004", contained=True, source="oil"),
    )
    found = advised(CREAM, *parts).allergens
    assert found[0].percent.nominal == Decimal("0.0012")
    assert found[0].declared == (("EU", "certain"),)
    for missing in parts:
        rest = tuple(item for item in parts if item is not missing)
        assert advised(CREAM, *rest).allergens[0].declared == (("EU", "no"),)


def test_what_has_reacted_is_gone():
    assert advised(CREAM, held("Linalool", "1", purposes=("reacted",))).allergens == ()


# eu-uk table of acts: placing without the new names until 31 July 2026; the older 24 before and after.
@pytest.mark.parametrize(("on", "sure"), [(EU_DAY - DAY, "no"), (EU_DAY, "certain"), (EU_DAY + DAY, "certain")])
def test_new_entries_are_due_in_the_eu_from_the_first_of_august_2026(on, sure):
    item = held("Vanillin", "0.1", contained=True)
    assert declared(CREAM, item, markets=("EU",), on=on)["EU"] == sure
    assert declared(CREAM, held("Linalool", "0.1", contained=True), markets=("EU",), on=on)["EU"] == "certain"


def test_before_that_day_a_note_tells_what_is_to_come():
    found = advised(CREAM, held("Vanillin", "0.1", contained=True), on=EU_DAY - DAY)
    notes = [item for item in found.findings if item.rule == "allergen.coming"]
    assert len(notes) == 1 and "2026-08-01" in notes[0].text and "Vanillin" in notes[0].text
    assert "2028-07-31" in notes[0].limit


# Great Britain: Regulation (EU) 2023/1545 is not part of its law; the 24 of the old list are.
def test_great_britain_asks_for_the_older_entries_only():
    assert declared(CREAM, held("Vanillin", "0.1", contained=True), markets=("UK",)) == {"UK": "no"}
    assert declared(CREAM, held("Coumarin", "0.1", contained=True), markets=("UK",)) == {"UK": "certain"}


# s. 21.4 of the Canadian regulations is in force since 12 April 2026; its newer entries follow the EU's dates.
@pytest.mark.parametrize(
    ("on", "old", "new"),
    [
        (CA_DAY - DAY, "no", "no"), (CA_DAY, "certain", "no"),
        (EU_DAY - DAY, "certain", "no"), (EU_DAY, "certain", "certain"),
    ],
)
def test_canada_asks_for_older_and_newer_entries_by_date(on, old, new):
    assert declared(CREAM, held("Linalool", "0.1", contained=True), markets=("CA",), on=on) == {"CA": old}
    assert declared(CREAM, held("Vanillin", "0.1", contained=True), markets=("CA",), on=on) == {"CA": new}


# 21 U.S.C. 364e(b) waits for a regulation: no US list was in force; the EU's must not stand in.
def test_no_us_list_is_in_force():
    assert declared(CREAM, held("Linalool", "5", contained=True), markets=("US",)) == {"US": "no"}
    assert extras(CREAM, held("Linalool", "5", contained=True), markets=("US",)) == []


# The act prescribes one collective name for a group: printed once, isomers and members summed.
def test_members_of_a_group_are_summed_and_named_once_by_the_group():
    parts = (held("Alpha-Pinene", "0.0006", contained=True), held("\u03b2-Pinene", "0.0006", contained=True))
    assert extras(CREAM, *parts) == [("EU", "Pinene")]
    found = advised(CREAM, *parts).allergens[0]
    assert found.percent.low == Decimal("0.0012")
    assert found.members == ("Alpha-Pinene", "\u03b2-Pinene")


def test_citral_is_the_name_of_geranial_and_neral():
    parts = (held("Geranial", "0.0008", contained=True), held("Neral", "0.0008", contained=True))
    assert extras(CREAM, *parts, markets=("UK",)) == [("UK", "Citral")]


# Decision: the entry is met by a member in the list by its own name; else the group name is added.
def test_an_essential_oil_in_the_list_by_its_own_name_meets_its_entry():
    oil = held("Cedrus Atlantica Wood Oil", "0.5", source="cedar")
    assert extras(CREAM, oil) == []
    found = advised(CREAM, oil).allergens[0]
    assert (found.inci, found.declared) == ("Cedrus Atlantica Wood Oil", (("EU", "certain"),))


def test_an_essential_oil_inside_the_perfume_is_named_by_the_group_name():
    oil = held("Cedrus Atlantica Wood Oil", "0.5", source="cedar", perfume=True)
    assert extras(CREAM, oil) == [("EU", "Cedrus Atlantica Oil/Extract")]


def test_what_the_product_only_may_contain_does_not_meet_an_entry():
    line = Line("Linalool", held("x", "0").percent, "may-contain")
    assert extras(CREAM, held("Linalool", "1", contained=True), lines=(line,)) == [("EU", "Linalool")]


# III/351 names bitter and sweet orange, Citrus Sinensis included; III/366 flower materials, not rosehip.
def test_orange_oils_share_an_entry_and_rosehip_oil_has_none():
    assert extras(CREAM, held("Citrus Sinensis Peel Oil", "1", perfume=True)) == [("EU", "Citrus Aurantium Peel Oil")]
    assert advised(CREAM, held("Rosa Canina Fruit Oil", "1")).allergens == ()
    assert extras(CREAM, held("Rosa Damascena Flower Oil", "1", perfume=True)) == [("EU", "Rose Flower Oil/Extract")]


def test_us_names_in_brackets_are_understood():
    found = advised(CREAM, held("Mentha Piperita (Peppermint) Oil", "1")).allergens
    assert found[0].declared == (("EU", "certain"),)


def test_without_a_use_the_lower_threshold_decides_what_is_printed_and_asks():
    product = Product(name="x", function="Cream")
    between = held("Linalool", "0.005", contained=True)
    assert declared(product, between, markets=("EU",)) == {"EU": "possible"}
    assert "allergen.use" in rules(advised(product, between))
    assert declared(product, held("Linalool", "0.02", contained=True), markets=("EU",)) == {"EU": "certain"}


def test_every_entry_held_is_told_though_it_is_named_nowhere():
    found = advised(CREAM, held("Linalool", "0.0001", contained=True)).allergens
    assert [(item.inci, item.threshold) for item in found] == [("Linalool", Decimal("0.001"))]


# Allergens are declared from every source, so a scent without an allergen sheet can't be declared.
def test_a_perfume_that_states_no_allergens_warns_and_one_that_does_is_silent():
    base = held("Alcohol", "0.9", perfume=True, source="scent")
    assert "allergen.unknown" in rules(advised(CREAM, base), "warning")
    stated = held("Limonene", "0.0001", contained=True, source="scent")
    assert "allergen.unknown" not in rules(advised(CREAM, base, stated))
    assert "allergen.unknown" not in rules(advised(CREAM, base, markets=("US",)))


def test_an_essential_oil_that_states_no_allergens_is_noted():
    assert "allergen.unknown" in rules(advised(CREAM, held("Citrus Limon Peel Oil", "0.2", source="lemon")), "note")
    assert "allergen.unknown" not in rules(advised(CREAM, held("Butyrospermum Parkii Butter", "0.2")))
