from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from bench_samples import ROWS, D, row
from hypothesis import given
from hypothesis import strategies as st

from labeltool.batch.plan import plan, plan_findings
from labeltool.errors import InputError


def test_masses_follow_percent_and_to_ph_is_planned_as_none():
    rows = plan(ROWS, D(500))
    assert [item.line for item in rows] == [1, 2, 3, 4]
    assert [item.grams for item in rows] == [D("357.00"), D("25.00"), D("118.00"), None]
    assert [item.most_g for item in rows] == [None, None, None, D("1.5")]
    assert [item.planned for item in rows] == [True, True, True, False]
    assert (rows[1].phase, rows[1].tolerance, rows[2].purpose) == ("B", "1 %", "emollient")


def test_without_a_size_there_are_rows_and_no_masses():
    assert [item.grams for item in plan(ROWS, None)] == [None] * 4
    assert not plan_findings(plan(ROWS, None)).items


def test_thirds_are_rounded_so_that_they_sum():
    third = [row(line, f"m{line}", "33.333333333333") for line in (1, 2, 3)]
    assert [item.grams for item in plan(third, D(100))] == [D("33.34"), D("33.33"), D("33.33")]
    assert [item.grams for item in plan(third, D(100), D(1))] == [D(34), D(33), D(33)]


def test_a_size_between_two_steps_leaves_its_rest_on_one_row():
    rows = plan([row(1, "a", "50"), row(2, "b", "50")], D("1.005"))
    assert sorted(item.grams for item in rows) == [D("0.500"), D("0.505")]


def test_what_the_balance_cannot_show_is_warned_of():
    rows = plan([row(1, "water", "99.999"), row(2, "dye", "0.001"), row(3, "none", "0")], D(500))
    (found,) = plan_findings(rows)
    assert (found.rule, found.level) == ("plan.too-small", "warning")
    assert found.text.startswith("line 2, dye")


@pytest.mark.parametrize("size", ["0", "-1", "NaN", "Infinity", "1e12"])
def test_a_size_that_is_none_is_refused(size):
    with pytest.raises(InputError):
        plan(ROWS, Decimal(size))


PERCENTS = st.lists(st.decimals("0.001", "100", places=3), min_size=1, max_size=40)
SIZES = st.decimals("0.001", "100000", places=3)
STEPS = st.sampled_from([D("0.001"), D("0.01"), D("0.1"), D("0.5"), D(1), D(5), D("0.02")])


@given(PERCENTS, SIZES, STEPS)
def test_every_plan_sums_to_its_size_and_stays_within_a_step(percents, size, step):
    rows = [row(line, "m", str(percent)) for line, percent in enumerate(percents, 1)]
    planned = plan(rows, size, step)
    assert sum(item.grams for item in planned) == size
    whole = sum(Fraction(percent) for percent in percents)
    for item, percent in zip(planned, percents, strict=True):
        assert abs(Fraction(item.grams) - Fraction(size) * Fraction(percent) / whole) < Fraction(step)
    assert sum(item.grams % step != 0 for item in planned) <= (1 if size % step else 0)


@given(PERCENTS, SIZES, STEPS)
def test_more_of_a_material_is_never_planned_as_less(percents, size, step):
    rows = [row(line, "m", str(percent)) for line, percent in enumerate(percents, 1)]
    planned = {item.percent: item.grams for item in plan(rows, size - size % step or step, step)}
    ordered = [planned[percent] for percent in sorted(planned)]
    assert all(after - before > -step for before, after in pairwise(ordered))
