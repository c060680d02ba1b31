"""Check digits against published values and against python-stdnum, an independent implementation."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum import ean
from stdnum.iso7064 import mod_97_10

from labeltool.coding.checkdigits import gtin_check, gtin_valid, mod97_check, mod97_valid

# Published: 794 in ISO/IEC 7064 itself; the long numbers in the text of python-stdnum's module; the LEIs are ISO 17442
# identifiers of record, where letters count A = 10 … Z = 35 as here.
PUBLISHED = {
    "794": "44",
    "99991234567890121414": "90",
    "4354111611551114": "31",
    "22181321402534321446701611": "35",
    "213800KUD8LAJWSQ9D": "15",
    "5493001KJTIIGC8Y1R": "12",
}
# Worked out beforehand from the formula 98 - (n * 100 mod 97).
WORKED = {
    "ABC123": "92", "LOT42": "78", "20261125A": "49", "BL260329A": "18",
    "450": "09", "45O": "09", "B1": "56", "1B": "56",
}


@pytest.mark.parametrize(("text", "check"), [*PUBLISHED.items(), *WORKED.items()])
def test_check_digits_by_iso_7064(text: str, check: str) -> None:
    assert mod97_check(text) == check
    assert mod97_valid(text + check)


@pytest.mark.parametrize("text", ["9999123456789012141490", "08686001256515001121751", "213800KUD8LAJWSQ9D15"])
def test_whole_numbers_that_are_valid(text: str) -> None:
    assert mod97_valid(text)


def test_one_letter_too_many_is_found() -> None:
    """The example of an invalid LEI in python-stdnum's text."""
    assert not mod97_valid("213800KUD8LXJWSQ9D15")


# ISO 13616: an IBAN moves its first four characters to the end, and is then a MOD 97-10 number. Examples as commonly
# printed, and those of the GS1 syntax linter's tests.
IBANS = [
    "GB29NWBK60161331926819", "DE89370400440532013000", "FR1420041010050500013M02606", "BE68539007547034",
    "CH9300762011623852957", "NL91ABNA0417164300", "NO9386011117947", "GR1601101250000000012300695",
    "DE91100000000123456789", "GB98MIDL07009312345678", "BE71096123456769", "FR7630006000011234567890189",
]


@pytest.mark.parametrize("iban", IBANS)
def test_ibans_check(iban: str) -> None:
    assert mod97_valid(iban[4:] + iban[:4])


def test_a_wrong_iban_does_not() -> None:
    assert not mod97_valid("096123456760" + "BE71")


@given(st.text("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=1, max_size=18))
def test_mod_97_10_agrees_with_stdnum(text: str) -> None:
    assert mod97_check(text) == mod_97_10.calc_check_digits(text)
    assert mod97_valid(text + mod97_check(text))
    assert mod_97_10.is_valid(text + mod97_check(text))


# GTINs of the GS1 syntax engine's tests, and of the GS1 check digit calculator's page.
VALID = ["02345673", "416000336108", "1234567890128", "12345678901231", "09520123456788", "09506000134352",
         "09521234543213", "6291041500213", "12312312312326", "12312312312333"]
INVALID = ["12345673", "416000336109", "1234567890129", "12345678901232"]


@pytest.mark.parametrize("gtin", VALID)
def test_gtins_that_check(gtin: str) -> None:
    assert gtin_valid(gtin)
    assert ean.is_valid(gtin)


@pytest.mark.parametrize("gtin", INVALID)
def test_gtins_that_do_not(gtin: str) -> None:
    assert not gtin_valid(gtin)


def test_a_serial_shipping_code_has_the_same_digit_and_is_no_gtin() -> None:
    assert gtin_check("12345678901234567") == "5"
    assert not gtin_valid("123456789012345675")


@given(st.sampled_from([8, 12, 13, 14]), st.data())
def test_gtins_agree_with_stdnum(length: int, data: st.DataObject) -> None:
    text = data.draw(st.text("0123456789", min_size=length, max_size=length))
    assert gtin_valid(text) == ean.is_valid(text)
