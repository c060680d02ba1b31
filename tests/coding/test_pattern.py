"""Batch code patterns: what is refused and why, how codes are written, counted up and grouped."""

import datetime as dt
import locale

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.coding.checkdigits import mod97_valid
from labeltool.coding.pattern import Pattern, code_key, grouped, next_code, parse_pattern, seq_number, seq_text
from labeltool.coding.shape import SEQ_LETTERS
from labeltool.errors import InputError

MADE = dt.date(2026, 5, 3)
DEFAULT = "%y%m%d{seq}{check}"


def pattern(text: str) -> Pattern:
    found, findings = parse_pattern(text)
    assert found is not None, [item.text for item in findings]
    return found


REFUSED = [
    ("%y%m%d", "pattern.seq"),
    ("%y%m%d{check}", "pattern.seq"),
    ("", "pattern.seq"),
    ("%y{seq}%m{seq}", "pattern.seq"),
    ("{check}%y{seq}", "pattern.check"),
    ("%y{check}{seq}", "pattern.check"),
    ("%y{seq}{check}{check}", "pattern.check"),
    ("%y{seq}{check}-", "pattern.check"),
    ("%d%b%y{seq}", "pattern.locale"),
    ("%d%B%y{seq}", "pattern.locale"),
    ("%a%d{seq}", "pattern.locale"),
    ("%A%d{seq}", "pattern.locale"),
    ("%p%d{seq}", "pattern.locale"),
    ("%c{seq}", "pattern.locale"),
    ("%x{seq}", "pattern.locale"),
    ("%Y%V{seq}", "pattern.week-year"),
    ("%y%V{seq}", "pattern.week-year"),
    ("%V%y{seq}", "pattern.week-year"),
    ("%G%m%d{seq}", "pattern.week-year"),
    ("%G%j{seq}", "pattern.week-year"),
    ("%y%m%d%H{seq}", "pattern.time"),
    ("%y%m%d%H%M%S{seq}", "pattern.time"),
    ("%s{seq}", "pattern.time"),
    ("%f{seq}", "pattern.time"),
    ("{product}{seq}", "pattern.letters"),
    ("{seq}{product}", "pattern.letters"),
    ("%y{seq}{product}{check}", "pattern.letters"),
    ("%Y%m%d-{product}-%j-{seq}{check}", "pattern.length"),
    ("BATCH-OF-OTTERSHOLT-{seq}", "pattern.length"),
    ("lot%y{seq}", "pattern.character"),
    ("%y %m{seq}", "pattern.character"),
    ("%y/%m{seq}", "pattern.character"),
    ("%y{seq}\n", "pattern.character"),
    ("%y{seq}}", "pattern.character"),
    ("É{seq}", "pattern.character"),
    ("-%y{seq}", "pattern.character"),
    ("{sequence}{seq}", "pattern.field"),
    ("{SEQ}{seq}", "pattern.field"),
    ("{}{seq}", "pattern.field"),
    ("{seq}{", "pattern.field"),
    ("%Q{seq}", "pattern.percent"),
    ("%-d{seq}", "pattern.percent"),
    ("%e{seq}", "pattern.percent"),
    ("%%{seq}", "pattern.percent"),
    ("{seq}%", "pattern.percent"),
    ("%D{seq}", "pattern.percent"),
]


@pytest.mark.parametrize(("text", "rule"), REFUSED)
def test_a_pattern_is_refused_with_its_reason(text: str, rule: str) -> None:
    found, findings = parse_pattern(text)
    assert found is None
    assert rule in {item.rule for item in findings}
    assert all(item.level == "error" and item.text for item in findings)


def test_all_reasons_come_at_once() -> None:
    _, findings = parse_pattern("{check}%b %H{what}%Q")
    assert {item.rule for item in findings} == {
        "pattern.check", "pattern.locale", "pattern.character", "pattern.time", "pattern.field", "pattern.percent",
        "pattern.seq",
    }


ACCEPTED = [
    (DEFAULT, "260503A31"),
    ("%y%m%d{seq}", "260503A"),
    ("%Y-%m-%d-{seq}{check}", "2026-05-03-A21"),
    ("{product}-{seq}-%y%j", "OML-A-26123"),
    ("%y%j{seq}{check}", "26123A89"),
    ("%G-%V-%u-{seq}", "2026-18-7-A"),
    ("%g%V{seq}", "2618A"),
    ("B{seq}", "BA"),
    ("{seq}", "A"),
]


@pytest.mark.parametrize(("text", "code"), ACCEPTED)
def test_a_code_is_written_field_by_field(text: str, code: str) -> None:
    assert pattern(text).render(MADE, "A", "OML") == code


def test_twenty_characters_are_allowed_and_one_more_is_not() -> None:
    assert parse_pattern("%Y%m%d-{product}-{seq}{check}X"[:-1])[0] is not None
    assert parse_pattern("1%Y%m%d-{product}-{seq}{check}")[0] is not None
    assert parse_pattern("12%Y%m%d-{product}-{seq}{check}")[0] is None


def test_a_sequence_that_grows_past_twenty_characters_stops() -> None:
    full = pattern("1%Y%m%d-{product}-{seq}{check}")
    assert len(full.render(MADE, "Z", "OMLOML")) == 20
    with pytest.raises(InputError, match="21 characters"):
        full.render(MADE, "AA", "OMLOML")


@pytest.mark.parametrize("product", [None, "", "oml", "OML-1", "OMLOMLO", "É"])
def test_a_product_field_needs_the_products_code(product: str | None) -> None:
    with pytest.raises(InputError) as caught:
        pattern("{product}-{seq}").render(MADE, "A", product)
    assert caught.value.findings[0].rule == "batch.code-product"


@pytest.mark.parametrize("letter", "YmdjyGVuwUW")
def test_every_date_field_agrees_with_strftime_on_every_day(letter: str) -> None:
    made = pattern(f"%{letter}-{{seq}}")
    for day in range(dt.date(1999, 12, 20).toordinal(), dt.date(2033, 1, 10).toordinal()):
        date = dt.date.fromordinal(day)
        assert made.render(date, "A") == f"{date:%{letter}}-A"


def test_no_locale_changes_a_code(monkeypatch: pytest.MonkeyPatch) -> None:
    before = locale.setlocale(locale.LC_ALL)
    try:
        locale.setlocale(locale.LC_ALL, "")
        assert pattern(DEFAULT).render(MADE, "A") == "260503A31"
    finally:
        locale.setlocale(locale.LC_ALL, before)


def test_sequence_letters_skip_i_and_o_and_go_on_after_z() -> None:
    row = [seq_text(number) for number in range(1, 27)]
    assert row == [*"ABCDEFGHJKLMNPQRSTUVWXYZ", "AA", "AB"]
    assert seq_text(24 + 24 * 24) == "ZZ"
    assert seq_text(24 + 24 * 24 + 1) == "AAA"


@given(st.integers(1, 10**9))
def test_sequence_letters_and_numbers_are_one_to_one(number: int) -> None:
    assert seq_number(seq_text(number)) == number


def test_a_place_below_one_is_refused() -> None:
    with pytest.raises(ValueError, match="count from 1"):
        seq_text(0)


class TestNextCode:
    def test_the_first_batch_of_a_day_is_a(self) -> None:
        assert next_code(pattern(DEFAULT), MADE, None, ()) == "260503A31"

    def test_it_counts_up_among_codes_of_the_same_day_only(self) -> None:
        used = ("260503A31", "260502A95", "260502B02")
        assert next_code(pattern("%y%m%d{seq}"), MADE, None, ("260503A", "260503B", "260504A")) == "260503C"
        assert next_code(pattern(DEFAULT), MADE, None, used)[6] == "B"

    def test_products_count_apart_where_the_pattern_names_them(self) -> None:
        assert next_code(pattern("{product}-{seq}"), MADE, "OML", ("OML-A", "CBO-A", "CBO-B")) == "OML-B"

    def test_products_count_together_where_it_does_not(self) -> None:
        assert next_code(pattern("%y%m%d{seq}"), MADE, "OML", ("260503A",)) == "260503B"

    def test_a_gap_is_not_filled(self) -> None:
        assert next_code(pattern("%y%m%d{seq}"), MADE, None, ("260503C",)) == "260503D"

    def test_z_is_followed_by_aa(self) -> None:
        assert next_code(pattern("%y%m%d{seq}"), MADE, None, ("260503Z",)) == "260503AA"

    def test_a_code_of_another_pattern_is_not_given_again(self) -> None:
        assert next_code(pattern("%y%m%d{seq}"), MADE, None, ("26-05-03-A", "26-0503-b")) == "260503C"

    def test_dashes_do_not_tell_codes_apart(self) -> None:
        assert next_code(pattern("{product}-{seq}"), MADE, "OML", ("OM-LA",)) == "OML-B"

    @given(st.lists(st.sampled_from(["OML", "OM", "O"]), max_size=40))
    def test_no_code_is_ever_given_twice(self, products: list[str]) -> None:
        codes: list[str] = []
        for product in products:
            codes.append(next_code(pattern("{product}-{seq}"), MADE, product, codes))
        assert len({code_key(code) for code in codes}) == len(products)


def test_the_stem_is_everything_but_the_place() -> None:
    assert pattern(DEFAULT).stem(MADE) == "260503*"
    assert pattern("{product}-{seq}-%y{check}").stem(MADE, "OML") == "OML-*-26"


GROUPS = [
    (DEFAULT, "260503A31", ("260503", "A", "31")),
    ("%y%m%d{seq}", "260503A", ("260503", "A")),
    ("%y%m%d-{seq}{check}", "260503-A31", ("260503-A", "31")),
    ("{product}-%y%m%d{seq}{check}", "OML-260503AB40", ("OML-260503", "AB", "40")),
    ("{seq}%j%y", "A12326", ("A", "12326")),
    ("{seq}-%y", "A-26", ("A-26",)),
    ("%y-{seq}-{check}", "26-A-28", ("26-A-28",)),
]


@pytest.mark.parametrize(("text", "code", "groups"), GROUPS)
def test_a_code_is_grouped_for_print(text: str, code: str, groups: tuple[str, ...]) -> None:
    made = pattern(text)
    assert grouped(code, made) == groups
    assert "".join(grouped(code, made)) == code


@pytest.mark.parametrize("code", ["260503A32", "OML-A", "", "260503a31", "L260503A31"])
def test_a_code_of_another_pattern_is_one_group(code: str) -> None:
    assert grouped(code, pattern(DEFAULT)) == (code,)


@given(st.dates(dt.date(1990, 1, 1), dt.date(2099, 12, 31)), st.integers(1, 600))
def test_every_code_carries_check_digits_that_check(made: dt.date, number: int) -> None:
    code = pattern(DEFAULT).render(made, seq_text(number))
    assert mod97_valid(code)
    assert not set(code) & set("IO")
    assert set(SEQ_LETTERS).isdisjoint("IO")
