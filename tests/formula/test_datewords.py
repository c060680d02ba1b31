from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.formula.datewords import parse_date


@given(st.dates())
def test_every_iso_date_is_read(day: dt.date) -> None:
    assert parse_date(day.isoformat()) == day


@pytest.mark.parametrize(("text", "could"), [
    ("03/05/2026", ["2026-05-03", "2026-03-05"]), ("3.5.2026", ["2026-05-03", "2026-03-05"]),
    ("25/12/2026", ["2026-12-25"]), ("12/25/2026", ["2026-12-25"]), ("2026/05/03", ["2026-05-03"]),
    ("2026-5-3", ["2026-05-03"]), ("3 May 2026", ["2026-05-03"]), ("May 3rd, 2026", ["2026-05-03"]),
    ("3 OCT 2026", ["2026-10-03"]), ("20260503", ["2026-05-03"]), ("03052026", ["2026-05-03", "2026-03-05"]),
    ("260503", ["2026-05-03"]), ("2026-05-03T10:00:00", ["2026-05-03"]), ("2026-05-03 10:00", ["2026-05-03"]),
    ("03-05-26", ["2026-05-03"]),
])
def test_another_form_is_answered_with_iso(text: str, could: list[str]) -> None:
    found = parse_date(text)
    assert isinstance(found, str)
    assert "is not an ISO date" in found
    for day in could:
        assert day in found


@pytest.mark.parametrize("text", ["", "today", "31/31/2026", "2026", "1/2/3/4", "٣/٥/٢٠٢٦", "0000", "99999999"])
def test_what_is_no_date_names_the_form(text: str) -> None:
    assert "2026-05-03" in str(parse_date(text))


def test_days_that_a_month_has_not_are_said() -> None:
    assert parse_date("2026-02-30") == "2026-02-30 is no date: that month has 28 days"
    assert "01 to 12" in str(parse_date("2026-13-01"))
    assert "no date" in str(parse_date("0000-01-01"))


@given(st.dates(dt.date(2000, 1, 1), dt.date(2099, 12, 31)),
       st.sampled_from(["%d/%m/%Y", "%m/%d/%Y", "%d.%m.%y", "%Y%m%d", "%d%m%Y", "%d %B %Y", "%b %d, %y"]))
def test_the_day_meant_is_always_among_the_answers(day: dt.date, form: str) -> None:
    found = parse_date(day.strftime(form))
    assert isinstance(found, str)
    assert day.isoformat() in found
