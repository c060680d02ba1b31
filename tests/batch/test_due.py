from __future__ import annotations

import datetime as dt

import pytest
from bench_samples import MADE, D

from labeltool.batch.due import Dated, due
from labeltool.batch.lots import Lot

BEST = dt.date(2027, 11, 3)


def dated(code: str = "260503A31", **changes: object) -> Dated:
    facts = {"product": "Oat Lotion", "formula": "oat", "state": "released", "made": MADE, "placed": MADE,
             "best_before": BEST, "markets": ("UK",)}
    return Dated(code, **(facts | changes))


def told(batches=(), lots=(), today=MADE, days=0) -> list[tuple[str, str, str, bool]]:
    found = due(batches, lots, today, dt.timedelta(days=days))
    return [(item.kind, item.date.isoformat(), item.name, item.overdue) for item in found]


def test_all_that_comes_due_of_one_batch_in_order():
    assert told([dated()], days=5000) == [
        ("best-before", "2027-11-03", "260503A31", False),
        ("sample", "2028-11-03", "260503A31", False),
        ("records", "2036-05-03", "oat", False),
    ]


@pytest.mark.parametrize(("today", "days", "expected"), [
    ("2027-09-04", 59, []),
    ("2027-09-04", 60, [("best-before", "2027-11-03", "260503A31", False)]),
    ("2027-11-03", 0, [("best-before", "2027-11-03", "260503A31", False)]),
    ("2027-11-04", 0, [("best-before", "2027-11-03", "260503A31", True)]),
])
def test_within_counts_days_and_the_past_is_overdue(today, days, expected):
    assert told([dated()], today=dt.date.fromisoformat(today), days=days) == expected


def test_lots_come_due_unless_blocked_or_dateless():
    def lot(name: str, **facts: object) -> Lot:
        return Lot("oil", name, MADE, None, **facts)

    lots = [lot("A", expires=dt.date(2026, 6, 1)), lot("B", expires=dt.date(2026, 6, 1), blocked="rancid"),
            lot("C", grams=D(5)), lot("D", expires=dt.date(2026, 4, 1))]
    assert told(lots=lots, days=60) == [("lot", "2026-04-01", "D", True), ("lot", "2026-06-01", "A", False)]


def test_records_run_from_the_last_batch_of_a_product_on_these_markets():
    batches = [
        dated("A", placed=dt.date(2026, 5, 3)), dated("B", placed=dt.date(2028, 2, 29)), dated("C", formula="soap"),
        dated("D", placed=dt.date(2030, 1, 1), markets=("US",)),
        dated("E", placed=dt.date(2031, 1, 1), state="cancelled"),
    ]
    for order in (batches, batches[::-1]):
        found = [item for item in told(order, days=20000) if item[0] == "records"]
        assert found == [("records", "2036-05-03", "soap", False), ("records", "2038-02-28", "oat", False)]


def test_what_may_be_thrown_away_is_not_told_for_ever():
    later = dt.date(2040, 1, 1)
    assert [item[0] for item in told([dated()], today=later)] == ["best-before"]
    assert [item[0] for item in told([dated()], today=dt.date(2028, 11, 3))] == ["best-before", "sample"]


def test_a_batch_without_shelf_life_has_records_only():
    assert [item[0] for item in told([dated(best_before=None, markets=("EU",))], days=5000)] == ["records"]


def test_any_time_ahead_can_be_asked_for():
    assert len(due([dated()], [], MADE, dt.timedelta.max)) == 3
