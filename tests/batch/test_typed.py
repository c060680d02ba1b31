from __future__ import annotations

import pytest
from bench_samples import GOOD, D, bench, weighing
from hypothesis import given
from hypothesis import strategies as st

from labeltool.batch import typed
from labeltool.batch.model import Filled, Reading, Weighing, Yield


@pytest.mark.parametrize(("text", "grams"), [
    ("48.72-47.42", "1.30"), ("48,72 - 47,42 g", "1.30"), ("48.72g\u221247.42g", "1.30"), ("1–0.25", "0.75"),
    ("1.5-1.2kg", "300"), ("1.3", "1.3"), ("1,3 g", "1.3"), ("0.5kg", "500"), ("5-5", "0"), ("0", "0"),
    ("120 mg", "0.12"),
])
def test_masses_and_differences_of_a_scale(text, grams):
    assert typed.parse_weight(text) == D(grams)


@pytest.mark.parametrize("text", ["", "-5", "47.42-48.72", "1-2-3", "--", "x", "1 ml", "1-", "-1", "nan", "1e5", "a-b"])
def test_what_is_no_mass_is_told(text):
    assert "no mass" in typed.parse_weight(text) or "smaller" in typed.parse_weight(text)


@pytest.mark.parametrize(("text", "expected"), [
    ("acid=1.2@C-7", Weighing("acid", D("1.2"), lot="C-7")),
    ("acid = 48.72-47.42 @ C-7", Weighing("acid", D("1.30"), lot="C-7")),
    ("acid=1,2", Weighing("acid", D("1.2"))),
    ("inci:Citric Acid=1g@a@b", Weighing("inci:Citric Acid", D(1), lot="a@b")),
])
def test_additions(text, expected):
    assert typed.parse_addition(text) == expected


@pytest.mark.parametrize("text", ["", "acid", "acid 1.2", "=1.2", "acid=", "acid=x@L", "acid=1.2@"])
def test_what_is_no_addition_is_told(text):
    assert isinstance(typed.parse_addition(text), str)


@pytest.mark.parametrize(("text", "expected"), [
    ("ph=5.32@21C", Reading("ph", D("5.32"), "", D(21))),
    ("pH=5,32@21 °C", Reading("ph", D("5.32"), "", D(21))),
    ("ph = 5.32", Reading("ph", D("5.32"))),
    ("viscosity=12000 mPas@25c", Reading("viscosity", D(12000), "mPas", D(25))),
    ("temperature=-4 °C", Reading("temperature", D(-4), "°C")),
    ("ph=5@-3,5C", Reading("ph", D(5), "", D("-3.5"))),
])
def test_readings(text, expected):
    assert typed.parse_reading(text) == expected


@pytest.mark.parametrize("text", ["", "ph", "ph=", "ph=acid", "=5", "ph=5@", "ph=5@70F", "ph=5@21C!", "p h=5",
                                  "ph=5.3.2"])
def test_what_is_no_reading_is_told(text):
    assert "no reading" in typed.parse_reading(text)


def test_yield_and_filled():
    assert typed.parse_yield("488g") == Yield(D(488))
    assert typed.parse_yield("0,488 kg") == Yield(D(488))
    assert typed.parse_filled("9") == Filled(9)
    assert typed.parse_filled("30ml = 12") == Filled(12, "30ml")
    for text in ("", "-1", "9.5", "many", "30ml=", "9" * 30, "²"):
        assert isinstance(typed.parse_filled(text), str), text
    assert isinstance(typed.parse_yield("much"), str)


def test_corrections_by_line_material_and_name():
    state = bench(*GOOD, Reading("ph", D(6)), Yield(D(488)), Filled(9))
    assert typed.parse_correction("2=25.0@G-2", state) == Weighing("glycerin", D("25.0"), 2, "G-2")
    assert typed.parse_correction("glycerin=25,1", state) == Weighing("glycerin", D("25.1"), 2)
    assert typed.parse_correction("2=48.72-47.42", state).grams == D("1.30")
    assert typed.parse_correction("yield=480g", state) == Yield(D(480))
    assert typed.parse_correction("Filled=8", state) == Filled(8)
    assert typed.parse_correction("filled=30ml=8", state) == Filled(8, "30ml")
    assert typed.parse_correction("pH=5.4@21C", state) == Reading("ph", D("5.4"), "", D(21))


def test_corrections_of_nothing_or_of_too_much_are_told():
    state = bench(*GOOD, weighing(5, "oil", "2"))
    assert "several lines: say which, 3, 5" in typed.parse_correction("oil=2", state)
    assert "line 4 has not been weighed" in typed.parse_correction("4=2", state)
    assert "nothing is on record" in typed.parse_correction("ph=5", state)
    assert "nothing is on record" in typed.parse_correction("acid=5", state)
    assert "LINE=GRAMS" in typed.parse_correction("2", state)
    assert "no mass" in typed.parse_correction("2=lots", state)


@given(st.text(max_size=30))
def test_no_typing_raises(text):
    state = bench(*GOOD)
    for read in (typed.parse_weight, typed.parse_addition, typed.parse_reading, typed.parse_yield, typed.parse_filled):
        read(text)
        read(f"ph={text}")
        read(f"acid=1{text}")
    typed.parse_correction(text, state)
    typed.parse_correction(f"2={text}", state)


@given(st.decimals("0", "10000", places=2), st.decimals("0", "10000", places=2))
def test_a_difference_of_the_scale_is_exact(one, other):
    before, after = max(one, other), min(one, other)
    assert typed.parse_weight(f"{before}-{after}") == before - after
