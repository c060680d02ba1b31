"""Law to come: notes with dates, and stock that outlives what it may be sold under."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from rule_samples import CREAM, FACE, advised, held, rules, texts

from labeltool.formula.model import Period


def notes(product, *substances, **more):
    return [item for item in advised(product, *substances, **more).findings if item.rule == "law.coming"]


# (EU) 2026/909: citral by product type, placing from 1 January 2027, on sale until 30 June 2028.
def test_a_limit_to_come_is_told_with_its_dates_and_changes_nothing_today():
    lips = replace(CREAM, function="Lip balm", body_area=("lips",))
    found = notes(lips, held("Citral", "0.2", contained=True))
    assert [item.level for item in found] == ["note"]
    assert "2027-01-01" in found[0].text and "2028-06-30" in found[0].limit and found[0].market == "EU"
    assert "limit.over" not in rules(advised(lips, held("Citral", "0.2", contained=True)))


def test_what_will_stay_within_is_not_told():
    assert notes(replace(CREAM, body_area=("lips",)), held("Citral", "0.05", contained=True)) == []


# (EU) 2024/996: retinol text from 1 November 2025; stock on sale until 30 April 2027.
def test_a_text_to_come_is_told_and_so_is_stock_that_outlives_its_sale():
    on = dt.date(2025, 10, 1)
    short = replace(FACE, shelf_life=Period(months=12))
    found = notes(short, held("Retinol", "0.1"), on=on)
    assert len(found) == 1 and "Contains Vitamin A" in found[0].text
    assert "before its best-before date" not in found[0].do
    long = replace(FACE, shelf_life=Period(months=24))
    assert "before its best-before date" in notes(long, held("Retinol", "0.1"), on=on)[0].do
    assert texts(advised(FACE, held("Retinol", "0.1"), on=on)) == []


def test_the_uk_is_told_its_own_dates():
    found = notes(CREAM, held("Kojic Acid", "2"), markets=("UK",), on=dt.date(2025, 6, 1))
    assert len(found) == 1 and "2025-06-20" in found[0].text


def test_markets_without_annexes_are_told_nothing():
    assert notes(CREAM, held("Citral", "0.5"), markets=("US", "CA")) == []
