from __future__ import annotations

import itertools

import pytest
from rule_samples import CREAM, LOTION, SHAMPOO, WASH

from labeltool import tables
from labeltool.formula.model import Product, ProductText
from labeltool.rules.scope import NO, YES, Verdict, When, every, facts_of, kinds_of, some, when_of

KINDS = kinds_of(tables.toml("rules", "kinds"))
OPEN = Verdict(None, frozenset(("use",)))


def kind(product: Product, name: str) -> bool | None:
    return facts_of(product, KINDS).kind(name).holds


def judged(product: Product, **when: object) -> Verdict:
    return when_of(when).judge(facts_of(product, KINDS))


@pytest.mark.parametrize("verdicts", list(itertools.product((YES, NO, OPEN), repeat=3)))
def test_every_and_some_are_three_valued(verdicts):
    values = [item.holds for item in verdicts]
    want_every = False if False in values else None if None in values else True
    want_some = True if True in values else None if None in values else False
    assert every(verdicts).holds is want_every
    assert some(verdicts).holds is want_some


def test_the_empty_scope_holds_for_everything():
    assert When().judge(facts_of(Product(name="x"), KINDS)) == YES


def test_a_missing_fact_leaves_a_scope_open_and_is_asked_for():
    bare = Product(name="x", function="Cream")
    assert judged(bare, use="leave-on") == Verdict(None, frozenset(("use",)))
    assert judged(bare, areas=["lips"]).asks == {"body-area"}
    assert judged(bare, forms=["spray"]).asks == {"form"}
    assert judged(bare, use="leave-on", areas=["lips"]).asks == {"use", "body-area"}


def test_one_no_decides_though_another_part_is_open():
    assert judged(Product(name="x", use="leave-on"), use="rinse-off", areas=["lips"]) == NO


def test_kinds_come_from_words_of_name_and_function():
    assert kind(SHAMPOO, "shampoo") is True
    assert kind(CREAM, "shampoo") is False
    assert kind(Product(name="Oat shampoo bar", use="rinse-off", body_area=("hair",)), "shampoo") is True


def test_words_in_another_language_count():
    product = Product(name="x", texts=(("de", ProductText(function="Haarfarbe")),), body_area=("hair",))
    assert kind(product, "hair-dye") is True


def test_facts_that_contradict_a_word_win():
    after = Product(name="After-shampoo oil", function="Hair oil", use="leave-on", body_area=("hair",))
    assert kind(after, "shampoo") is False


def test_without_a_function_a_kind_is_undecided():
    assert kind(Product(name="Lavender Moon", use="rinse-off", body_area=("hair",)), "shampoo") is None


def test_soap_free_is_no_soap():
    assert kind(Product(name="Soap-free bar", function="Soap-free cleansing bar", use="rinse-off"), "soap") is False
    assert kind(Product(name="Olive soap", function="Soap", use="rinse-off"), "soap") is True


def test_a_body_lotion_is_left_on_the_body_and_no_deodorant():
    assert kind(LOTION, "body-lotion") is True
    assert kind(WASH, "body-lotion") is False
    assert kind(CREAM, "body-lotion") is False
    deodorant = Product(name="x", function="Deodorant cream", use="leave-on", body_area=("body",))
    assert kind(deodorant, "body-lotion") is False


def test_a_shampoo_is_rinsed_off_and_for_hair_unless_the_file_says_otherwise():
    facts = facts_of(Product(name="x", function="Shampoo"), KINDS)
    assert (facts.use, facts.areas) == ("rinse-off", {"hair"})
    facts = facts_of(Product(name="x", function="Shampoo", body_area=("hair", "body")), KINDS)
    assert facts.areas == {"hair", "body"}


@pytest.mark.parametrize(
    ("form", "holds"), [("spray", True), ("aerosol", True), ("powder", None), ("cream", False), (None, None)],
)
def test_sprays_are_inhaled_and_powders_may_be(form, holds):
    assert judged(Product(name="x", function="y", form=form), inhaled=True).holds is holds


def test_children_under_three_might_use_what_is_not_an_adults_by_its_words():
    under = {"perhaps-under-3": True}
    assert judged(LOTION, **under) == YES
    assert judged(Product(name="x", function="Beard oil", use="leave-on"), **under) == NO
    assert judged(Product(name="x", function="Beard oil", users=("under-3",)), **under) == YES


def test_an_unknown_key_of_a_scope_is_refused():
    with pytest.raises(TypeError):
        when_of({"usage": "leave-on"})


def test_every_kind_named_in_a_scope_exists():
    named = set()
    for name in ("annex2", "annex3", "annex5", "annex6", "us", "ca", "claims"):
        named |= set(_kinds(tables.toml("rules", name)))
    assert named <= set(KINDS)
    assert {item for row in KINDS.values() for item in row.unless_kinds} <= set(KINDS)


def _kinds(value: object) -> list[str]:
    if isinstance(value, dict):
        own = [*value.get("kinds", ()), *value.get("not-kinds", ()), value.get("with-kind", "soap")]
        return own + [item for part in value.values() for item in _kinds(part)]
    if isinstance(value, list):
        return [item for part in value for item in _kinds(part)]
    return []
