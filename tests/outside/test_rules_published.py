"""Rules against figures and sentences that regulators and acts publish; the source stands beside each check."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from fractions import Fraction

import pytest

from labeltool import tables
from labeltool.compose.model import Composition, Line, Percent, Substance
from labeltool.formula.model import Product
from labeltool.rules.advise import advise
from labeltool.rules.rulebook import rule_book

BOOK = rule_book(tables.toml)
DEODORANT = Product("x", function="Deodorant", use="leave-on", body_area=("body",))
WASH = Product("x", function="Body wash", use="rinse-off", body_area=("body",))
CREAM = Product(name="x", function="Cream", use="leave-on", body_area=("face",), form="cream")


def advised(product: Product, name: str, amount: str, market: str, on: dt.date = dt.date(2026, 11, 25)):
    value = Percent(Decimal(amount), Decimal(amount), Decimal(amount))
    lines = (Line(name, value, "minor", ("m",)),)
    return advise(product, Composition(lines, (Substance(name, value, ("m",)),), ()), (market,), on, tables.toml)


# Retinol equivalents of Regulation (EU) 2024/996: acetate x 0.872, palmitate x 0.546 (three figures published).
# Ammonia: 17.03 / 35.05. Benzoates: 144.11 / 122.12. Sorbates: 150.22 / 112.13 (molar masses of chemical suppliers'
# sheets).
@pytest.mark.parametrize(
    ("salt", "basis", "published", "figures"),
    [
        ("Retinyl Acetate", "Retinol", "0.872", 3), ("Retinyl Palmitate", "Retinol", "0.546", 3),
        ("Ammonium Hydroxide", "Ammonia", "0.4859", 4), ("Sodium Benzoate", "Benzoic Acid", "0.8474", 4),
        ("Potassium Sorbate", "Sorbic Acid", "0.7464", 4), ("Sodium Metabisulfite", "Sulfur Dioxide", "0.674", 3),
        ("Urea Peroxide", "Hydrogen Peroxide", "0.362", 3), ("Methylparaben", "4-Hydroxybenzoic Acid", "0.908", 3),
    ],
)
def test_conversion_factors_agree_with_published_ones(salt, basis, published, figures):
    factor = BOOK.molar.factor(salt, basis)
    assert factor is not None
    assert abs(factor - Fraction(published)) <= Fraction(1, 10 ** figures)


# Molar masses, g/mol. Read: diazolidinyl urea 278.22, made of allantoin and 4 formaldehyde (public encyclopaedia).
# The others as data sheets print them, from memory.
@pytest.mark.parametrize(
    ("name", "mass"),
    [
        ("Benzoic Acid", "122.12"), ("Sodium Benzoate", "144.10"), ("Sorbic Acid", "112.13"),
        ("Potassium Sorbate", "150.22"),
        ("Salicylic Acid", "138.12"), ("Methylparaben", "152.15"), ("Propylparaben", "180.20"), ("Retinol", "286.45"),
        ("Retinyl Palmitate", "524.86"), ("DMDM Hydantoin", "188.18"), ("Diazolidinyl Urea", "278.22"),
        ("Imidazolidinyl Urea", "388.29"), ("2-Bromo-2-Nitropropane-1,3-Diol", "199.99"), ("Formaldehyde", "30.03"),
        ("Dehydroacetic Acid", "168.15"), ("Sodium Hydroxide", "40.00"), ("Hydrogen Peroxide", "34.01"),
        ("Thioglycolic Acid", "92.12"), ("Zinc PCA", "321.6"), ("Chlorhexidine Digluconate", "897.8"),
    ],
)
def test_molar_masses_agree_with_published_ones(name, mass):
    row = BOOK.molar.find(name)
    assert row is not None and abs(row.mass - Decimal(mass)) <= Decimal("0.05")


# 21 CFR 740.11, .12, .17, .19 as the eCFR prints them: beginnings and ends of the texts.
@pytest.mark.parametrize(
    ("key", "begins", "ends"),
    [
        ("us-aerosol", "Warning\u2014Avoid spraying in eyes.", "Keep out of reach of children."),
        ("us-aerosol-inhaling", "Warning\u2014Use only as directed.", "inhaling the contents can be harmful or fatal."),
        ("us-deodorant-spray", "Caution\u2014For external use only.", "if rash, irritation, or discomfort develops."),
        ("us-foaming-bath", "Caution\u2014Use only as directed.", "Keep out of reach of children."),
        ("us-suntanning", "Warning\u2014This product does not contain", "to the skin even if you do not burn."),
        ("us-safety-not-determined", "Warning\u2014The safety of this product", "has not been determined."),
        ("us-aha", "Sunburn Alert: This product contains an alpha", "for a week afterwards."),
    ],
)
def test_texts_of_the_us_begin_and_end_as_published(key, begins, ends):
    text = BOOK.wordings.text(key)
    assert text.startswith(begins) and text.endswith(ends)


# The draft guidance of 2002 on alpha hydroxy acids lacked "wear protective clothing"; the one of 2005 has it.
def test_the_alert_is_that_of_2005():
    assert ". Use a sunscreen, wear protective clothing, and limit sun exposure while" in BOOK.wordings.text("us-aha")


# Regulation (EU) 2022/1181 quotes the words; the German ones are the act's own.
def test_words_of_the_formaldehyde_rule():
    assert BOOK.wordings.text("releases-formaldehyde") == "releases formaldehyde"
    assert BOOK.wordings.text("releases-formaldehyde", "de") == "spaltet Formaldehyd ab"
    assert BOOK.wordings.text("releases-formaldehyde", "it") == "Rilascia formaldeide"


# Consolidated Annex III of 18 May 2026 has 81 entries that name an allergen; 24 of the 26 of Directive 2003/15/EC
# remain.
def test_the_list_of_allergens_is_complete():
    entries = BOOK.allergens.entries
    assert len(entries) == 81 and sum(entry.legacy for entry in entries) == 24
    old = {
        "Amyl Cinnamal", "Benzyl Alcohol", "Cinnamyl Alcohol", "Citral", "Eugenol", "Hydroxycitronellal", "Isoeugenol",
        "Amylcinnamyl Alcohol", "Benzyl Salicylate", "Cinnamal", "Coumarin", "Geraniol", "Anise Alcohol",
        "Benzyl Cinnamate", "Farnesol", "Linalool", "Benzyl Benzoate", "Citronellol", "Hexyl Cinnamal", "Limonene",
        "Methyl 2-Octynoate", "Alpha-Isomethyl Ionone", "Evernia Prunastri Extract", "Evernia Furfuracea Extract",
    }
    assert {entry.name for entry in entries if entry.legacy} == old


# Cosmetic Regulations, C.R.C., c. 869, s. 21.4(4): greater than 0.001 % left on, 0.01 % rinsed off.
@pytest.mark.parametrize(
    ("use", "amount", "sure"),
    [
        ("leave-on", "0.001", "no"), ("leave-on", "0.0010001", "certain"),
        ("rinse-off", "0.01", "no"), ("rinse-off", "0.0100001", "certain"),
    ],
)
def test_canadian_thresholds(use, amount, sure):
    product = Product(name="x", function="y", use=use)
    assert advised(product, "Limonene", amount, "CA").allergens[0].declared == (("CA", sure),)


# European Parliament answer E-012173/2013: phenoxyethanol 1.0 %. Official Journal 22.12.2009, V/56: 0.02, 0.01,
# 0.0075 %.
@pytest.mark.parametrize(
    ("product", "name", "limit"),
    [
        (CREAM, "Phenoxyethanol", "1"), (CREAM, "Iodopropynyl Butylcarbamate", "0.01"),
        (DEODORANT, "Iodopropynyl Butylcarbamate", "0.0075"),
        (WASH, "Iodopropynyl Butylcarbamate", "0.02"),
    ],
)
def test_limits_as_published(product, name, limit):
    step = Decimal("0.000001")
    at = advised(product, name, limit, "EU").limits
    above = advised(product, name, str(Decimal(limit) + step), "EU").limits
    assert [(item.limit, item.state) for item in at] == [(Decimal(limit), "within")]
    assert [(item.limit, item.state, item.level) for item in above] == [(Decimal(limit), "over", "error")]
