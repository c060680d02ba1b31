from __future__ import annotations

import datetime as dt

import pytest
from bench_samples import GOOD, KNOWN, MADE, MATERIALS, D, bench, correction, row, weighing
from hypothesis import given
from hypothesis import strategies as st

from labeltool.batch.lots import Blocked, Received, fold_lots, lot_of_batch
from labeltool.batch.model import Reading, Weighing
from labeltool.batch.release import Release, last_reading, reasons, release_findings
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Span

EVE = MADE - dt.timedelta(days=1)
ENTRIES = (Received("glycerin", "G-1", EVE, MATERIALS["glycerin"]), Received("oil", "O-9", EVE, expires=MADE))
BOOK = fold_lots(ENTRIES, KNOWN)
PH = {"ph": Span(D("5.8"), D("6.2"))}


def release(**changes: object) -> Release:
    return Release(**({"used": MADE, "lots": BOOK, "without_lot": frozenset({"water"})} | changes))


def why_not(state, **changes: object) -> list[str]:
    return [item.rule for item in reasons(release_findings(state, release(**changes)))]


def test_a_batch_without_fault_is_released():
    assert not release_findings(bench(*GOOD), release()).items


@pytest.mark.parametrize(("values", "rule"), [
    (["6.01"], []), (["6.74"], ["release.reading"]), ([], ["release.reading"]), (["6.74", "6.01"], []),
    (["6.01", "6.74"], ["release.reading"]), (["5.8"], []), (["6.2"], []), (["6.20001"], ["release.reading"]),
    (["5.79"], ["release.reading"]),
])
def test_the_last_reading_counts_with_a_target_of_ph_6(values, rule):
    state = bench(*GOOD, *(Reading("ph", D(value)) for value in values))
    assert why_not(state, ranges=PH) == rule


def test_a_corrected_reading_counts_and_other_readings_do_not():
    state = bench(*GOOD, Reading("ph", D("6.74")), Reading("temperature", D(6)), correction(Reading("ph", D("6.01"))))
    assert why_not(state, ranges=PH) == []
    assert last_reading(state, "ph").value == D("6.01")
    assert last_reading(state, "viscosity") is None


def test_every_planned_row_is_weighed():
    assert why_not(bench(*GOOD[:2])) == ["release.unweighed"]
    assert why_not(bench()) == ["release.unweighed"] * 3
    assert why_not(bench(size=None)) == ["release.size", *["release.unweighed"] * 3]


def test_every_mass_lies_within_its_tolerance():
    state = bench(GOOD[0], weighing(2, "glycerin", "25.26", "G-1"), GOOD[2])
    assert why_not(state) == ["bench.tolerance"]
    assert why_not(bench(*GOOD), tolerance="0.05 %") == ["bench.tolerance", "bench.tolerance"]
    assert why_not(bench(*GOOD), tolerance="0.05 %", step_g=D("0.2")) == []


def test_a_corrected_mass_counts():
    state = bench(GOOD[0], weighing(2, "glycerin", "26", "G-1"), GOOD[2], correction(Weighing("glycerin", D(25), 2)))
    assert why_not(state) == []


def test_every_lot_is_named_unless_the_material_has_none():
    state = bench(GOOD[0], weighing(2, "glycerin", "25", None), GOOD[2])
    assert why_not(state) == ["release.lot"]
    assert why_not(bench(*GOOD), without_lot=frozenset()) == ["release.lot"]
    assert why_not(state, without_lot=frozenset({"water", "glycerin"})) == []


def test_a_material_left_out_needs_no_lot():
    rows = (row(1, "water", "99.999"), row(2, "oil", "0.001"))
    assert why_not(bench(weighing(1, "water", "500", None), weighing(2, "oil", "0", None), rows=rows)) == []


def test_a_lot_must_be_on_record():
    state = bench(GOOD[0], weighing(2, "glycerin", "25", "G-2"), GOOD[2])
    assert why_not(state) == ["release.lot-unknown"]


@pytest.mark.parametrize(("used", "rule"), [
    (EVE, []), (MADE, []), (MADE + dt.timedelta(days=1), ["release.lot-expired"]),
])
def test_a_lot_is_good_through_its_date(used, rule):
    assert why_not(bench(*GOOD), used=used) == rule


def test_a_date_written_at_the_bench_counts_too():
    state = bench(GOOD[0], weighing(2, "glycerin", "25", "G-1", expires=EVE), GOOD[2])
    assert why_not(state) == ["release.lot-expired"]


def test_a_blocked_lot_refuses_release_under_a_former_key_too():
    book = fold_lots([*ENTRIES, Blocked("sunflower", "O-9", "rancid")], KNOWN)
    assert why_not(bench(*GOOD), lots=book) == ["release.lot-blocked"]


def test_a_material_made_here_needs_a_batch_that_stands():
    state = bench(*GOOD, weighing(4, "acid", "1", "260501A37"))
    for name, rule in (("open", []), ("withdrawn", ["release.lot-blocked"]), ("cancelled", ["release.lot-blocked"])):
        book = fold_lots(ENTRIES, KNOWN, [lot_of_batch("acid", "260501A37", MADE, None, name)])
        assert why_not(state, lots=book) == rule


def test_an_open_error_is_a_reason_and_a_warning_is_none():
    error, warning = Finding("limit.over", "error", "too much"), Finding("limit.possible", "warning", "perhaps")
    found = release_findings(bench(*GOOD), release(errors=Findings((error, warning))))
    assert found.items == (error,)


def test_an_addition_beyond_the_plan_is_told_and_refuses_nothing():
    state = bench(*GOOD, weighing(5, "oil", "2", "O-9"))
    found = release_findings(state, release())
    assert [(item.rule, item.level) for item in found] == [("release.addition", "warning")]


def test_all_reasons_come_at_once():
    state = bench(weighing(2, "glycerin", "30", None), weighing(3, "oil", "118", "O-1"), Reading("ph", D(9)))
    assert sorted(why_not(state, ranges=PH)) == [
        "bench.tolerance", "release.lot", "release.lot-unknown", "release.reading", "release.unweighed",
    ]


@given(st.lists(st.decimals("0", "14", places=2), min_size=1, max_size=6))
def test_only_the_last_reading_decides(values):
    state = bench(*GOOD, *(Reading("ph", value) for value in values))
    assert (why_not(state, ranges=PH) == []) is (D("5.8") <= values[-1] <= D("6.2"))
