from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.stock.parse import parse_stock
from labeltool.stock.printers import Correction, off_page, parse_printers

A4 = "a4-3x8-63.5x33.9"
SHEET = parse_stock("a4", {
    "kind": "sheet", "page": [210, 297], "label": [63.5, 33.9], "grid": [3, 8], "origin": [7.2, 12.9],
    "pitch": [66.0, 33.9],
})[0]
ROLL = parse_stock("roll", {"kind": "roll", "label": [57, 32], "dpi": 203})[0]


def faults(table):
    return [(item.rule, item.where.key) for item in parse_printers(table)[1]]


def test_printers_are_read_with_what_they_leave_out():
    printers, found = parse_printers({
        "office": {"stock": {A4: {"nudge": [Decimal("0.4"), Decimal("-0.3")], "scale": [1, Decimal("1.001")]},
                             "roll": {"nudge": [1, 0]}}},
        "new one": {},
    })
    assert not found and [item.name for item in printers] == ["office", "new one"]
    assert printers[0].on(A4) == Correction((0.4, -0.3), (1.0, 1.001))
    assert printers[0].on("roll") == Correction((1.0, 0.0), (1.0, 1.0))
    assert printers[0].on("other") is None and printers[1].on(A4) is None


@pytest.mark.parametrize(("table", "rule", "key"), [
    ({"office": 3}, "printer.value", "office"),
    ({"office": {"stok": {}}}, "printer.key", "office.stok"),
    ({"office": {"stock": 1}}, "printer.value", "office.stock"),
    ({"office": {"stock": {"x": 1}}}, "printer.value", "office.stock.x"),
    ({"office": {"stock": {"x": {"nugde": [1, 1]}}}}, "printer.key", "office.stock.x.nugde"),
    ({"office": {"stock": {"x": {"nudge": 1}}}}, "printer.value", "office.stock.x.nudge"),
    ({"office": {"stock": {"x": {"nudge": [1]}}}}, "printer.value", "office.stock.x.nudge"),
    ({"office": {"stock": {"x": {"nudge": [1, 2, 3]}}}}, "printer.value", "office.stock.x.nudge"),
    ({"office": {"stock": {"x": {"nudge": [True, 1]}}}}, "printer.value", "office.stock.x.nudge"),
    ({"office": {"stock": {"x": {"nudge": ["1", 1]}}}}, "printer.value", "office.stock.x.nudge"),
    ({"office": {"stock": {"x": {"nudge": [21, 1]}}}}, "printer.value", "office.stock.x.nudge"),
    ({"office": {"stock": {"x": {"nudge": [10**400, 1]}}}}, "printer.value", "office.stock.x.nudge"),
    ({"office": {"stock": {"x": {"scale": [1, 0]}}}}, "printer.value", "office.stock.x.scale"),
    ({"office": {"stock": {"x": {"scale": [1, Decimal("NaN")]}}}}, "printer.value", "office.stock.x.scale"),
    ({"office": {"stock": {"x": {"scale": [1, float("inf")]}}}}, "printer.value", "office.stock.x.scale"),
])
def test_a_fault_names_its_place(table, rule, key):
    assert faults(table) == [(rule, key)]


def test_all_faults_are_told_and_a_near_key_is_named():
    table = {"a": {"stock": {"x": {"nudge": 1, "scael": [1, 1]}}}, "b": 2}
    assert faults(table) == [("printer.key", "a.stock.x.scael"), ("printer.value", "a.stock.x.nudge"),
                             ("printer.value", "b")]
    assert parse_printers(table)[1][0].do == "did you mean scale?"


def test_a_place_is_multiplied_then_moved():
    correction = Correction((0.4, -0.3), (1.0, 1.001))
    x, y = correction.moved(7.2, 250.2, 25400)  # dots of 0.001 mm
    assert (x, y) == (pytest.approx(7.6), pytest.approx(250.2 * 1.001 - 0.3, abs=0.0005))


@given(st.floats(0, 300), st.floats(0, 300), st.floats(-5, 5), st.floats(0.98, 1.02), st.sampled_from((203, 300, 600)))
def test_a_moved_place_is_the_nearest_whole_dot(x, y, nudge, scale, dpi):
    dot = 25.4 / dpi
    for place, meant in zip(Correction((nudge, nudge), (scale, scale)).moved(x, y, dpi),
                            (x * scale + nudge, y * scale + nudge), strict=True):
        assert abs(place - meant) <= dot / 2 + 1e-6
        assert abs(place / dot - round(place / dot)) < 1e-3


def test_print_off_the_page_is_found_by_how_much():
    first, last = (7.2, 12.9), (139.2, 250.2)
    assert off_page(SHEET, Correction((0.4, -0.3)), [first, last]) == 0
    assert off_page(SHEET, Correction((-9.2, 0)), [first]) == pytest.approx(0.5, abs=0.03)
    assert off_page(SHEET, Correction((9.3, 0)), [last]) == pytest.approx(0.5, abs=0.03)
    assert off_page(ROLL, Correction((-1.4, 1.4)), [(0, 0)]) == 0
    assert off_page(ROLL, Correction((0, -2.0)), [(0, 0)]) == pytest.approx(0.5, abs=0.07)
