"""Net quantity statements by market."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.formula.model import NetQuantity
from labeltool.wording.net import FL_OZ_PER_ML, figures, net_findings, net_text, str_of, truncated, us_volume, us_weight
from labeltool.wording.words import Words


def net(amount: str, unit: str, packs: int = 1) -> NetQuantity:
    return NetQuantity(Decimal(amount), unit, packs)  # type: ignore[arg-type]


STATED = [
    (net("50", "ml"), "UK", "en", "50 ml"),
    (net("0.50", "l"), "UK", "en", "0.5 L"),
    (net("0.5", "l"), "EU", "de", "0,5 L"),
    (net("0.5", "l"), "EU", "de en", "0.5 L"),
    (net("1E+3", "g"), "EU", "en", "1000 g"),
    (net("4.5", "g"), "UK", "en", "4.5 g"),
    (net("100", "g", 3), "UK", "en", "3 × 100 g"),
    (net("6", "pieces"), "UK", "en", "6 pieces"),
    (net("1", "pieces"), "UK", "en", "1 piece"),
    (net("6", "pieces"), "CA", "en fr", "6 pieces / pièces"),
    (net("50", "ml"), "US", "en", "1.69 fl. oz. (50 mL)"),
    (net("100", "g"), "US", "en", "Net wt. 3.52 oz. (100 g)"),
    (net("5", "g"), "US", "en", "Net wt. 0.17 oz. (5 g)"),
    (net("500", "ml"), "US", "en", "16.9 fl. oz. (1 pt. 0.9 oz.) 500 mL"),
    (net("700", "g"), "US", "en", "Net wt. 24.69 oz. (1 lb. 8.69 oz.) 700 g"),
    (net("2", "kg"), "US", "en", "Net wt. 4 lb. 6.54 oz. (2 kg)"),
    (net("100", "g", 3), "US", "en", "Net wt. 10.58 oz. (3 × 100 g)"),
    (net("100", "g"), "UK US", "en", "Net wt. 100 g (3.52 oz.)"),
    (net("50", "ml"), "UK EU US", "en", "50 mL (1.69 fl. oz.)"),
    (net("500", "ml"), "EU US", "en", "500 mL, 16.9 fl. oz. (1 pt. 0.9 oz.)"),
    (net("100", "g"), "US CA", "en fr", "Net wt. / Poids net 100 g (3.52 oz.)"),
    (net("50", "ml"), "CA", "en fr", "50 mL"),
    (net("1500", "ml"), "CA", "en fr", "1.5 L"),
    (net("0.05", "l"), "CA", "en fr", "50 mL"),
    (net("1255", "g"), "CA", "en fr", "1.25 kg"),
    (net("236.588", "ml"), "CA", "en fr", "236 mL"),
    (net("28.35", "g"), "CA", "en fr", "28.3 g"),
    (net("999.9", "ml"), "CA", "en fr", "999 mL"),
    (net("1000", "ml"), "CA", "en fr", "1 L"),
]


@pytest.mark.parametrize(("quantity", "markets", "languages", "text"), STATED)
def test_statements(quantity: NetQuantity, markets: str, languages: str, text: str, words: Words) -> None:
    assert net_text(quantity, markets.split(), languages.split(), words) == text


@given(st.decimals(1, 20_000, places=3))
def test_no_ounces_overstate_the_fill(amount: Decimal) -> None:
    exact = Fraction(amount) * FL_OZ_PER_ML
    assert 0 <= exact - truncated(exact, 2) < Fraction(1, 100)


@given(st.integers(1, 400_000))
def test_the_parentheses_hold_the_same_quantity(hundredths: int) -> None:
    ounces = Fraction(hundredths, 100)
    text = us_volume(ounces).split("(")[-1].rstrip(")")
    sizes = {"gal.": 128, "qt.": 32, "pt.": 16, "oz.": 1}
    parts = text.replace("fl. ", "").split()
    assert sum(Fraction(parts[i]) * sizes[parts[i + 1]] for i in range(0, len(parts), 2)) == ounces
    pounds = us_weight(ounces).split("(")[-1].rstrip(")").split()
    assert sum(Fraction(pounds[i]) * {"lb.": 16, "oz.": 1}[pounds[i + 1]] for i in range(0, len(pounds), 2)) == ounces


@pytest.mark.parametrize(("value", "count", "text"), [
    ("453.592", 3, "453"), ("56.699", 3, "56.6"), ("56.699", 2, "56"), ("0.999", 3, "0.999"), ("100", 3, "100"),
    ("12345", 3, "12345"),
])
def test_figures_are_cut_not_rounded(value: str, count: int, text: str) -> None:
    assert str_of(figures(Fraction(value), count)) == text


@pytest.mark.parametrize(("quantity", "form", "markets", "said"), [
    (net("50", "ml"), "cream", ("US",), ["US"]),
    (net("50", "g"), "cream", ("US",), []),
    (net("50", "g"), "cream", ("CA",), ["CA"]),
    (net("50", "ml"), "aerosol", ("CA",), ["CA"]),
    (net("50", "ml"), "liquid", ("US", "CA"), ["US"]),
    (net("50", "ml"), "cream", ("UK", "EU"), []),
    (net("50", "g"), "bar", ("UK", "US", "CA"), []),
    (net("6", "pieces"), "bar", ("UK",), []),
])
def test_weight_or_volume_differs_by_country(
    quantity: NetQuantity, form: str, markets: tuple[str, ...], said: list[str],
) -> None:
    """21 CFR 701.13(a) puts what is viscous by weight, C.R.C., c. 417, s. 21 by volume; s. 22 aerosols by weight."""
    found = net_findings(quantity, form, markets)
    assert [item.market for item in found] == said
    assert all(item.level == "note" for item in found)


@pytest.mark.parametrize("markets", [("UK",), ("EU", "US", "CA")])
def test_a_bar_has_no_volume(markets: tuple[str, ...]) -> None:
    (found,) = net_findings(net("80", "ml"), "bar", markets)
    assert (found.rule, found.level) == ("net.bar", "error")
    assert "80 ml" in found.text
