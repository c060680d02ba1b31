from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.finding import Where
from labeltool.formula.balance import Balanced, balance, exact_shares
from labeltool.formula.drafts import Amount, Draft, Unit, read_amount
from labeltool.formula.report import Report

AMOUNTS = st.decimals("0.0001", "99", places=4)


def weighed(values: Sequence[str | Decimal], unit: Unit = "percent") -> tuple[Balanced, list[tuple[str, str]]]:
    drafts = []
    for line, value in enumerate(values, 1):
        amount = read_amount(value, unit)
        assert isinstance(amount, Amount), amount
        drafts.append(Draft(line, Where("f", line), amount, unit, "water"))
    report = Report()
    found = balance(drafts, Where("f"), report)
    return found, [(item.level, item.rule) for item in report.findings()]


@pytest.mark.parametrize(("values", "percents"), [
    (["70", "30"], ["70", "30"]), (["qs", "30"], ["70", "30"]), (["q.s.", "0,5 %"], ["99.5", "0.5"]),
    (["100", "to pH 0.3"], ["100", "0"]),
])
def test_percents_as_they_stand(values: list[str], percents: list[str]) -> None:
    found, told = weighed(values)
    assert [str(row.percent) for row in found.rows] == percents
    assert told == []


@pytest.mark.parametrize("total", ["99.99", "100.01", "99.999", "100.0000001"])
def test_sums_near_a_hundred_are_multiplied_with_a_note(total: str) -> None:
    found, told = weighed([Decimal(total) - 30, "30"])
    assert sum(row.percent for row in found.rows) == 100
    assert abs(found.rows[1].percent - 3000 / Decimal(total)) < Decimal("1e-19")
    assert told == [("note", "formula.normalised")]


@pytest.mark.parametrize("total", ["99.9899", "100.0101", "70", "150"])
def test_sums_further_off_are_an_error(total: str) -> None:
    found, told = weighed([Decimal(total) - 60, "60"])
    assert not found.whole
    assert told == [("error", "formula.sum")]


def test_qs_may_be_left_nothing_with_a_warning_but_never_less() -> None:
    found, told = weighed(["qs", "60", "40"])
    assert (found.rows[0].percent, told) == (0, [("warning", "formula.rest")])
    found, told = weighed(["qs", "60", "40.000001"])
    assert (found.whole, told) == (False, [("error", "formula.rest")])


def test_grams_are_shares_of_their_sum() -> None:
    found, told = weighed(["1 kg", "500", "0,5 g"], "grams")
    assert found.total_grams == Decimal("1500.5")
    assert [row.grams for row in found.rows] == [1000, 500, Decimal("0.5")]
    assert told == []


def test_to_ph_rows_stand_beside_grams() -> None:
    drafts = [Draft(1, Where(), Amount("amount", Decimal(5)), "grams", "water"),
              Draft(2, Where(), Amount("to-ph", up_to=Decimal(1)), "percent", "acid")]
    report = Report()
    found = balance(drafts, Where(), report)
    assert [row.percent for row in found.rows] == [100, 0]
    assert (found.total_grams, report.count) == (5, 0)


@given(st.lists(AMOUNTS, min_size=1, max_size=30))
def test_shares_sum_to_exactly_a_hundred(amounts: list[Decimal]) -> None:
    shares = exact_shares(amounts)
    total = sum(map(Fraction, amounts))
    assert sum(map(Fraction, shares)) == 100
    for share, amount in zip(shares, amounts, strict=True):
        exact = Fraction(amount) * 100 / total
        assert abs(Fraction(share) - exact) <= Fraction(len(amounts), 2 * 10**20)
        if Fraction(round(exact * 10**20), 10**20) == exact:
            assert Fraction(share) == exact


@given(st.lists(AMOUNTS, min_size=1, max_size=30))
def test_any_grams_are_a_whole_formula(amounts: list[Decimal]) -> None:
    found, _ = weighed([str(item) for item in amounts], "grams")
    assert found.whole
    assert sum(Fraction(row.percent) for row in found.rows) == 100
    assert found.total_grams == sum(amounts)
