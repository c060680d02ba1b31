"""Dates of a batch: whole calendar months, best before and how it is printed, durability, made dates that can be."""

from __future__ import annotations

import calendar
import datetime as dt
from dataclasses import dataclass
from typing import Literal

from labeltool.errors import input_error
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Period

EARLIEST = dt.date(1990, 1, 1)
MOST_AHEAD = dt.timedelta(days=31)
DATE_DUE_MONTHS = 30  # Regulation (EC) No 1223/2009, Art. 19(1)(c): a date is due up to and including these
DAY_FORM_MONTHS = 3  # what keeps for less is printed with its day, so that no large part of it is lost

Shown = Literal["date", "jar", "both", "neither", "unknown"]

_DAY_FORMS = {"de": "{:%d.%m.%Y}", "pl": "{:%d.%m.%Y}", "nl": "{:%d-%m-%Y}"}


def add_months(day: dt.date, months: int) -> dt.date:
    """The same day of the month, so many months on; the last day where that month is shorter.

    Raises InputError past the year 9999.
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    if not 1 <= year <= 9999:
        raise input_error("dates.range", f"{months} months from {day} lie outside the calendar")
    return day.replace(year=year, month=month + 1, day=min(day.day, calendar.monthrange(year, month + 1)[1]))


def add_period(day: dt.date, period: Period) -> dt.date:
    """`day` plus a period: its months first, then its days. Raises InputError past the year 9999."""
    try:
        return add_months(day, period.months) + dt.timedelta(days=period.days)
    except OverflowError as error:
        raise input_error("dates.range", f"{period.days} days from {day} lie outside the calendar") from error


def best_before(made: dt.date, shelf_life: Period) -> dt.date:
    """The last day up to which the maker vouches for the batch: made date plus shelf life."""
    return add_period(made, shelf_life)


@dataclass(frozen=True, slots=True)
class PrintedDate:
    """A best-before date as a label shows it: month and year (its `last_day` is that month's end), or with the day."""

    last_day: dt.date
    with_day: bool

    def text(self, lang: str = "en") -> str:
        """ "10/2027", or "03/11/2027" with that language's separator: month and year, or day, month and year."""
        if self.with_day:
            return _DAY_FORMS.get(lang, "{:%d/%m/%Y}").format(self.last_day)
        return f"{self.last_day:%m/%Y}"


def printed(computed: dt.date, made: dt.date | None = None) -> PrintedDate:
    """How a computed best-before day is printed: never as a month that ends after it.

    Month and year mean the end of that month: 2027-11-30 is 11/2027, and 2027-11-03 is 10/2027. What keeps for less
    than three months from `made` is printed with its day instead.
    """
    if made is not None and computed < add_months(made, DAY_FORM_MONTHS):
        return PrintedDate(computed, True)
    if (computed + dt.timedelta(days=1)).day == 1:
        return PrintedDate(computed, False)
    return PrintedDate(computed.replace(day=1) - dt.timedelta(days=1), False)


def printed_day(computed: dt.date, made: dt.date | None = None) -> dt.date:
    """The day that the printed date means, as GS1 AI 15 carries it."""
    return printed(computed, made).last_day


def keeps_long(made: dt.date, computed: dt.date) -> bool:
    """Whether a batch keeps for more than 30 months, so that no date is due; 30 months exactly are not more."""
    return computed > add_months(made, DATE_DUE_MONTHS)


def durability(
    made: dt.date, computed: dt.date | None, opening: Period | None, no_opening_reason: str | None = None,
) -> Shown:
    """What a label shows of durability: the date, the open jar, both, neither (a reason is given), or unknown.

    30 months or less: the date, and the jar beside it where the maker gives a period after opening. More: the jar
    instead of the date; without a period the date still stands, unless the maker gave a reason why none applies.
    """
    if computed is None:
        return "jar" if opening else "unknown"
    if not keeps_long(made, computed):
        return "both" if opening else "date"
    if opening:
        return "jar"
    return "neither" if no_opening_reason else "date"


def made_findings(made: dt.date, today: dt.date) -> Findings:
    """A note where a batch is made after today; an error more than 31 days after it, or before 1990."""
    if made < EARLIEST:
        return _made(made, "error", f"the made date {made} lies before {EARLIEST}")
    if made - today > MOST_AHEAD:
        return _made(made, "error", f"the made date {made} lies more than {MOST_AHEAD.days} days after today, {today}")
    if made > today:
        return _made(made, "note", f"the made date {made} lies after today, {today}")
    return Findings()


def _made(made: dt.date, level: Literal["error", "note"], text: str) -> Findings:
    limit = f"{EARLIEST} to {MOST_AHEAD.days} days after today"
    return Findings((Finding("made.date", level, text, limit=limit, do="check --made"),))


def gs1_date(day: dt.date) -> str:
    """The six digits YYMMDD of a GS1 date element."""
    return f"{day.year % 100:02d}{day.month:02d}{day.day:02d}"
