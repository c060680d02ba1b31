from __future__ import annotations

import datetime as dt

from labeltool.rules.terms import Term, term_of

DAY = dt.timedelta(days=1)
START, END = dt.date(2026, 8, 1), dt.date(2028, 7, 31)


def test_first_and_last_day_belong_to_a_term():
    term = Term(START, END)
    assert [term.covers(day) for day in (START - DAY, START, END, END + DAY)] == [False, True, True, False]
    assert [term.comes_after(day) for day in (START - DAY, START)] == [True, False]


def test_an_open_term_covers_every_day():
    assert Term().covers(dt.date(1990, 1, 1)) and not Term().comes_after(dt.date(1990, 1, 1))


def test_a_term_is_read_from_a_row_and_told_in_words():
    term = term_of({"from": START, "stock-until": END})
    assert term == Term(START, None, END)
    assert term.told == "from 2026-08-01, stock placed before may be sold until 2028-07-31"
