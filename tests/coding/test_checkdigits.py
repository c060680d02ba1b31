"""Check digits against the values of codes that are published, and their own laws."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.coding.checkdigits import gtin14, gtin_check, gtin_valid, mod97_check, mod97_valid

CHARACTERS = st.text("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=1, max_size=18)


def test_check_digits_keep_their_zero() -> None:
    assert mod97_check("450") == "09"


def test_other_characters_are_skipped() -> None:
    assert mod97_check("ABC-123") == mod97_check("abc 123") == mod97_check("ABC123") == "92"
    assert mod97_check("A\u0662B") == mod97_check("AB")


def test_a_remainder_of_one_in_other_digits_is_not_enough() -> None:
    assert mod97_valid("A31") is (mod97_check("A") == "31")
    assert not mod97_valid("79401")
    assert not mod97_valid("44")
    assert not mod97_valid("")


@given(CHARACTERS)
def test_every_text_with_its_check_digits_is_valid(text: str) -> None:
    check = mod97_check(text)
    assert 2 <= int(check) <= 98
    assert mod97_valid(text + check)


@given(st.text("0123456789", min_size=2, max_size=18), st.data())
def test_among_digits_every_substitution_and_every_swap_is_found(text: str, data: st.DataObject) -> None:
    check = mod97_check(text)
    place = data.draw(st.integers(0, len(text) - 1))
    digit = data.draw(st.sampled_from("0123456789"))
    other = text[:place] + digit + text[place + 1:]
    assert other == text or mod97_check(other) != check
    swapped = list(text)
    swapped[place], swapped[place - 1] = swapped[place - 1], swapped[place]
    assert "".join(swapped) == text or mod97_check("".join(swapped)) != check


NO_GTINS = ["", "1", "123456789", "1234567890123456", "0952012345678\u0668", "95201234567-8", "x" * 13]


@pytest.mark.parametrize("text", NO_GTINS)
def test_what_is_no_gtin_is_not_valid(text: str) -> None:
    assert not gtin_valid(text)


def test_a_gtin_is_filled_to_fourteen_digits() -> None:
    assert gtin14("02345673") == "00000002345673"
    assert gtin14("9520123456788") == "09520123456788"
    with pytest.raises(ValueError, match="no GTIN"):
        gtin14("9520123456789")


def test_weights_count_from_the_right() -> None:
    assert gtin_check("0952012345678") == gtin_check("952012345678") == "8"
