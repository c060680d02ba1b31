"""Dates of a batch: month arithmetic, the printed month, durability, made dates."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.coding.dates import (
    add_months,
    best_before,
    durability,
    gs1_date,
    keeps_long,
    made_findings,
    printed,
    printed_day,
)
from labeltool.errors import InputError
from labeltool.formula.model import Period

MADE = dt.date(2026, 5, 3)
DAYS = st.dates(dt.date(1990, 1, 1), dt.date(2060, 12, 31))


@pytest.mark.parametrize(("day", "months", "then"), [
    (dt.date(2026, 1, 31), 1, dt.date(2026, 2, 28)),
    (dt.date(2028, 1, 31), 1, dt.date(2028, 2, 29)),
    (dt.date(2028, 2, 29), 12, dt.date(2029, 2, 28)),
    (dt.date(2026, 2, 28), 1, dt.date(2026, 3, 28)),
    (dt.date(2026, 8, 31), 18, dt.date(2028, 2, 29)),
    (dt.date(2026, 5, 3), 18, dt.date(2027, 11, 3)),
    (dt.date(2026, 12, 15), 1, dt.date(2027, 1, 15)),
    (dt.date(2026, 5, 3), 0, dt.date(2026, 5, 3)),
])
def test_months_are_whole_calendar_months(day: dt.date, months: int, then: dt.date) -> None:
    assert add_months(day, months) == then


def test_a_period_in_days_counts_days() -> None:
    assert best_before(MADE, Period(days=90)) == dt.date(2026, 8, 1)
    assert best_before(dt.date(2026, 1, 31), Period(months=1, days=1)) == dt.date(2026, 3, 1)


@pytest.mark.parametrize("period", [Period(months=10**6), Period(days=10**7), Period(months=95_680, days=999)])
def test_a_period_past_the_calendar_is_an_input_error(period: Period) -> None:
    with pytest.raises(InputError):
        best_before(MADE, period)


@pytest.mark.parametrize(("computed", "text", "day"), [
    (dt.date(2027, 11, 3), "10/2027", dt.date(2027, 10, 31)),
    (dt.date(2027, 11, 29), "10/2027", dt.date(2027, 10, 31)),
    (dt.date(2027, 11, 30), "11/2027", dt.date(2027, 11, 30)),
    (dt.date(2028, 2, 28), "01/2028", dt.date(2028, 1, 31)),
    (dt.date(2028, 2, 29), "02/2028", dt.date(2028, 2, 29)),
    (dt.date(2027, 1, 1), "12/2026", dt.date(2026, 12, 31)),
])
def test_a_printed_month_never_ends_after_the_computed_day(computed: dt.date, text: str, day: dt.date) -> None:
    """Regulation (EC) No 1223/2009, Art. 19(1)(c): "before the end of" a month means the end of that month."""
    assert printed(computed).text() == text
    assert printed_day(computed) == day


@given(DAYS)
def test_the_printed_month_is_the_latest_that_the_day_allows(computed: dt.date) -> None:
    shown = printed_day(computed)
    assert shown <= computed
    assert (shown + dt.timedelta(days=1)).day == 1
    assert computed - shown < dt.timedelta(days=31)


def test_what_keeps_for_less_than_three_months_is_printed_with_its_day() -> None:
    short = printed(dt.date(2026, 7, 9), MADE)
    assert (short.text(), short.text("de"), short.text("nl")) == ("09/07/2026", "09.07.2026", "09-07-2026")
    assert printed_day(dt.date(2026, 7, 9), MADE) == dt.date(2026, 7, 9)
    assert printed(dt.date(2026, 8, 3), MADE).text() == "07/2026"
    assert printed(dt.date(2026, 8, 2), MADE).text() == "02/08/2026"


@given(DAYS, st.integers(0, 120))
def test_no_batch_is_printed_as_past_before_it_is_made(made: dt.date, days: int) -> None:
    assert printed_day(made + dt.timedelta(days=days), made) >= made


@pytest.mark.parametrize(("months", "long"), [(29, False), (30, False), (31, True)])
def test_thirty_months_exactly_still_need_a_date(months: int, long: bool) -> None:
    """Regulation (EC) No 1223/2009, Art. 19(1)(c): not mandatory for a minimum durability of more than 30 months."""
    assert keeps_long(MADE, best_before(MADE, Period(months=months))) is long


def test_one_day_more_than_thirty_months_is_more() -> None:
    assert keeps_long(MADE, best_before(MADE, Period(months=30, days=1)))
    end = dt.date(2026, 8, 31)
    assert not keeps_long(end, best_before(end, Period(months=30)))


@pytest.mark.parametrize(("months", "opening", "reason", "shown"), [
    (18, None, None, "date"),
    (18, Period(months=6), None, "both"),
    (30, None, "single use", "date"),
    (31, Period(months=12), None, "jar"),
    (36, None, "single use", "neither"),
    (36, None, None, "date"),
])
def test_date_or_open_jar(months: int, opening: Period | None, reason: str | None, shown: str) -> None:
    assert durability(MADE, best_before(MADE, Period(months=months)), opening, reason) == shown


def test_durability_without_a_shelf_life() -> None:
    assert durability(MADE, None, Period(months=6)) == "jar"
    assert durability(MADE, None, None) == "unknown"


@pytest.mark.parametrize(("made", "level"), [
    (dt.date(2026, 11, 25), None),
    (dt.date(2026, 11, 24), None),
    (dt.date(1990, 1, 1), None),
    (dt.date(1989, 12, 31), "error"),
    (dt.date(2026, 11, 26), "note"),
    (dt.date(2026, 12, 26), "note"),
    (dt.date(2026, 12, 27), "error"),
])
def test_made_dates_that_can_be(made: dt.date, level: str | None) -> None:
    found = made_findings(made, dt.date(2026, 11, 25))
    assert [item.level for item in found] == ([level] if level else [])


def test_a_gs1_date_has_six_digits() -> None:
    assert gs1_date(dt.date(2027, 2, 28)) == "270228"
    assert gs1_date(dt.date(2009, 1, 5)) == "090105"
