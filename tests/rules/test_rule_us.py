"""United States: 21 CFR 740, the guidance on alpha hydroxy acids, 21 CFR 700. Texts stand letter for letter."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from rule_samples import CREAM, FACE, advised, held, rules, texts, warnings

from labeltool.formula.model import Assessment, NetQuantity, Product

AEROSOL = (
    "Warning\u2014Avoid spraying in eyes. Contents under pressure. Do not puncture or incinerate. "
    "Do not store at temperature above 120 \u00b0F. Keep out of reach of children."
)
INHALING = (
    "Warning\u2014Use only as directed. Intentional misuse by deliberately concentrating and inhaling the contents "
    "can be harmful or fatal."
)
BATH = (
    "Caution\u2014Use only as directed. Excessive use or prolonged exposure may cause irritation to skin and urinary "
    "tract. "
    "Discontinue use if rash, redness, or itching occurs. Consult your physician if irritation persists. "
    "Keep out of reach of children."
)
TANNING = (
    "Warning\u2014This product does not contain a sunscreen and does not protect against sunburn. Repeated exposure of "
    "unprotected skin while tanning may increase the risk of skin aging, skin cancer, and other harmful effects to "
    "the skin "
    "even if you do not burn."
)
ALERT = (
    "Sunburn Alert: This product contains an alpha hydroxy acid (AHA) that may increase your skin's sensitivity to "
    "the sun "
    "and particularly the possibility of sunburn. Use a sunscreen, wear protective clothing, and limit sun exposure "
    "while "
    "using this product and for a week afterwards."
)
SPRAY = Product(name="x", function="Body spray", use="leave-on", body_area=("body",), form="aerosol")
FOAM = replace(SPRAY, function="Shaving foam")
BUBBLES = Product(name="x", function="Bubble bath", use="rinse-off", body_area=("body",), form="liquid")
GAS = held("Butane", "30")


def us(product: Product, *substances, **more):
    return texts(advised(product, *(substances or (held("Aqua", "90"),)), markets=("US",), **more), "US")


def test_nothing_special_carries_no_warning():
    assert us(CREAM) == []


# 21 CFR 740.11(a): self-pressurized containers. (b): hydrocarbon propellants, in addition.
def test_an_aerosol_carries_the_first_and_with_a_hydrocarbon_the_second_text():
    assert us(SPRAY) == [AEROSOL]
    assert us(SPRAY, GAS) == [AEROSOL, INHALING]


def test_a_pump_spray_carries_neither_and_a_propellant_gives_it_away():
    pump = replace(SPRAY, form="spray")
    assert us(pump) == []
    assert us(pump, GAS) == [AEROSOL, INHALING]


# 740.11(b)(2): foams with less than 10 percent propellant; net quantity below half an ounce.
@pytest.mark.parametrize(("amount", "texts_"), [("9.9", [AEROSOL]), ("10", [AEROSOL, INHALING])])
def test_a_foam_with_little_propellant_is_spared_the_second(amount, texts_):
    assert us(FOAM, held("Butane", amount)) == texts_
    assert us(SPRAY, held("Butane", amount)) == [AEROSOL, INHALING]


@pytest.mark.parametrize(("grams", "texts_"), [("14.1", [AEROSOL]), ("14.2", [AEROSOL, INHALING])])
def test_less_than_half_an_ounce_is_spared_the_second(grams, texts_):
    assert us(replace(SPRAY, net=NetQuantity(Decimal(grams), "g")), GAS) == texts_


def test_an_unstated_form_with_propellant_proposes_and_asks():
    found = advised(replace(SPRAY, form=None), GAS, markets=("US",))
    assert texts(found, "US") == [] and texts(found, "US", required=False) == [AEROSOL, INHALING]
    assert "text.asked" in rules(found, "warning")


# 740.17: required by default; an old page of the agency leaves out the last sentence, and is wrong to copy.
def test_a_foaming_bath_carries_all_five_sentences():
    assert us(BUBBLES) == [BATH]


def test_only_a_label_for_adults_alone_is_exempt():
    assert us(replace(BUBBLES, users=("adults",))) == [BATH]
    assert us(replace(BUBBLES, directions="For adults only: pour under the tap.")) == []
    assert us(replace(BUBBLES, warnings=("For adult use only.",))) == []


def test_a_bath_oil_that_does_not_foam_is_none():
    assert us(replace(BUBBLES, function="Bath oil")) == []


# 740.19: includes products that only colour the skin (dihydroxyacetone); not with a sunscreen ingredient.
def test_tanners_carry_the_suntanning_text():
    tanner = Product(name="x", function="Self-tanning mousse", use="leave-on", body_area=("body",), form="cream")
    assert us(tanner, held("Dihydroxyacetone", "5")) == [TANNING]
    assert us(CREAM, held("Dihydroxyacetone", "2")) == [TANNING]
    assert us(tanner, held("Octocrylene", "5")) == []
    hair = Product(name="x", function="Hair dye", use="leave-on", body_area=("hair",), form="cream")
    assert us(hair, held("Dihydroxyacetone", "2")) == []


# 740.12: feminine deodorant sprays, and by its definition those for use all over the body.
def test_deodorant_sprays_for_all_over_the_body_are_caught():
    deodorant = replace(SPRAY, function="Deodorant", form="spray")
    assert us(deodorant) == []
    found = us(replace(deodorant, directions="Spray all over the body."))
    assert len(found) == 1
    assert found[0].startswith("Caution\u2014For external use only. Spray at least 8 inches from skin.")
    assert us(replace(SPRAY, function="Intimate deodorant spray", form="spray")) == found


# 740.18 is stayed since 18 September 1980: never printed. 21 U.S.C. 361(a) is what dyes carry.
def test_the_stayed_warning_is_never_printed():
    dye = Product(name="x", function="Hair dye", use="rinse-off", body_area=("hair",), form="cream")
    found = us(dye, held("2,4-Diaminoanisole", "1"), held("p-Phenylenediamine", "1"))
    assert len(found) == 1 and "preliminary test" in found[0] and "cancer" not in found[0]
    assert found[0].startswith("Caution\u2014This product contains ingredients which may cause skin irritation")


# 740.10: nobody but the maker knows; told while no assessment is on file, never printed.
def test_the_safety_statement_is_a_note_until_the_product_is_assessed():
    assert us(CREAM) == []
    assert "text.more" in rules(advised(CREAM, held("Aqua", "9"), markets=("US",)), "note")
    assessed = replace(CREAM, assessed=Assessment("A. Assessor"))
    assert "text.more" not in rules(advised(assessed, held("Aqua", "9"), markets=("US",)))


# Guidance of January 2005 (the draft of 2002 lacked "wear protective clothing").
@pytest.mark.parametrize("name", ["Glycolic Acid", "Lactic Acid", "Malic Acid", "Tartaric Acid", "Mandelic Acid"])
def test_an_alpha_hydroxy_acid_carries_the_sunburn_alert(name):
    assert us(FACE, held(name, "5")) == [ALERT]
    assert us(FACE, held(name, "5"), languages=("de", "fr")) == [ALERT]


def test_the_alert_says_that_it_is_a_guidance_and_names_the_acids():
    found = warnings(advised(FACE, held("Glycolic Acid", "5"), held("Lactic Acid", "2"), markets=("US",)), "US")
    assert [(item.confidence, item.because) for item in found] == [("practice", "Glycolic Acid + Lactic Acid")]


# Decision: pH adjusters do not count; citric acid up to 0.5 % without a purpose does not either, and is noted.
def test_acids_that_only_adjust_the_ph_do_not_count():
    assert us(CREAM, held("Citric Acid", "2", purposes=("ph-adjuster",))) == []
    assert us(CREAM, held("Lactic Acid", "0.3", purposes=("ph-adjuster",))) == []
    assert us(CREAM, held("Lactic Acid", "0.3", purposes=("buffer",))) == []


@pytest.mark.parametrize(("amount", "texts_", "note"), [("0.5", [], True), ("0.51", [ALERT], False)])
def test_citric_acid_without_a_purpose_is_taken_for_an_adjuster_up_to_half_a_percent(amount, texts_, note):
    found = advised(CREAM, held("Citric Acid", amount), markets=("US",))
    assert texts(found, "US") == texts_
    assert ("aha.aside" in rules(found, "note")) is note


def test_citric_acid_that_exfoliates_counts_at_any_level():
    assert us(FACE, held("Citric Acid", "0.1", purposes=("exfoliant",))) == [ALERT]


def test_lactates_count_only_where_they_exfoliate_and_reacted_acid_not_at_all():
    assert us(CREAM, held("Sodium Lactate", "3")) == []
    assert us(CREAM, held("Sodium Lactate", "3", purposes=("exfoliant",))) == [ALERT]
    assert us(CREAM, held("Lactic Acid", "3", purposes=("reacted",))) == []


def test_the_alert_is_for_the_us_alone():
    assert texts(advised(FACE, held("Glycolic Acid", "5")), "EU") == []


# 21 CFR 700.11 to 700.27.
@pytest.mark.parametrize("name", ["Bithionol", "Chloroform", "Methylene Chloride", "Tribromsalan", "Calomel"])
def test_what_part_700_prohibits_is_refused(name):
    assert "substance.prohibited" in rules(advised(CREAM, held(name, "0.1"), markets=("US",)), "error", "US")


# 700.16: zirconium complexes in aerosols; non-aerosol products are not covered. 700.14: vinyl chloride in aerosols.
def test_zirconium_is_prohibited_in_aerosols_only():
    name = "Aluminum Zirconium Tetrachlorohydrex Gly"
    assert "substance.prohibited" in rules(advised(SPRAY, held(name, "10"), markets=("US",)), "error")
    assert "substance.prohibited" not in rules(advised(CREAM, held(name, "10"), markets=("US",)))
    assert "substance.prohibited" in rules(advised(SPRAY, held("Vinyl Chloride", "1"), markets=("US",)), "error")


# 700.13: 65 parts per million of mercury in eye-area cosmetics, below 1 part per million elsewhere.
def test_mercury_preservatives_by_area():
    eyes = Product(name="x", function="Eyeliner", use="leave-on", body_area=("eyes",), form="liquid")
    thimerosal = held("Thimerosal", "0.01")  # 49.6 % mercury
    assert "substance.prohibited" not in rules(advised(eyes, thimerosal, markets=("US",)))
    assert "substance.prohibited" in rules(advised(eyes, held("Thimerosal", "0.014"), markets=("US",)), "error")
    assert "substance.prohibited" in rules(advised(CREAM, thimerosal, markets=("US",)), "error")


def test_borax_is_no_matter_of_the_us_rules():
    assert "substance.prohibited" not in rules(advised(CREAM, held("Sodium Borate", "1"), markets=("US",)))
