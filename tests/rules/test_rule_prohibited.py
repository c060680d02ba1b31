"""Annex II: sources are the numbers named beside each check."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest
from rule_samples import CREAM, FACE, WASH, advised, held, limits, one, rules

DAY = dt.timedelta(days=1)


@pytest.mark.parametrize(
    ("name", "ref"),
    [
        ("Dimethyl Sulfoxide", "II/338"), ("Tretinoin", "II/375"), ("Cholecalciferol", "II/335"),
        ("Isobutylparaben", "II/1374-1378"), ("Quaternium-15", "II/1385-1386"), ("Cyclotetrasiloxane", "II/1388"),
        ("Butylphenyl Methylpropional", "II/1666"), ("Zinc Pyrithione", "II/1670"),
        ("Pentasodium Pentetate", "II/1721"),
        ("Sodium Borate", "II/1395-1396"), ("CI 45170", "II/398"), ("Formaldehyde", "II/1577"),
    ],
)
def test_prohibited_substances_refuse(name, ref):
    found = one(advised(CREAM, held(name, "0.1")), ref)
    assert (found.state, found.level, found.confidence, found.limit) == ("over", "error", "law", Decimal(0))
    assert rules(advised(CREAM, held(name, "0.1")), "error").count("substance.prohibited") == 1


def test_a_substance_that_may_be_there_warns():
    found = one(advised(CREAM, held("Dimethyl Sulfoxide", "0", "0.1")), "II/338")
    assert (found.state, found.level) == ("possible", "warning")


@pytest.mark.parametrize(
    "name",
    [
        "Talc", "Melaleuca Alternifolia Leaf Oil",  # not banned in November 2026
        "Calendula Officinalis Flower Extract",  # II/1383 is Tagetes erecta
        "Azadirachta Indica Seed Oil",  # II/1716 is another extract
        "Juniperus Communis Fruit Oil",  # II/294 is J. sabina
        "Laurus Nobilis Leaf Oil",  # II/359 is the oil of the seeds
        "Barium Sulfate", "Chromium Hydroxide Green", "Selenium Disulfide", "Cannabis Sativa Seed Oil",
        "Lippia Citriodora Absolute", "Gold", "Leuconostoc/Radish Root Ferment Filtrate",
    ],
)
def test_what_only_resembles_a_prohibited_name_is_left_alone(name):
    assert not [rule for rule in rules(advised(CREAM, held(name, "0.1"))) if rule == "substance.prohibited"]


def test_a_name_of_the_family_warns_and_never_refuses():
    found = advised(CREAM, held("Lead Chromate", "1"))
    assert rules(found, "warning").count("substance.prohibited") == 1 and not rules(found, "error")


def test_the_seed_oil_of_laurel_is_meant():
    assert "substance.prohibited" in rules(advised(CREAM, held("Laurus Nobilis Seed Oil", "1")), "error")


# II/1388: cyclomethicone only where it contains D4: ask the supplier.
def test_cyclomethicone_warns():
    found = advised(CREAM, held("Cyclomethicone", "1"))
    assert rules(found, "warning").count("substance.prohibited") == 1 and not rules(found, "error")


# II/423, 436 and others: only when used as a fragrance ingredient.
def test_a_ban_for_fragrance_use_asks_for_the_purpose():
    name = "Dihydrocoumarin"
    assert "substance.prohibited" in rules(advised(CREAM, held(name, "0.1", perfume=True)), "error")
    assert "substance.prohibited" in rules(advised(CREAM, held(name, "0.1", purposes=("fragrance",))), "error")
    assert "substance.prohibited" in rules(advised(CREAM, held(name, "0.1")), "warning")
    assert "substance.prohibited" not in rules(advised(CREAM, held(name, "0.1", purposes=("solvent",))))


# II/360: safrole is banned as such; the normal content of natural essences is bounded (100 ppm).
def test_safrole_added_is_prohibited_and_contained_is_bounded():
    assert "substance.prohibited" in rules(advised(CREAM, held("Safrole", "0.001")), "error")
    trace = advised(CREAM, held("Safrole", "0.01", contained=True))
    assert "substance.prohibited" not in rules(trace) and one(trace, "II/360").state == "within"
    assert one(advised(CREAM, held("Safrole", "0.011", contained=True)), "II/360").level == "error"


# II/1370 with III/186: diethylene glycol as a trace up to 0.1 %.
def test_a_trace_that_the_law_allows_is_no_ban():
    assert "substance.prohibited" not in rules(advised(WASH, held("Diethylene Glycol", "0.1")))
    assert "substance.prohibited" in rules(advised(WASH, held("Diethylene Glycol", "0.11")), "error")


# II/451 does not exist: methyl eugenol is III/102.
def test_methyl_eugenol_is_not_in_annex_two():
    found = advised(CREAM, held("Methyl Eugenol", "0.0001", contained=True))
    assert "substance.prohibited" not in rules(found) and limits(found, "III/102")


# II/1731 (EU) 2025/877: 1 September 2025, no sell-off. Great Britain: not read.
def test_a_dated_ban_begins_on_its_day_and_warns_where_it_was_not_read():
    name, start = "Trimethylbenzoyl Diphenylphosphine Oxide", dt.date(2025, 9, 1)
    assert "substance.prohibited" not in rules(advised(CREAM, held(name, "1"), on=start - DAY))
    assert "law.coming" in rules(advised(CREAM, held(name, "1"), on=start - DAY), "note")
    for on in (start, start + DAY):
        assert "substance.prohibited" in rules(advised(CREAM, held(name, "1"), on=on), "error")
    assert "substance.prohibited" in rules(advised(CREAM, held(name, "1"), markets=("UK",)), "warning", "UK")


# II/1339 but for III/14: hydroquinone on the face is refused by both.
def test_hydroquinone_is_banned_outside_nail_systems():
    assert "substance.prohibited" in rules(advised(FACE, held("Hydroquinone", "0.01")), "error")


# Rows with examples from memory (II/300 names the class of glucocorticoids) warn and say so.
def test_a_class_with_members_from_memory_warns():
    found = advised(CREAM, held("Hydrocortisone", "1"))
    assert "substance.prohibited" in rules(found, "warning") and not rules(found, "error")
    assert any("not checked" in item.text for item in found.findings if item.rule == "substance.prohibited")


# II/1727: silver of 100 nm to 1 mm is allowed in some uses; what a colloid holds is not told by its name.
def test_a_condition_that_no_composition_shows_warns():
    found = advised(CREAM, held("Colloidal Silver", "0.1"))
    assert "substance.prohibited" in rules(found, "warning") and not rules(found, "error")


def test_a_prohibited_substance_that_has_reacted_warns():
    found = advised(CREAM, held("Sodium Borate", "1", purposes=("reacted",)))
    assert "substance.prohibited" in rules(found, "warning") and not rules(found, "error")
