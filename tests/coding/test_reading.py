"""Typed batch codes: everything a person can type for a code on record, and what must not pass for it."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.coding.checkdigits import mod97_check
from labeltool.coding.pattern import near_codes, next_code, parse_pattern, read_code, recognise

DEFAULT = parse_pattern("%y%m%d{seq}{check}")[0]
PRODUCT = parse_pattern("{product}-{seq}-%y%m%d{check}")[0]
PLAIN = parse_pattern("LOT%y-{seq}")[0]
assert DEFAULT and PRODUCT and PLAIN

TYPED = [
    "260503A31", "260503a31", " 260503A31 ", "260503 A 31", "260503-A-31", "260503\u2009A\u200931",
    "26\u201105\u201303A31",
    "260503\u2212A31", "260503\u00a0A\u202f31", "26\u00ad0503A31", "Lot 260503A31", "lot260503A31", "LOT: 260503A31",
    "L260503A31", "l 260503a31", "Batch 260503A31", "batch no. 260503A31", "Batch-260503A31", "26O5O3A31", "26o5o3a3I",
    "260503A3l", "\uff12\uff16\uff10\uff15\uff10\uff13A31", "260503A31\n", "\u200e260503A31", "260503_A_31",
]


@pytest.mark.parametrize("typed", TYPED)
def test_a_code_is_read_however_it_is_typed(typed: str) -> None:
    assert read_code(typed, [DEFAULT]) == ("260503A31",)


NOT_READ = [
    "", " ", "L", "Lot", "260503A32", "260503B31", "26050A331", "2605031A3", "261303A31", "260532A31", "260503A3",
    "60503A31",
    "260503A311", "260503I31", "260503O31", "26S503A31", "\u0660\u0661\u0660\u0665\u0660\u0663A31", "x" * 10_000,
]


@pytest.mark.parametrize("typed", NOT_READ)
def test_what_does_not_check_or_fit_is_no_code(typed: str) -> None:
    assert read_code(typed, [DEFAULT]) == ()


@pytest.mark.parametrize("body", ["261303A", "260532A", "260003A", "260500A"])
def test_a_day_that_no_calendar_has_is_no_code_even_where_it_checks(body: str) -> None:
    assert read_code(body + mod97_check(body), [DEFAULT]) == ()


def test_b1_for_1b_is_caught_though_mod_97_10_lets_it_pass() -> None:
    """ISO/IEC 7064 with A = 10 … Z = 35: exactly 1B/B1, 2M/M2 and 3X/X3 go unseen by the check digits."""
    right = "260501B" + mod97_check("260501B")
    wrong = "26050B1" + right[-2:]
    assert mod97_check(wrong[:-2]) == wrong[-2:]
    assert read_code(right, [DEFAULT]) == (right,)
    assert read_code(wrong, [DEFAULT]) == ()
    assert recognise(wrong, [right], [DEFAULT]).near == (right,)


def test_o_and_i_are_exchanged_both_ways_where_the_pattern_knows() -> None:
    code = PRODUCT.render(dt.date(2026, 5, 3), "A", "OIL")
    assert code in read_code(code.replace("O", "0").replace("I", "1"), [PRODUCT])
    assert read_code("L0T26A", [PLAIN]) == ("LOT26-A",)
    assert read_code("lot 26a", [PLAIN]) == ("LOT26-A",)


def test_dashes_are_put_where_the_pattern_has_them() -> None:
    code = PRODUCT.render(dt.date(2026, 5, 3), "AB", "OML")
    assert code in read_code(code.replace("-", ""), [PRODUCT])
    assert recognise(code.replace("-", " "), [code], [PRODUCT]).code == code


def test_every_pattern_is_tried() -> None:
    assert read_code("LOT26A", [DEFAULT, PLAIN]) == ("LOT26-A",)


def test_a_code_on_record_is_known_whatever_pattern_it_came_from() -> None:
    assert recognise("old-77", ["OLD77", "260503A31"], [DEFAULT]).code == "OLD77"
    assert recognise("L260503a31", ["260503A31"], []).code == "260503A31"


def test_an_unknown_code_is_answered_with_the_nearest() -> None:
    known = ["260503A31", "260503B06", "270101A20"]
    assert recognise("260503A13", known, [DEFAULT]).near[0] == "260503A31"
    assert recognise("26053A31", known, [DEFAULT]).near[0] == "260503A31"
    assert recognise("QQQ", known, [DEFAULT]).near == ()
    assert near_codes("Lot 260503A3", known)[0] == "260503A31"
    assert len(near_codes("26050", [f"26050{n}" for n in range(10)])) == 3


@given(st.text(max_size=80))
def test_no_text_breaks_the_reader(typed: str) -> None:
    for code in read_code(typed, [DEFAULT, PRODUCT, PLAIN]):
        assert code == code.upper()
    assert recognise(typed, ["260503A31"], [DEFAULT, PRODUCT, PLAIN]).code in (None, "260503A31")


@given(st.dates(dt.date(1990, 1, 1), dt.date(2099, 1, 1)), st.data())
def test_two_neighbours_exchanged_are_never_another_valid_code(made: dt.date, data: st.DataObject) -> None:
    code = next_code(DEFAULT, made, None, ())
    place = data.draw(st.integers(0, len(code) - 2))
    wrong = code[:place] + code[place + 1] + code[place] + code[place + 2:]
    assert wrong == code or read_code(wrong, [DEFAULT]) == ()
