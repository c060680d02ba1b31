"""Net quantity against the examples printed in 21 CFR 701.13 and 16 CFR 500.19, and values derived from them."""

from decimal import Decimal
from fractions import Fraction

import pytest

from labeltool import tables
from labeltool.formula.model import NetQuantity
from labeltool.wording.net import FL_OZ_PER_ML, OZ_PER_G, figures, net_text, str_of, truncated, us_volume, us_weight
from labeltool.wording.words import words_of

# 21 CFR 701.13(j)(1), (m), (p): the content in ounces, the statements that the section accepts
WEIGHTS = [
    (Fraction(24), {"Net wt. 24 oz. (1 lb. 8 oz.)", "Net wt. 24 oz. (1 1/2 lb.)", "Net wt. 24 oz. (1.5 lb.)"}),
    (Fraction(12), {"Net wt. 12 oz."}),
    (Fraction(6), {"Net wt. 6 oz.", "6 oz. net wt."}),
]
# 21 CFR 701.13(j)(2), (k), (o): the content in fluid ounces; "Net contents" is optional
VOLUMES = [
    (Fraction(32), {"Net contents 32 fl. oz. (1 qt.)"}),
    (Fraction(56), {"Net contents 56 fl. oz. (1 qt. 1 1/2 pt.)", "Net contents 56 fl. oz. (1 qt. 1 pt. 8 oz.)"}),
    (Fraction(320), {"Net contents 2 gal. 2 qt."}),
    (Fraction(6), {"Net contents 6 fl. oz.", "6 fl. oz."}),
]
REJECTED = {"Net content 56 fl. oz. (1 qt. 24 oz.)", "Net contents 2 gal. 4 pt."}


@pytest.mark.parametrize(("ounces", "accepted"), WEIGHTS)
def test_weights_as_the_section_prints_them(ounces: Fraction, accepted: set[str]) -> None:
    assert f"Net wt. {us_weight(ounces)}" in accepted


@pytest.mark.parametrize(("ounces", "accepted"), VOLUMES)
def test_volumes_as_the_section_prints_them(ounces: Fraction, accepted: set[str]) -> None:
    assert f"Net contents {us_volume(ounces)}" in accepted
    assert f"Net contents {us_volume(ounces)}" not in REJECTED


def test_decimals_are_cut_after_two_places() -> None:
    """FDA's labelling guide, second-hand: 1/4 oz. is 0.25, and 1/8 fl. oz. is 0.12, not 0.13."""
    assert us_weight(Fraction(1, 4)) == "0.25 oz."
    assert us_volume(Fraction(1, 8)) == "0.12 fl. oz."


@pytest.mark.parametrize(("grams", "counts", "accepted", "rejected"), [
    (Fraction("453.592"), (3,), {"453"}, {"453.592", "454"}),
    (2 * Fraction("28.3495"), (2, 3), {"56", "56.6"}, {"56.69", "56.7", "57"}),
])
def test_metric_figures_of_16_cfr_500_19(
    grams: Fraction, counts: tuple[int, ...], accepted: set[str], rejected: set[str],
) -> None:
    """1 lb is 453 g and 2 oz are 56 g or 56.6 g there: cut, never rounded up."""
    shown = {str_of(figures(grams, count)) for count in counts}
    assert shown == accepted
    assert not shown & rejected


def test_the_factors_are_the_published_ones() -> None:
    """16 CFR 500.19(a)."""
    assert Fraction("0.0338140") == FL_OZ_PER_ML
    assert Fraction("0.0352740") == OZ_PER_G


# Derived from the factors above, worked out beforehand: consistency, not an independent check
DERIVED_ML = {"15": "0.5", "30": "1.01", "50": "1.69", "100": "3.38", "118": "3.99", "120": "4.05", "250": "8.45"}
DERIVED_G = {"30": "1.05", "50": "1.76", "100": "3.52"}
DERIVED_FIGURES = {
    "29.5735": "29.5", "59.147": "59.1", "118.294": "118", "236.588": "236", "473.176": "473", "28.3495": "28.3",
    "113.398": "113", "226.796": "226", "340.194": "340", "453.592": "453",
}


@pytest.mark.parametrize(("amount", "ounces"), DERIVED_ML.items())
def test_derived_fluid_ounces(amount: str, ounces: str) -> None:
    assert str_of(truncated(Fraction(amount) * FL_OZ_PER_ML, 2)) == ounces
    words = words_of(tables.toml("data", "words"))
    assert net_text(NetQuantity(Decimal(amount), "ml"), ("US",), ("en",), words) == f"{ounces} fl. oz. ({amount} mL)"


@pytest.mark.parametrize(("amount", "ounces"), DERIVED_G.items())
def test_derived_ounces(amount: str, ounces: str) -> None:
    words = words_of(tables.toml("data", "words"))
    assert net_text(NetQuantity(Decimal(amount), "g"), ("US",), ("en",), words) == f"Net wt. {ounces} oz. ({amount} g)"


@pytest.mark.parametrize(("value", "shown"), DERIVED_FIGURES.items())
def test_derived_metric_figures(value: str, shown: str) -> None:
    assert str_of(figures(Fraction(value), 3)) == shown


def test_a_pint_and_a_pound_bring_their_parentheses() -> None:
    """21 CFR 701.13(j): "1 pound or 1 pint or more"."""
    assert us_volume(Fraction("15.99")) == "15.99 fl. oz."
    assert us_volume(Fraction(16)) == "16 fl. oz. (1 pt.)"
    assert us_weight(Fraction(16)) == "16 oz. (1 lb.)"
