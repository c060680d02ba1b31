from __future__ import annotations

import datetime as dt

import pytest
from bench_samples import GOOD, MADE, RULES, D, bench, correction, entered, row, weighing

from labeltool.batch.accept import accept
from labeltool.batch.model import Filled, Note, Reading, Size, Weighing, Yield
from labeltool.finding import Where


def line_of(entry, state=None, **options):
    settled, findings = accept(state or bench(), entry, RULES, **options)
    assert not findings.errors, findings
    return settled.line


def test_a_mass_finds_its_line():
    assert line_of(weighing(None, "glycerin", "25")) == 2
    assert line_of(weighing(None, "acid", "1")) == 4
    assert line_of(weighing(2, "glycerin", "25")) == 2


def test_a_mass_beyond_the_plan_takes_a_new_line_but_for_to_ph():
    assert line_of(weighing(None, "oil", "2"), beyond=True) == 5
    assert line_of(weighing(None, "oil", "2"), bench(*GOOD), beyond=True) == 5
    assert line_of(weighing(None, "oil", "2"), bench(*GOOD, weighing(5, "oil", "1")), beyond=True) == 6
    assert line_of(weighing(None, "acid", "1"), beyond=True) == 4


def test_a_material_of_several_rows_takes_the_open_one_or_asks():
    rows = (row(1, "water", "60"), row(2, "oil", "20"), row(3, "oil", "20"))
    state, errors, _ = entered(bench(rows=rows), weighing(None, "oil", "100"))
    assert errors == {"bench.line"}
    state, errors, _ = entered(bench(weighing(2, "oil", "100"), rows=rows), weighing(None, "oil", "100"))
    assert (errors, state.weighed[-1].line) == (set(), 3)


def test_a_material_planned_and_to_ph_is_asked_about_until_the_planned_row_is_weighed():
    rows = (row(1, "water", "99"), row(2, "acid", "1"), row(3, "acid", "0", kind="to-ph", up_to=D("0.3")))
    assert entered(bench(rows=rows), weighing(None, "acid", "5"))[1] == {"bench.line"}
    assert entered(bench(rows=rows), weighing(None, "acid", "1"), beyond=True)[0].weighed[0].line == 3
    state = bench(weighing(2, "acid", "5"), rows=rows)
    assert entered(state, weighing(None, "acid", "1"))[0].weighed[-1].line == 3


def test_a_former_key_counts_as_todays_and_stands_under_the_plans():
    state, errors, _ = entered(bench(), weighing(None, "sunflower", "118"))
    assert (errors, state.weighed[0].material) == (set(), "oil")
    rows = (row(1, "water", "60"), row(2, "sunflower", "40"))
    state, errors, _ = entered(bench(rows=rows), weighing(None, "oil", "200"))
    assert (errors, state.weighed[0].material, state.weighed[0].line) == (set(), "sunflower", 2)


def test_an_unknown_material_is_refused_with_the_nearest():
    _, findings = accept(bench(), weighing(None, "glycerine", "25"), RULES, where=Where(file="sheet.csv", row=3))
    (found,) = findings
    assert (found.rule, found.where.row) == ("bench.material", 3)
    assert "did you mean glycerin" in found.do


@pytest.mark.parametrize(("entry", "rule"), [
    (weighing(3, "glycerin", "25"), "bench.line"),
    (weighing(9, "glycerin", "25"), "bench.line"),
    (weighing(0, "glycerin", "25"), "bench.line"),
    (weighing(2, "glycerin", "-1"), "bench.mass"),
    (weighing(2, "glycerin", "NaN"), "bench.mass"),
    (Reading("ph", D("14.1")), "bench.reading"),
    (Reading("ph", D("-0.1")), "bench.reading"),
    (Reading("viscosity", D("Infinity")), "bench.reading"),
    (Yield(D("-1")), "bench.mass"),
    (Filled(3, "30ml"), "bench.pack"),
    (Size(D(900)), "bench.size"),
    (Note("  "), "bench.note"),
    (Note("x" * 10_001), "bench.note"),
    (correction(Weighing("oil", D(1), 3)), "bench.correct"),
    (correction(Reading("ph", D(5))), "bench.correct"),
    (correction(Yield(D(5))), "bench.correct"),
    (correction(Filled(5)), "bench.correct"),
])
def test_what_cannot_go_on_record_is_refused(entry, rule):
    state, errors, _ = entered(bench(), entry)
    assert (errors, state) == ({rule}, bench())


@pytest.mark.parametrize(("grams", "warned"), [("25.25", False), ("25.26", True), ("2", True), ("0", True)])
def test_a_mass_off_its_plan_goes_on_record_with_a_warning(grams, warned):
    state, errors, warnings = entered(bench(), weighing(2, "glycerin", grams))
    assert (errors, len(state.weighed), "bench.tolerance" in warnings) == (set(), 1, warned)


def test_a_line_is_weighed_in_parts_but_not_twice():
    state, errors, warnings = entered(bench(), weighing(2, "glycerin", "10"))
    assert "bench.tolerance" in warnings
    state, errors, warnings = entered(state, weighing(2, "glycerin", "15", "G-2"))
    assert (errors, warnings) == (set(), set())
    state, errors, _ = entered(state, weighing(2, "glycerin", "15", "G-2"))
    assert (errors, len(state.weighed)) == ({"bench.weighed"}, 2)


def test_an_acid_is_added_again_and_again():
    state = bench(*GOOD)
    for _ in range(3):
        state, errors, warnings = entered(state, weighing(None, "acid", "0.5"))
        assert (errors, warnings) == (set(), set())
    _, errors, warnings = entered(state, weighing(None, "acid", "0.01"))
    assert (errors, warnings) == (set(), {"bench.up-to"})


def test_a_size_is_given_once():
    assert entered(bench(size=None), Size(D(500)))[1] == set()
    _, errors, _ = entered(bench(size=None), Size(D(0)))
    assert errors == {"bench.size"}


def test_without_a_size_a_line_is_weighed_once():
    state, errors, _ = entered(bench(size=None), weighing(2, "glycerin", "25"))
    assert errors == set()
    _, errors, _ = entered(state, weighing(2, "glycerin", "1"))
    assert errors == {"bench.weighed"}


def test_a_missing_lot_and_a_lot_past_its_date_are_said_at_once():
    _, _, warnings = entered(bench(), weighing(2, "glycerin", "25", None))
    assert warnings == {"bench.lot"}
    _, _, warnings = entered(bench(), weighing(1, "water", "357", None))
    assert warnings == set()
    _, _, warnings = entered(bench(), weighing(2, "glycerin", "25", expires=MADE - dt.timedelta(days=1)))
    assert warnings == {"bench.expired"}
    _, _, warnings = entered(bench(), weighing(2, "glycerin", "25", expires=MADE))
    assert warnings == set()


def test_yield_and_filled_are_said_once_and_then_corrected():
    state = bench(*GOOD, Yield(D(488)), Filled(9))
    assert entered(state, Yield(D(480)))[1] == {"bench.yield"}
    assert entered(state, Filled(8))[1] == {"bench.filled"}
    for entry in (Yield(D(480)), Filled(8)):
        then, errors, _ = entered(state, correction(entry))
        assert errors == set()
    assert dict(then.filled) == {"": 8}
    assert entered(bench(*GOOD), Yield(D(501)))[2] == {"bench.yield"}
    assert entered(bench(*GOOD), Yield(D("499.92")))[2] == set()


def test_a_correction_needs_its_reason():
    assert entered(bench(*GOOD), correction(Weighing("oil", D(118), 3), " "))[1] == {"bench.why"}
    assert entered(bench(*GOOD), correction(Reading("ph", D(99)), ""))[1] == {"bench.why", "bench.correct"}


def test_of_several_lots_a_correction_must_name_one():
    state = bench(weighing(2, "glycerin", "10", "G-1"), weighing(2, "glycerin", "15", "G-2"))
    assert entered(state, correction(Weighing("glycerin", D(14), 2)))[1] == {"bench.correct"}
    assert entered(state, correction(Weighing("glycerin", D(14), 2, "G-9")))[1] == {"bench.correct"}
    assert entered(state, correction(Weighing("glycerin", D(14), 2, "G-2")))[1] == set()


def test_a_corrected_reading_is_held_to_its_range():
    state = bench(Reading("ph", D(6)))
    assert entered(state, correction(Reading("ph", D(15))))[1] == {"bench.reading"}
    assert entered(state, correction(Reading("ph", D("5.5"))))[0].readings[0].value == D("5.5")
