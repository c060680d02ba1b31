from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.compose.decimals import decimal


@pytest.mark.parametrize(("value", "text"), [
    (Fraction(0), "0"), (Fraction(100), "100"), (Fraction(7, 2), "3.5"), (Fraction(1, 3), "0.333333333333"),
    (Fraction(200, 3), "66.6666666667"), (Fraction(1, 100000), "0.00001"), (Fraction(1000), "1000"),
])
def test_as_short_as_exact_and_twelve_digits_at_most(value, text):
    assert f"{decimal(value):f}" == text
    assert decimal(value).as_tuple().exponent <= 0


@given(st.decimals(min_value=0, max_value=100, places=9))
def test_what_twelve_digits_hold_comes_back_exactly(value):
    if len(value.normalize().as_tuple().digits) <= 12:
        assert decimal(Fraction(value)) == value


@given(st.fractions(min_value=0, max_value=100))
def test_rounding_is_within_half_a_unit_of_the_twelfth_digit(value):
    assert abs(Fraction(decimal(value)) - value) <= value / 10**11 + Fraction(Decimal("1e-30"))
