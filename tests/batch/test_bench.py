from __future__ import annotations

import datetime as dt
import json
from dataclasses import replace

import pytest
from bench_samples import GOOD, ROWS, D, bench, correction, weighing
from hypothesis import given
from hypothesis import strategies as st

from labeltool.batch.bench import after, fold, from_record, to_record
from labeltool.batch.model import Bench, Correction, Filled, Logged, Note, Reading, Size, Weighing, Yield


def test_entries_fold_to_what_stands():
    readings = Reading("ph", D("6.2"), "", D(21)), Reading("ph", D("5.4"))
    state = bench(*GOOD, *readings, Yield(D(488)), Filled(9), Note("ok"))
    assert [(item.line, item.phase, item.material, item.grams, item.lot) for item in state.weighed] == [
        (1, "A", "water", D("356.8"), None), (2, "B", "glycerin", D("25.02"), "G-1"),
        (3, "B", "oil", D("118.1"), "O-9"),
    ]
    assert [(item.value, item.celsius, item.at) for item in state.readings] == [
        (D("6.2"), D(21), "2026-05-03T09:03:00+00:00"), (D("5.4"), None, "2026-05-03T09:04:00+00:00"),
    ]
    assert (state.yield_g, state.filled, state.notes[0].entry.text) == (D(488), (("", 9),), "ok")
    assert state.additions == ()


def test_a_size_said_at_the_bench_makes_the_plan():
    state = bench(Size(D(500)), *GOOD, size=None)
    assert state.size_g == 500
    assert [item.grams for item in state.plan] == [D("357.00"), D("25.00"), D("118.00"), None]
    assert bench(Size(D(900))).size_g == 500


def test_a_mass_past_the_plan_is_an_addition_on_a_line_of_its_own():
    state = bench(*GOOD, weighing(5, "oil", "2"), weighing(6, "acid", "1"))
    assert [(item.line, item.material) for item in state.additions] == [(5, "oil"), (6, "acid")]
    assert state.next_line == 7


def test_a_drop_without_a_lot_is_given_its_lot_though_another_drop_has_it():
    drops = weighing(4, "acid", "1.3", "C-1"), weighing(4, "acid", "0.8", None), weighing(4, "acid", "0.8", None)
    named = correction(Weighing("acid", D("0.8"), 4, "C-1"), "lot left out")
    once = bench(*GOOD, *drops, named)
    assert [(item.grams, item.lot) for item in once.on_line(4)] == [
        (D("1.3"), "C-1"), (D("0.8"), "C-1"), (D("0.8"), None)]
    twice = bench(*GOOD, *drops, named, named)
    assert [(item.grams, item.lot) for item in twice.on_line(4)] == [(D("1.3"), "C-1"), (D("0.8"), "C-1"),
                                                                     (D("0.8"), "C-1")]


def test_a_correction_replaces_what_stands_and_keeps_what_was():
    state = bench(*GOOD, correction(Weighing("glycerin", D("24.9"), 2), "misread"))
    (item,) = state.on_line(2)
    assert (item.grams, item.lot, item.before, item.why) == (D("24.9"), "G-1", (D("25.02"),), "misread")
    assert [one.line for one in state.weighed] == [1, 2, 3]
    again = after(state, Logged(correction(Weighing("glycerin", D("25"), 2, "G-2"), "lot"), "later", "CD"))
    (item,) = again.on_line(2)
    assert (item.grams, item.lot, item.before, item.by) == (D(25), "G-2", (D("25.02"), D("24.9")), "CD")
    assert len(again.corrections) == 2


def test_a_corrected_lot_does_not_keep_the_other_lots_date():
    date = dt.date(2027, 1, 1)
    state = bench(weighing(2, "glycerin", "25", "G-1", expires=date))
    same = after(state, Logged(correction(Weighing("glycerin", D("25.1"), 2)), ""))
    other = after(state, Logged(correction(Weighing("glycerin", D("25.1"), 2, "G-2")), ""))
    assert (same.weighed[0].expires, other.weighed[0].expires) == (date, None)


def test_of_several_lots_on_a_line_the_named_one_is_corrected():
    state = bench(weighing(2, "glycerin", "10", "G-1"), weighing(2, "glycerin", "15", "G-2"))
    then = after(state, Logged(correction(Weighing("glycerin", D("14.8"), 2, "G-2")), ""))
    assert [(item.grams, item.lot) for item in then.on_line(2)] == [(D(10), "G-1"), (D("14.8"), "G-2")]


def test_of_several_readings_the_last_is_corrected():
    state = bench(Reading("ph", D(6)), Reading("ph", D(5)), Reading("temperature", D(70)),
                  correction(Reading("ph", D("5.2"))))
    assert [(item.name, item.value) for item in state.readings] == [("ph", 6), ("temperature", 70), ("ph", D("5.2"))]


def test_yield_and_filled_are_corrected():
    state = bench(Yield(D(488)), Filled(9), Filled(4, "30ml"), correction(Yield(D(480))), correction(Filled(8)))
    assert (state.yield_g, dict(state.filled)) == (D(480), {"": 8, "30ml": 4})


LOTS = st.none() | st.sampled_from(["L-1", "L-2", "=x", "ü"])
MASS = st.decimals("0", "1000", places=2)
WEIGHINGS = st.builds(Weighing, st.sampled_from(["water", "oil"]), MASS, st.integers(1, 6), LOTS,
                      st.none() | st.dates(), st.text(max_size=5))
SIMPLE = st.one_of(
    WEIGHINGS, st.builds(Reading, st.just("ph"), MASS, st.text(max_size=3), st.none() | MASS),
    st.builds(Yield, MASS), st.builds(Filled, st.integers(0, 99)),
)
ENTRIES = st.one_of(
    SIMPLE, st.builds(Size, MASS), st.builds(Note, st.text(max_size=9)),
    st.builds(Correction, SIMPLE, st.text(max_size=5)),
)


@given(ENTRIES)
def test_every_entry_goes_on_record_and_back(entry):
    assert from_record(json.loads(json.dumps(to_record(entry)))) == entry


@pytest.mark.parametrize("plain", [None, {}, {"$": "Weighing"}, {"$": "Other"}, [], "x", {"$": "Note", "text": 5}])
def test_what_is_no_entry_is_refused(plain):
    with pytest.raises((ValueError, TypeError)):
        from_record(plain)


@given(st.lists(ENTRIES, max_size=12))
def test_the_log_is_folded_entry_by_entry_and_never_loses_an_untouched_one(entries):
    entries = [entry for entry in entries if not isinstance(entry, Size)]
    logged = [Logged(entry, str(place)) for place, entry in enumerate(entries)]
    whole = fold(ROWS, D(500), logged)
    step: Bench = fold(ROWS, D(500), [])
    for item in logged:
        step = after(step, item)
    assert step == whole
    instead = [entry.entry for entry in entries if isinstance(entry, Correction)]
    corrected = {entry.line for entry in instead if isinstance(entry, Weighing)}
    plain = [entry for entry in entries if isinstance(entry, Weighing) and entry.line not in corrected]
    kept = [item for item in whole.weighed if item.line not in corrected]
    assert [(item.line, item.material, item.grams, item.lot) for item in kept] == [
        (entry.line, entry.material, entry.grams, entry.lot) for entry in plain
    ]
    assert len(whole.corrections) == sum(isinstance(entry, Correction) for entry in entries)
    assert replace(whole, corrections=()).size_g == 500
