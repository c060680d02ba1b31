from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.compose.ranges import spreads
from labeltool.errors import InputError


def found(*stated):
    return spreads([(name, Fraction(low), Fraction(high)) for name, low, high in stated], "blend")


def shares(spread):
    return tuple(value * 100 for value in (spread.low, spread.nominal, spread.high))


def test_a_range_is_tightened_by_what_the_others_leave():
    spread = found(("oil", 70, 95), ("extract", 10, 30))
    assert shares(spread["oil"]) == (70, Fraction(70 + Fraction(20 * 25, 45)), 90)
    assert shares(spread["extract"])[0] == 10 and shares(spread["extract"])[2] == 30


def test_nominal_has_one_t_for_all_components():
    spread = found(("a", 10, 20), ("b", 20, 60), ("c", 30, 70))
    t = Fraction(40, 90)
    assert shares(spread["a"])[1] == 10 + t * 10
    assert shares(spread["b"])[1] == 20 + t * 40
    assert sum(item.nominal for item in spread.values()) == 1


def test_one_name_stated_twice_adds_up_before_it_is_tightened():
    spread = found(("a", 10, 40), ("a", 10, 40), ("b", 40, 60))
    assert shares(spread["a"]) == (40, 50, 60)


def test_a_composition_that_cannot_sum_to_100_names_both_sums():
    with pytest.raises(InputError, match=r"lows sum to 30 %, the highs to 90 %"):
        found(("a", 10, 40), ("b", 20, 50))
    with pytest.raises(InputError, match=r"blend"):
        found(("a", 60, 70), ("b", 50, 60))


def test_single_figures_stand():
    assert shares(found(("a", 80, 80), ("b", 20, 20))["a"]) == (80, 80, 80)


@given(st.lists(st.tuples(st.integers(0, 60), st.integers(0, 60)), min_size=1, max_size=6))
def test_tightened_ends_are_reached_by_some_composition(pairs):
    stated = [(index, Fraction(low), Fraction(low + more)) for index, (low, more) in enumerate(pairs)]
    lows, highs = sum(low for _, low, _ in stated), sum(high for _, _, high in stated)
    if not lows <= 100 <= highs:
        with pytest.raises(InputError):
            spreads(stated, "m")
        return
    spread = spreads(stated, "m")
    for name, low, high in stated:
        for end in (spread[name].low * 100, spread[name].high * 100):
            assert low <= end <= high
            assert lows - low <= 100 - end <= highs - high
        assert spread[name].low <= spread[name].nominal <= spread[name].high
