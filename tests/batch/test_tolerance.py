from __future__ import annotations

from dataclasses import replace

import pytest
from bench_samples import GOOD, ROWS, D, bench, row, weighing

from labeltool.batch.plan import plan
from labeltool.batch.tolerance import off_by, tolerance_g
from labeltool.errors import InputError

STEP = D("0.01")


@pytest.mark.parametrize(("own", "workshop", "expected"), [
    (None, "2 %", "0.5"), (None, "0,5 g", "0.5"), ("1 %", "2 %", "0.25"), ("0.3 g", "2 %", "0.3"),
    (None, "0 %", "0.01"), ("0.001 g", "2 %", "0.01"), (None, "0.01%", "0.01"),
])
def test_the_rows_tolerance_or_the_workshops_and_never_under_a_step(own, workshop, expected):
    (planned,) = plan([row(1, "m", "100", tolerance=own)], D(25))
    assert tolerance_g(planned, workshop, STEP) == D(expected)


def test_a_tolerance_that_cannot_be_read_is_refused():
    (planned,) = plan([row(1, "m", "100", tolerance="much")], D(25))
    with pytest.raises(InputError, match="much"):
        tolerance_g(planned, "2 %", STEP)


@pytest.mark.parametrize(("grams", "within"), [
    ("25.25", True), ("25.26", False), ("24.75", True), ("24.74", False), ("0", False),
])
def test_the_edge_of_a_tolerance_is_within_it(grams, within):
    state = bench(weighing(2, "glycerin", grams))
    found = off_by(state, state.row(2), "2 %", STEP)
    assert (found is None) is within


def test_what_is_not_weighed_is_not_off():
    state = bench()
    assert all(off_by(state, item, "2 %", STEP) is None for item in state.plan)


def test_several_lots_of_one_line_count_together():
    state = bench(weighing(2, "glycerin", "10"), weighing(2, "glycerin", "15", "L-2"))
    assert off_by(state, state.row(2), "2 %", STEP) is None


@pytest.mark.parametrize(("grams", "rule"), [("1.5", None), ("1.51", "bench.up-to")])
def test_to_ph_holds_to_what_its_formula_counted(grams, rule):
    state = bench(*GOOD, weighing(4, "acid", grams))
    found = off_by(state, state.row(4), "2 %", STEP)
    assert (found and found.rule) == rule


def test_rows_of_a_batch_without_size_are_never_off():
    state = bench(weighing(2, "glycerin", "99"), size=None)
    assert off_by(state, plan(ROWS, None)[1], "2 %", STEP) is None


@pytest.mark.parametrize(("planned", "own", "step", "expected"), [
    ("5.03", "2 %", "0.01", "0.10"), ("0.60", "2 %", "0.01", "0.01"), ("1.00", "1.5 %", "0.01", "0.01"),
    ("0.02", "2 %", "0.01", "0.01"), ("0.5", "2 %", "0.5", "0.5"), ("734.0", "2 %", "0.1", "14.6"),
    ("3", "0.25 g", "0.1", "0.2"),
])
def test_a_tolerance_is_what_the_balance_can_show(planned, own, step, expected):
    made = replace(bench(rows=ROWS).plan[1], grams=D(planned), tolerance=own)
    assert tolerance_g(made, "9 %", D(step)) == D(expected)
