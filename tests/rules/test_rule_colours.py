"""Colorants in their fields of use: Annex IV; 21 CFR 73, 74 and 82."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from rule_samples import CREAM, WASH, advised, held, percent, rules

from labeltool.compose.model import Line
from labeltool.formula.model import Product

LIPS = Product(name="x", function="Lipstick", use="leave-on", body_area=("lips",), form="bar")
EYES = Product(name="x", function="Eye shadow", use="leave-on", body_area=("eyes",), form="powder")


def colour(name: str, amount: str = "1", group: str = "colorant", nano: bool = False) -> Line:
    return Line(name, percent(amount), group, ("pigment",), nano, ("UK", "EU", "US", "CA"))


def found(product: Product, line: Line, market: str = "EU"):
    advice = advised(product, held("Aqua", "50"), lines=(line,), markets=(market,))
    told = [item for item in advice.findings if item.rule.startswith("limit") and item.level != "note"]
    return [(item.rule, item.level) for item in told]


# Annex IV/1: rinse-off only. IV/2: not on mucous membranes. IV/3: not in eye products.
@pytest.mark.parametrize(
    ("name", "product", "refused"),
    [
        ("CI 10006", CREAM, True), ("CI 10006", WASH, False), ("CI 10020", LIPS, True), ("CI 10020", CREAM, False),
        ("CI 10316", EYES, True), ("CI 10316", LIPS, False), ("CI 77491", LIPS, False),
    ],
)
def test_fields_of_use_of_annex_iv(name, product, refused):
    for market in ("EU", "UK"):
        assert (("limit.use", "error") in found(product, colour(name), market)) is refused


# IV/9: 3 %; IV/77: in lip products 1 %.
def test_maxima_of_annex_iv():
    assert found(CREAM, colour("CI 12085", "3")) == []
    assert found(CREAM, colour("CI 12085", "3.1")) == [("limit.over", "error")]
    assert found(CREAM, colour("CI 45396", "1.1")) == []
    assert found(LIPS, colour("CI 45396", "1.1")) == [("limit.over", "error")]


# IV/142 since 1 May 2026: silver 0.2 % in lip products and eye shadow, no other use.
def test_silver_is_for_lips_and_eye_shadow():
    assert found(LIPS, colour("CI 77820", "0.2")) == []
    assert found(LIPS, colour("CI 77820", "0.3")) == [("limit.over", "error")]
    assert ("limit.use", "error") in found(CREAM, colour("CI 77820", "0.1"))


def test_a_use_that_is_not_stated_is_asked_for():
    advice = advised(replace(CREAM, use=None), held("Aqua", "50"), lines=(colour("CI 10006"),))
    assert "limit.use" in rules(advice, "note") and not rules(advice, "error")


def test_what_the_product_may_contain_is_judged_by_its_field_of_use():
    assert ("limit.use", "warning") in found(CREAM, colour("CI 10006", "0", "may-contain"))
    advice = advised(CREAM, held("Aqua", "50"), lines=(colour("CI 10006", "0", "may-contain"),))
    assert [item for item in advice.limits if item.inci == "CI 10006"] == []


# 21 CFR 73.2725 and others: ultramarines and chromium greens are not for lips; near the eye they are.
def test_us_fields_of_use():
    assert ("limit.use", "error") in found(LIPS, colour("CI 77007"), "US")
    assert found(EYES, colour("CI 77007"), "US") == []


# 21 CFR 74: the pairing of number and US name is from memory, so such a row warns and never refuses.
def test_a_certified_colour_near_the_eye_warns():
    assert found(EYES, colour("CI 17200"), "US") == [("limit.use", "warning")]
    assert found(LIPS, colour("CI 17200", "3.5"), "US") == [("limit.over", "warning")]
    assert found(LIPS, colour("CI 17200", "3"), "US") == []


# 21 CFR 73.2500: silver in the US for fingernail polish only, up to 1 %.
def test_a_use_that_only_one_product_has():
    polish = Product(name="x", function="Nail polish", use="leave-on", body_area=("nails",), form="liquid")
    assert found(polish, colour("CI 77820", "0.9"), "US") == []
    assert found(polish, colour("CI 77820", "1.1"), "US") == [("limit.over", "error")]
    assert ("limit.over", "error") in found(CREAM, colour("CI 77820", "0.1"), "US")


def test_a_pigment_that_does_not_colour_has_no_field_of_use():
    line = replace(colour("CI 10006"), colorant=())
    assert found(CREAM, line) == []


def test_canada_has_no_fields_of_use_of_its_own():
    advice = advised(CREAM, held("Aqua", "50"), lines=(colour("CI 10006"),), markets=("CA",))
    assert not [item for item in advice.findings if item.rule == "limit.use"]
    assert advice.limits == ()


def test_the_amount_of_the_line_is_what_counts():
    advice = advised(CREAM, held("Aqua", "50"), lines=(colour("CI 12085", "2"),))
    assert [(item.inci, item.value.nominal) for item in advice.limits] == [("CI 12085", Decimal(2))]
