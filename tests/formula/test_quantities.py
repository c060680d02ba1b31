from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.formula import quantities
from labeltool.formula.model import NetQuantity, Period
from labeltool.formula.quantities import (
    parse_length,
    parse_mass,
    parse_net,
    parse_number,
    parse_percent,
    parse_period,
    parse_tolerance,
    plain,
    shown,
)


@pytest.mark.parametrize(("text", "value"), [
    ("5,32", "5.32"), ("5.32", "5.32"), (" 71 ", "71"), (",5", "0.5"), ("5.", "5"), ("\u22123", "-3"),
    ("0,125", "0.125"),
])
def test_numbers_take_comma_and_point(text: str, value: str) -> None:
    assert parse_number(text) == Decimal(value)


@pytest.mark.parametrize("text", ["", "1.000,5", "1,000,000", "1e3", "nan", "inf", "٣", "5 5", "0x5", "1" * 21, "--3"])
def test_what_is_no_number_is_answered_in_words(text: str) -> None:
    assert isinstance(parse_number(text), str)


@pytest.mark.parametrize(("text", "value"), [("5,32 %", "5.32"), ("71.5%", "71.5"), ("100", "100"), ("0\u202f%", "0")])
def test_percents(text: str, value: str) -> None:
    assert parse_percent(text) == Decimal(value)


@pytest.mark.parametrize("text", ["100.1", "-1", "5 %%", "%", "five"])
def test_no_percents(text: str) -> None:
    assert isinstance(parse_percent(text), str)


@pytest.mark.parametrize(("text", "grams"), [
    ("500g", "500"), ("500 g", "500"), ("0,5 kg", "500"), ("0.5kg", "500"), ("120 mg", "0.12"), ("1\u00a0KG", "1000"),
    ("0 g", "0"), ("1.30 g", "1.3"),
])
def test_masses_are_grams(text: str, grams: str) -> None:
    found = parse_mass(text)
    assert found == Decimal(grams)
    assert "E" not in str(found)


@pytest.mark.parametrize("text", ["500", "5 oz", "g", "-5 g", "5 ml", "2000000 kg", "1e3 g", ""])
def test_no_masses(text: str) -> None:
    assert isinstance(parse_mass(text), str)


def test_a_mass_without_unit_says_how_to_write_it() -> None:
    assert "write 500 g" in str(parse_mass("500"))
    assert parse_mass("48,72", bare=True) == Decimal("48.72")


def test_lengths_are_millimetres() -> None:
    assert parse_length("40") == parse_length("40 mm") == parse_length("4cm") == Decimal(40)
    assert isinstance(parse_length("0"), str)
    assert isinstance(parse_length("2 in"), str)


def test_tolerances_keep_their_unit() -> None:
    assert parse_tolerance("2 %") == (Decimal(2), "%")
    assert parse_tolerance("0,5g") == (Decimal("0.5"), "g")
    assert isinstance(parse_tolerance("2"), str)
    assert isinstance(parse_tolerance("-2 %"), str)


@pytest.mark.parametrize(("text", "period"), [
    ("18 months", Period(months=18)), ("2 years", Period(months=24)), ("6M", Period(months=6)),
    ("1 year", Period(months=12)), ("90 days", Period(days=90)), ("3 weeks", Period(days=21)),
    ("1.5 years", Period(months=18)), ("6 Months", Period(months=6)),
])
def test_periods(text: str, period: Period) -> None:
    assert parse_period(text) == period


@pytest.mark.parametrize("text", [
    "18", "months", "0 months", "-1 year", "1.5 months", "51 years", "a year", "18 moons", "",
])
def test_no_periods(text: str) -> None:
    assert isinstance(parse_period(text), str)


@pytest.mark.parametrize(("text", "net"), [
    ("50 ml", NetQuantity(Decimal(50), "ml")), ("90g", NetQuantity(Decimal(90), "g")),
    ("6 pieces", NetQuantity(Decimal(6), "pieces")), ("1 piece", NetQuantity(Decimal(1), "pieces")),
    ("3 x 100 g", NetQuantity(Decimal(100), "g", 3)), ("3×100g", NetQuantity(Decimal(100), "g", 3)),
    ("0,5 l", NetQuantity(Decimal("0.5"), "l")), ("1.5 kg", NetQuantity(Decimal("1.5"), "kg")),
    ("5 cl", NetQuantity(Decimal(50), "ml")), ("50 ML", NetQuantity(Decimal(50), "ml")),
])
def test_net_quantities(text: str, net: NetQuantity) -> None:
    assert parse_net(text) == net


@pytest.mark.parametrize("text", [
    "50", "ml", "0 ml", "-5 g", "2 fl oz", "1.5 pieces", "0 x 5 g", "3 x", "x 5 g", "5 g x 3",
])
def test_no_net_quantities(text: str) -> None:
    assert isinstance(parse_net(text), str)


def test_plain_numbers_have_no_exponent() -> None:
    assert str(plain(Decimal("1E+3"))) == "1000"
    assert str(plain(Decimal("5.00"))) == "5"
    assert str(plain(Decimal("0.50"))) == "0.5"


def test_anything_can_be_shown() -> None:
    assert shown(10**6000) == "a number of thousands of digits"
    assert len(shown("x" * 1000)) < 70
    assert shown("a\nb\x07") == "'a\\nb\\x07'"


PARSERS = [parse_number, parse_percent, parse_mass, parse_length, parse_tolerance, parse_period, parse_net,
           quantities.parse_date]
TYPED = st.text(max_size=30) | st.text("0123456789.,-+ xX%gkml\u00a0/:TQ", max_size=30)


@given(TYPED)
def test_no_text_makes_a_reader_fail(text: str) -> None:
    for parse in PARSERS:
        found = parse(text)
        assert found is not None
        assert found != ""


@given(st.decimals("0.001", "99999", places=3), st.sampled_from(["", " ", "\u2009"]), st.booleans())
def test_every_mass_reads_back(grams: Decimal, space: str, comma: bool) -> None:
    figure = str(grams).replace(".", ",") if comma else str(grams)
    assert parse_mass(f"{figure}{space}g") == grams
    assert parse_mass(f"{figure}{space}kg") == grams * 1000
