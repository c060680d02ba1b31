"""Dates in ISO form; any other form is answered with the ISO dates that it could mean."""

from __future__ import annotations

import datetime as dt
import re
from calendar import monthrange

_ISO = re.compile("([0-9]{4})-([0-9]{2})-([0-9]{2})")
_MONTHS = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
           "november", "december")
_WORD = re.compile("[0-9]+|[^\\W\\d_]+")
_TIME = re.compile("[T ][0-9]{1,2}:.*")


def parse_date(text: str) -> dt.date | str:
    """The date of an ISO 8601 text (2026-05-03), or what is wrong, with the ISO form that it could mean."""
    found = text.strip()
    iso = _ISO.fullmatch(found)
    if iso:
        return _day(*(int(part) for part in iso.groups()))
    could = dict.fromkeys(day.isoformat() for day in _readings(found[:40]))
    if not could:
        return f"{found[:40]!r} is no date; write it as year-month-day: 2026-05-03"
    return f"{found[:40]!r} is not an ISO date; it could mean {' or '.join(could)}"


def _day(year: int, month: int, day: int) -> dt.date | str:
    if year < 1 or not 1 <= month <= 12:
        return f"{year:04}-{month:02}-{day:02} is no date: months go from 01 to 12"
    last = monthrange(year, month)[1]
    if not 1 <= day <= last:
        return f"{year:04}-{month:02}-{day:02} is no date: that month has {last} days"
    return dt.date(year, month, day)


def _readings(text: str) -> list[dt.date]:
    """Every date that the numbers and month names of a text could stand for, the likelier first."""
    words = [word for word in _WORD.findall(_TIME.sub("", text)) if word.lower() not in ("st", "nd", "rd", "th", "of")]
    if len(words) == 1 and words[0].isdecimal():
        return [day for parts in _parted(words[0]) for day in _orders(parts)]
    return _orders(words) if len(words) == 3 else []


def _orders(words: list[str]) -> list[dt.date]:
    named = [index for index, word in enumerate(words) if _month(word)]
    if len(named) == 1:
        month = _month(words[named[0]])
        first, second = (word for at, word in enumerate(words) if at != named[0])
        orders: list[tuple[str, str | int, str]] = [(second, month, first), (first, month, second)]
    else:
        first, second, third = words
        orders = [(third, second, first), (third, first, second), (first, second, third)]
    return [day for order in orders if (day := _valid(*order))]


def _parted(digits: str) -> list[list[str]]:
    if len(digits) == 8:
        return [[digits[:4], digits[4:6], digits[6:]], [digits[:2], digits[2:4], digits[4:]]]
    return [[digits[:2], digits[2:4], digits[4:]]] if len(digits) == 6 else []


def _month(word: str) -> int:
    """1 to 12 for a month's English name or its first three letters or more; else 0."""
    low = word.lower()
    return next((at for at, name in enumerate(_MONTHS, 1) if len(low) >= 3 and name.startswith(low)), 0)


def _valid(year: str, month: str | int, day: str) -> dt.date | None:
    if not (year.isascii() and day.isascii() and year.isdecimal() and day.isdecimal() and len(year) in (2, 4)):
        return None
    if isinstance(month, str) and not (month.isascii() and month.isdecimal()):
        return None
    full = int(year) + 2000 if len(year) == 2 else int(year)
    found = _day(full, int(month), int(day)) if 1900 <= full <= 2999 and len(day) <= 2 else None
    return found if isinstance(found, dt.date) else None
