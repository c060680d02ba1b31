"""Month arithmetic against dateutil; date fields of codes against published ISO 8601 examples."""

import datetime as dt

import pytest
from dateutil.relativedelta import relativedelta

from labeltool.coding.dates import add_months
from labeltool.coding.pattern import parse_pattern

MONTHS = (1, 2, 3, 6, 11, 12, 13, 18, 24, 29, 30, 31, 36, 60, 120)


def test_whole_months_agree_with_dateutil_on_every_day_of_seventy_years() -> None:
    steps = {months: relativedelta(months=months) for months in MONTHS}
    for number in range(dt.date(1990, 1, 1).toordinal(), dt.date(2060, 12, 31).toordinal() + 1):
        day = dt.date.fromordinal(number)
        for months, step in steps.items():
            assert add_months(day, months) == day + step, (day, months)


# ISO 8601-1: week 01 holds the year's first Thursday. Year, week and weekday of days near New Year.
WEEKS = {
    "2026-01-01": "2026-01-4", "2027-01-01": "2026-53-5", "2024-12-30": "2025-01-1", "2021-01-03": "2020-53-7",
    "2008-12-29": "2009-01-1", "2010-01-03": "2009-53-7", "2016-01-03": "2015-53-7", "2026-11-25": "2026-48-3",
    "2026-12-31": "2026-53-4",
}
DAYS_OF_YEAR = {"2026-11-25": "26329", "2024-02-29": "24060", "2024-12-31": "24366", "2027-01-01": "27001"}


@pytest.mark.parametrize(("day", "week"), WEEKS.items())
def test_iso_weeks_in_codes(day: str, week: str) -> None:
    pattern, _ = parse_pattern("%G-%V-%u-{seq}")
    assert pattern is not None
    assert pattern.render(dt.date.fromisoformat(day), "A") == f"{week}-A"


@pytest.mark.parametrize(("day", "code"), DAYS_OF_YEAR.items())
def test_days_of_the_year_in_codes(day: str, code: str) -> None:
    pattern, _ = parse_pattern("%y%j{seq}")
    assert pattern is not None
    assert pattern.render(dt.date.fromisoformat(day), "A") == f"{code}A"
