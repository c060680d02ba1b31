from __future__ import annotations

import datetime as dt

import pytest
from bench_samples import GOOD, D, bench, correction, row, weighing

from labeltool.batch.made import complete, masses, partly, purposes, shortened, unweighed
from labeltool.batch.model import Weighing
from labeltool.batch.plan import plan


def test_every_planned_row_weighed_is_complete_to_ph_or_not():
    assert complete(bench(*GOOD))
    assert complete(bench(*GOOD, weighing(4, "acid", "1")))
    assert not complete(bench())
    assert not complete(bench(*GOOD[:2]))
    assert [item.line for item in unweighed(bench(*GOOD[:2]))] == [3]


def test_a_row_left_out_on_purpose_is_weighed_as_nothing():
    state = bench(*GOOD[:2], weighing(3, "oil", "0"))
    assert complete(state)
    assert [mass.line for mass in masses(state)] == [1, 2]


def test_a_row_of_no_percent_is_not_waited_for():
    rows = (row(1, "water", "100"), row(2, "oil", "0"))
    assert complete(bench(weighing(1, "water", "500"), rows=rows))


def test_partly_weighed_names_the_rows_and_nothing_weighed_is_no_word():
    (found,) = partly(bench(*GOOD[:1]))
    assert (found.rule, found.level) == ("bench.partly", "warning")
    assert "2 glycerin, 3 oil" in found.text
    assert not partly(bench()).items
    assert not partly(bench(*GOOD)).items


def test_as_made_takes_every_lot_addition_and_correction():
    state = bench(*GOOD, weighing(2, "glycerin", "1", "G-2"), weighing(4, "acid", "1.3", "C-1"),
                  weighing(5, "oil", "2", "O-9"), correction(Weighing("water", D(350), 1)))
    assert [(mass.material, mass.lot, mass.grams, mass.line) for mass in masses(state)] == [
        ("water", None, D(350), 1), ("glycerin", "G-1", D("25.02"), 2), ("oil", "O-9", D("118.1"), 3),
        ("glycerin", "G-2", D(1), 2), ("acid", "C-1", D("1.3"), 4), ("oil", "O-9", D(2), 5),
    ]


def test_purposes_go_with_materials_that_have_one():
    rows = (row(1, "a", "50", purpose="preservative"), row(2, "b", "25", purpose="solvent"), row(3, "b", "25"))
    assert purposes(plan(rows, None)) == {"a": "preservative"}


def test_the_lot_that_expires_first_shortens_best_before():
    day = dt.date(2027, 11, 3)
    known = {("oil", "O-9"): dt.date(2027, 6, 1), ("glycerin", "G-1"): dt.date(2029, 1, 1)}
    found, notes = shortened(day, bench(*GOOD), lambda key, lot, said: said or known.get((key, lot)))
    assert found == dt.date(2027, 6, 1)
    assert [(item.rule, item.level) for item in notes] == [("best-before.lot", "note")]
    assert "O-9" in notes.items[0].text


@pytest.mark.parametrize("expires", [dt.date(2027, 11, 3), dt.date(2027, 11, 4), None])
def test_a_lot_as_good_as_the_batch_shortens_nothing(expires):
    state = bench(weighing(3, "oil", "118", expires=expires))
    day, notes = shortened(dt.date(2027, 11, 3), state, lambda key, lot, said: said)
    assert (day, notes.items) == (dt.date(2027, 11, 3), ())


def test_a_date_from_the_bench_counts_and_a_lot_of_0_g_does_not():
    early = dt.date(2027, 1, 1)
    state = bench(weighing(3, "oil", "9", expires=early))
    assert shortened(dt.date(2027, 11, 3), state, lambda key, lot, said: said)[0] == early
    state = bench(weighing(3, "oil", "0", expires=early))
    assert shortened(dt.date(2027, 11, 3), state, lambda key, lot, said: said)[0] == dt.date(2027, 11, 3)
