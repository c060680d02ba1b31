"""Limits of Annexes III and V: scopes, bases, sums, purposes, levels. Sources: the row named beside each check."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest
from rule_samples import CREAM, FACE, LOTION, WASH, advised, held, limits, one, rules, texts

from labeltool.formula.model import Product, Span

DAY = dt.timedelta(days=1)
BAR = Product(name="Olive bar", function="Soap", use="rinse-off", body_area=("hands", "body"), form="bar")
RINSE = Product(name="x", function="Conditioner", use="rinse-off", body_area=("hair",), form="cream")
KIDS = Product(name="x", function="Lotion", use="leave-on", body_area=("body",), form="cream", users=("under-3",))


def span(low: str, high: str) -> Span:
    return Span(Decimal(low), Decimal(high))


def states(product: Product, ref: str, *substances, **more):
    return [(item.state, item.level) for item in limits(advised(product, *substances, **more), ref)]


# V/29 phenoxyethanol: 1.0 % in the product; the limit itself is allowed.
@pytest.mark.parametrize(
    ("low", "high", "state", "level"),
    [
        ("1.0", "1.0", "within", "ok"), ("1.000001", "1.000001", "over", "error"),
        ("0.9", "1.1", "possible", "warning"), ("0.9", "1.0", "within", "ok"),
    ],
)
def test_the_high_end_decides_and_the_low_end_is_sure(low, high, state, level):
    found = one(advised(CREAM, held("Phenoxyethanol", low, high)), "V/29")
    assert (found.state, found.level, found.limit, found.confidence) == (state, level, Decimal("1"), "law")


def test_a_limit_passed_is_a_finding_with_all_it_takes():
    found = [item for item in advised(CREAM, held("Phenoxyethanol", "1.2")).findings if item.rule == "limit.over"]
    assert len(found) == 1
    assert (found[0].level, found[0].market, found[0].confidence) == ("error", "EU", "law")
    assert found[0].source == "Regulation (EC) No 1223/2009, Annex V/29"
    assert "1 %" in found[0].limit and found[0].do


def test_the_uk_has_the_row_as_assimilated_law():
    found = one(advised(CREAM, held("Phenoxyethanol", "1.2"), markets=("UK",)), "V/29", "UK")
    assert found.level == "error" and found.source.startswith("assimilated")


# Annex III/2a: as thioglycolic acid, general and professional use apart.
def test_professional_strength_needs_a_professional_product():
    perm = Product(name="x", function="Perm lotion", use="rinse-off", body_area=("hair",), form="liquid")
    amount = held("Ammonium Thioglycolate", "11.5")  # 9.7 % acid
    assert one(advised(perm, amount), "III/2a").level == "error"
    assert one(advised(replace(perm, professional=True), amount), "III/2a").state == "within"


# III/4: ammonium hydroxide is 17.03/35.05 ammonia; "Contains ammonia" above 2 %.
def test_ammonia_water_counts_as_ammonia_for_limit_and_text():
    assert one(advised(WASH, held("Ammonium Hydroxide", "12.3")), "III/4").state == "within"
    assert one(advised(WASH, held("Ammonium Hydroxide", "12.4")), "III/4").state == "over"
    assert "Contains ammonia" in texts(advised(WASH, held("Ammonium Hydroxide", "4.2")))
    assert "Contains ammonia" not in texts(advised(WASH, held("Ammonium Hydroxide", "4.1")))


# III/15a(d): soap making and neutralising carry no warning text, only the pH bound.
def test_lye_in_soap_carries_no_warning():
    found = advised(BAR, held("Sodium Hydroxide", "10"))
    assert texts(found) == [] and limits(found, "III/15a") == []
    assert rules(found, "note").count("limit.ph") == 1


def test_a_ph_above_the_bound_is_an_error_and_inside_it_silent():
    strong = replace(BAR, ph=span("11.2", "11.5"))
    assert "limit.ph" in rules(advised(strong, held("Sodium Hydroxide", "10")), "error")
    edge = replace(BAR, ph=span("10.5", "11.2"))
    assert "limit.ph" in rules(advised(edge, held("Sodium Hydroxide", "10")), "warning")
    mild = replace(BAR, ph=span("9.5", "11"))
    assert "limit.ph" not in rules(advised(mild, held("Sodium Hydroxide", "10")))


def test_lye_that_has_reacted_never_refuses():
    strong = replace(BAR, ph=span("11.2", "11.5"))
    found = advised(strong, held("Sodium Hydroxide", "10", purposes=("reacted",)))
    assert "limit.ph" in rules(found, "warning") and not rules(found, "error")


# III/53: tetrasodium etidronate in soap counts as etidronic acid, 0.2 %.
def test_a_chelator_in_soap_counts_as_its_acid():
    assert one(advised(BAR, held("Tetrasodium Etidronate", "0.28")), "III/53").state == "within"
    assert one(advised(BAR, held("Tetrasodium Etidronate", "0.29")), "III/53").level == "error"


# III/24: water-soluble zinc salts, 1 % as zinc, all together; zinc oxide and zinc ricinoleate are not meant.
def test_zinc_salts_are_summed_as_zinc():
    both = (held("Zinc PCA", "2"), held("Zinc Gluconate", "4.2"))
    assert [one(advised(CREAM, item), "III/24").state for item in both] == ["within", "within"]
    assert one(advised(CREAM, *both), "III/24").level == "error"
    assert limits(advised(CREAM, held("Zinc Oxide", "10"), held("Zinc Ricinoleate", "5")), "III/24") == []


def test_a_salt_without_a_molar_mass_warns_and_does_not_refuse():
    found = one(advised(CREAM, held("Zinc Coco-Sulfate", "3")), "III/24")
    assert (found.state, found.level) == ("over", "warning")


# III/376: retinol equivalents: acetate x 0.872, palmitate x 0.546; body lotion 0.05 %, others 0.3 %.
def test_retinol_esters_count_as_retinol_equivalents():
    assert one(advised(LOTION, held("Retinyl Palmitate", "0.0917")), "III/376").state == "over"
    assert one(advised(LOTION, held("Retinyl Palmitate", "0.0916")), "III/376").state == "within"
    assert one(advised(FACE, held("Retinyl Acetate", "0.344")), "III/376").state == "within"
    both = (held("Retinyl Palmitate", "0.3"), held("Retinol", "0.14"))
    assert one(advised(FACE, *both), "III/376").level == "error"
    assert limits(advised(FACE, held("Retinal", "1"), held("Hydroxypinacolone Retinoate", "1")), "III/376") == []


# (EU) 2024/996: placing from 1 November 2025, on sale until 30 April 2027; no GB act was found.
def test_retinol_is_restricted_in_the_eu_by_date_and_not_in_great_britain():
    start, item = dt.date(2025, 11, 1), held("Retinol", "0.5")
    for on, count in ((start - DAY, 0), (start, 1), (start + DAY, 1)):
        assert len(limits(advised(FACE, item, on=on), "III/376")) == count
    assert "Contains Vitamin A. Consider your daily intake before use" in texts(advised(FACE, held("Retinol", "0.01")))
    uk = advised(FACE, item, markets=("UK",))
    assert limits(uk, "III/376", "UK") == [] and texts(uk, "UK") == []


def test_without_a_purpose_the_stricter_row_holds_and_the_finding_says_what_would_change_it():
    found = advised(FACE, held("Salicylic Acid", "0.6"))
    assert one(found, "V/3").level == "warning"
    told = next(item for item in found.findings if item.rule == "limit.over")
    assert 'purpose = "exfoliant"' in told.do and "III/98" in told.do


# III/375 kojic acid: face and hand products 1 %. GB: SI 2024/1334 from 20 June 2025.
def test_kojic_acid_by_area_and_date():
    item = held("Kojic Acid", "1.1")
    assert one(advised(FACE, item), "III/375").level == "error"
    outside = one(advised(LOTION, held("Kojic Acid", "0.5")), "III/375")
    assert (outside.limit, outside.level) == (Decimal(0), "warning")
    start = dt.date(2025, 6, 20)
    assert limits(advised(FACE, item, markets=("UK",), on=start - DAY), "III/375", "UK") == []
    assert one(advised(FACE, item, markets=("UK",), on=start), "III/375", "UK").level == "error"


# III/14 hydroquinone: artificial nails by professionals; "prohibited for all other uses".
def test_hydroquinone_is_refused_outside_its_one_use():
    found = advised(FACE, held("Hydroquinone", "0.01"))
    assert one(found, "III/14").level == "error" and "substance.prohibited" in rules(found, "error")
    nails = Product("x", function="Builder gel", use="leave-on", body_area=("nails",), form="gel", professional=True)
    allowed = advised(nails, held("Hydroquinone", "0.02"))
    assert one(allowed, "III/14").state == "within" and not rules(allowed, "error")
    assert "For professional use only" in texts(allowed)


# III/102 is methyl eugenol (III/194 glyoxal): 0.0002 % left on, 0.001 % rinsed off, summed over all essential oils.
def test_methyl_eugenol_of_two_oils_is_summed():
    one_oil = held("Methyl Eugenol", "0.00015", contained=True, source="basil")
    other = held("Methyl Eugenol", "0.0001", contained=True, source="bay")
    assert one(advised(CREAM, one_oil), "III/102").state == "within"
    assert one(advised(CREAM, one_oil, other), "III/102").level == "error"
    assert one(advised(WASH, one_oil, other), "III/102").state == "within"
    assert one(advised(CREAM, held("Glyoxal", "0.011")), "III/194").level == "error"


# III/157: 0.02 % for the sum of all rose ketones, isodamascone included, which has no allergen entry.
def test_isodamascone_counts_to_the_rose_ketones_and_is_no_allergen():
    parts = (held("Alpha-Damascone", "0.015", contained=True), held("Isodamascone", "0.01", contained=True))
    found = advised(CREAM, *parts)
    assert one(found, "III/157").level == "error"
    assert [item.percent.low for item in found.allergens] == [Decimal("0.015")]


# III/308 and 309: "in combination the total must not exceed the limit"; not in sun products.
def test_two_tagetes_oils_share_one_limit():
    parts = (held("Tagetes Minuta Flower Oil", "0.006"), held("Tagetes Patula Flower Oil", "0.006"))
    found = advised(CREAM, *parts)
    assert [one(found, "III/308").level, one(found, "III/309").level] == ["error", "error"]
    assert one(advised(CREAM, parts[0]), "III/308").state == "within"
    tan = Product(name="x", function="After sun lotion", use="leave-on", body_area=("body",), form="cream")
    assert "limit.use" in rules(advised(tan, parts[0]), "error")


# III/62: triethanolamine 2.5 % where it stays on, no limit where it is rinsed off.
def test_triethanolamine_by_use():
    assert one(advised(CREAM, held("Triethanolamine", "2.6")), "III/62").level == "error"
    assert limits(advised(WASH, held("Triethanolamine", "5")), "III/62") == []


# III/321 covers a titanium dioxide powder of fine particles; whether the material is one only the supplier can tell.
def test_titanium_dioxide_powder_warns_and_asks():
    powder = Product(name="x", function="Face powder", use="leave-on", body_area=("face",), form="powder")
    found = advised(powder, held("Titanium Dioxide", "30"))
    assert (one(found, "III/321").level, one(found, "III/321").limit) == ("warning", Decimal(25))
    assert limits(advised(CREAM, held("Titanium Dioxide", "30")), "III/321") == []


# Rows from memory warn and say so (decision 1); III/153 has its product types from memory.
def test_a_row_from_memory_never_refuses_and_says_so():
    found = advised(CREAM, held("Amylcyclopentenone", "0.5"))
    assert one(found, "III/153").level == "warning"
    assert any("not checked against the text" in item.text for item in found.findings)


def test_a_scope_that_the_facts_leave_open_warns_and_asks():
    bare = Product(name="x", function="Cream", form="cream")
    found = advised(bare, held("Sodium Benzoate", "1"))
    assert {item.state for item in limits(found, "V/1")} == {"possible", "within"}
    assert not rules(found, "error")
    assert any("use (" in (item.do or "") for item in found.findings)


# III/88 and 103 ff.: peroxide values bind the substance, not the product; told, not computed.
def test_conditions_of_raw_materials_are_notes_on_what_is_added_not_on_what_is_contained():
    assert "limit.condition" in rules(advised(CREAM, held("Limonene", "0.1")), "note")
    assert "limit.condition" in rules(advised(CREAM, held("Cedrus Atlantica Wood Oil", "0.1")), "note")
    assert "limit.condition" not in rules(advised(CREAM, held("Limonene", "0.1", contained=True)))


# III/306: no allergen text is required for peanut oil.
def test_peanut_oil_asks_the_supplier_and_prints_nothing():
    found = advised(CREAM, held("Arachis Hypogaea Oil", "5"))
    assert texts(found) == [] and "limit.condition" in rules(found, "note")


# III/59(a): talc powders for children under 3.
def test_talc_has_its_warning_on_baby_powders_only():
    baby = replace(KIDS, function="Baby powder", form="powder")
    assert texts(advised(baby, held("Talc", "90"))) == ["Keep powder away from children's nose and mouth"]
    adult = Product(name="x", function="Body powder", use="leave-on", body_area=("body",), form="powder")
    assert texts(advised(adult, held("Talc", "90"))) == []


# Fruit acids have no row in Annex III; tea tree oil has no limit of law yet: notes at most.
@pytest.mark.parametrize("name", ["Glycolic Acid", "Melaleuca Alternifolia Leaf Oil"])
def test_advice_that_is_no_law_is_a_note(name):
    found = advised(CREAM, held(name, "20"))
    assert {item.level for item in found.limits} == {"note"}
    assert set(rules(found)) >= {"limit.over"} and not rules(found, "warning")


# Annex III 225-281 and the fluorides 26-56 are not in the tables: said, never passed over.
@pytest.mark.parametrize("market", ["EU", "UK"])
def test_what_the_tables_do_not_hold_is_said(market):
    dye = Product(name="x", function="Hair dye", use="rinse-off", body_area=("hair",), form="cream")
    assert "text.more" in rules(advised(dye, held("Toluene-2,5-Diamine", "1"), markets=(market,)), "warning")
    paste = Product(name="x", function="Toothpaste", use="rinse-off", body_area=("mouth",), form="gel")
    assert "text.more" in rules(advised(paste, held("Stannous Fluoride", "0.4"), markets=(market,)), "warning")
    assert "text.more" not in rules(advised(CREAM, held("Aqua", "1"), markets=(market,)))


def test_wintergreen_oil_and_its_methyl_salicylate_are_not_counted_twice():
    oil = held("Gaultheria Procumbens Leaf Oil", "0.05", source="oil")
    found = advised(CREAM, oil, held("Methyl Salicylate", "0.049", contained=True, source="oil"))
    assert one(found, "III/324").state == "within" and "text.more" in rules(found, "note")


# III/89 and 173: methyl 2-octynoate 0.01 % alone; with methyl octine carbonate 0.01 % together, of which 0.002 %.
def test_two_alkynoates_are_bounded_alone_and_together():
    alone = held("Methyl 2-Octynoate", "0.009", contained=True)
    assert [(item.inci, item.state) for item in limits(advised(CREAM, alone), "III/89")] == [(alone.inci, "within")]
    both = advised(CREAM, alone, held("Methyl Octine Carbonate", "0.0015", contained=True))
    assert [(item.state, item.value.low) for item in limits(both, "III/89")] == [
        ("within", Decimal("0.009")), ("over", Decimal("0.0105")),
    ]


# III/63: limit read, sentences from memory: proposed, never printed as law.
def test_texts_of_a_row_from_memory_are_proposed():
    cream = Product(name="x", function="Depilatory cream", use="rinse-off", body_area=("body",), form="cream")
    found = advised(replace(cream, ph=span("9", "10")), held("Strontium Hydroxide", "1"))
    assert texts(found) == []
    assert texts(found, required=False) == ["Keep out of reach of children", "Avoid contact with eyes"]
