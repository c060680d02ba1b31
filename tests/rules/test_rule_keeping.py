"""Water without a preservative: common practice, no source; a note or a warning, never a refusal."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from rule_samples import CREAM, LOTION, WASH, advised, held

from labeltool.formula.model import Product, ProductText, Span
from labeltool.rules.claims import unread_languages
from labeltool.rules.keeping import is_water

OIL = held("Helianthus Annuus Seed Oil", "30")


def keeping(product: Product, *substances, **more):
    found = advised(product, *substances, OIL, **more).findings
    return [(item.level, item.text) for item in found if item.rule == "preservative.none"]


def test_water_alone_is_warned_of_once_for_all_markets():
    found = keeping(CREAM, held("Aqua", "60", "70"), markets=("UK", "EU", "US", "CA"))
    assert found == [("warning", "60 to 70 % water and no preservative that the tables know")]


@pytest.mark.parametrize("name", ["Phenoxyethanol", "Sodium Benzoate", "Dehydroacetic Acid", "Chlorphenesin"])
def test_a_preservative_of_annex_v_is_enough(name):
    assert keeping(CREAM, held("Aqua", "60"), held(name, "0.3")) == []


def test_what_the_maker_calls_one_is_enough_and_what_oils_contain_is_not():
    assert keeping(CREAM, held("Aqua", "60"), held("Sample Extract", "1", purposes=["preservative"])) == []
    contained = held("Benzyl Alcohol", "0.4", contained=True)
    assert [level for level, _ in keeping(CREAM, held("Aqua", "60"), contained)] == ["warning"]
    assert [level for level, _ in keeping(CREAM, held("Aqua", "60"), replace(contained, contained=False))] == []


@pytest.mark.parametrize(("amount", "told"), [("2.9", False), ("3", True)])
def test_traces_of_water_want_none(amount, told):
    assert bool(keeping(CREAM, held("Aqua", amount))) is told
    assert keeping(CREAM) == []


@pytest.mark.parametrize(("product", "more", "said"), [
    (WASH, [held("Alcohol Denat.", "20", "25")], "alcohol of 20 %"),
    (replace(LOTION, ph=Span(Decimal("2.5"), Decimal(3))), [], "pH of 3 or less"),
    (replace(WASH, ph=Span(Decimal(10), Decimal("10.5"))), [], "or 10 or more"),
    (replace(WASH, form="bar"), [], "solid bar"),
    (CREAM, [held("Caprylyl Glycol", "0.5"), held("Ethylhexylglycerin", "0.3")], "may help it keep"),
])
def test_what_else_may_keep_it_makes_it_a_note(product, more, said):
    (level, text), = keeping(product, held("Aqua", "40"), *more)
    assert level == "note" and said in text


@pytest.mark.parametrize(("product", "more"), [
    (WASH, [held("Alcohol", "19.9", "25")]), (replace(LOTION, ph=Span(Decimal("2.5"), Decimal("3.1"))), []),
    (replace(WASH, ph=Span(Decimal("9.9"), Decimal(11))), []),
])
def test_what_nearly_would_does_not(product, more):
    assert [level for level, _ in keeping(product, held("Aqua", "40"), *more)] == ["warning"]


@pytest.mark.parametrize(("name", "water"), [
    ("Aqua", True), ("Rosa Damascena Flower Water", True), ("Aloe Barbadensis Leaf Juice", True), ("Glycerin", False),
    ("Aqua Marina", False),
])
def test_hydrosols_and_juices_are_water(name, water):
    assert is_water(name) is water


def test_claims_in_other_languages_are_said_not_to_be_read():
    german = replace(CREAM, texts=(("de", ProductText(name="Heilt Ekzeme")), ("fr", ProductText(function="Crème"))))
    found = list(unread_languages(german, ("en", "de", "fr")))
    assert [(item.level, item.text) for item in found] == [
        ("note", "claims are looked for in English only: the words in de, fr were not searched")]
    assert not list(unread_languages(german, ("en",))) and not list(unread_languages(CREAM, ("en", "de")))
