from dataclasses import replace

import pytest
from label_frames import label, laid, written

from labeltool.raster import Pdf
from labeltool.readback.margins import margin_faults, quiet_faults
from labeltool.readback.model import ExpectedLabel, expect
from labeltool.readback.read import read_back
from labeltool.typeset.frame import Frame, Rule

EMPTY = replace(label(), items=(), boxes=(), words=())
SYMBOL = label().symbols[0]


def page_of(frame: Frame):
    return Pdf(written(laid([frame]))).look(0, 300).grey


def faults(rule: Rule, safe_mm: float = 1.5, **shape):
    frame = replace(EMPTY, items=(rule,), **shape)
    label_ = ExpectedLabel(frame, 7.25, 12.9, None, safe_mm)
    return [fault.rule for fault in margin_faults(page_of(frame), label_)]


@pytest.mark.parametrize(("x", "y", "found"), [
    (1.6, 10, False), (1.0, 10, True), (30, 1.6, False), (30, 1.0, True), (61.4, 10, False), (61.9, 10, True),
    (30, 31.8, False), (30, 32.3, True),
])
def test_ink_within_the_margin_of_a_rectangle_is_found(x, y, found):
    assert bool(faults(Rule(x, y, 0.5, 0.5, "name"))) is found


def test_round_corners_have_their_margin_too():
    assert faults(Rule(2.0, 2.0, 0.5, 0.5, "name"), corner_mm=6.0)
    assert not faults(Rule(3.2, 3.2, 0.5, 0.5, "name"), corner_mm=6.0)
    assert not faults(Rule(2.0, 2.0, 0.5, 0.5, "name"), corner_mm=1.5)


@pytest.mark.parametrize(("x", "y", "found"), [
    (31.75, 16.7, False), (3, 16.7, False), (5, 5, True), (58, 28, True), (1.0, 16.7, True),
])
def test_ovals_have_their_margin_all_round(x, y, found):
    assert bool(faults(Rule(x, y, 0.4, 0.4, "name"), shape="oval")) is found


def test_stock_without_a_margin_asks_for_none():
    assert faults(Rule(0.2, 10, 0.5, 0.5, "name"), safe_mm=0.0) == []


@pytest.mark.parametrize(("right", "down", "found"), [(-1.0, 5.0, True), (-1.9, 5.0, False), (5.0, -1.0, True),
                                                      (5.0, -2.2, False)])
def test_ink_in_the_quiet_zone_is_found(right, down, found):
    spot = Rule(SYMBOL.x_mm + right - 0.15, SYMBOL.y_mm + down - 0.15, 0.3, 0.3, "name")
    frame = replace(EMPTY, items=(SYMBOL, spot))
    told = list(quiet_faults(page_of(frame), ExpectedLabel(frame, 7.25, 12.9), SYMBOL))
    assert bool(told) is found


def test_read_back_tells_of_both():
    frame = replace(label(), items=(*label().items, Rule(0.3, 10, 0.5, 0.5, "name"),
                                    Rule(SYMBOL.x_mm - 1.0, SYMBOL.y_mm + 2, 0.3, 0.3, "name")))
    sheets = laid([frame])
    rules = {item.rule for item in read_back(written(sheets), expect(sheets, safe_mm=1.5)).findings}
    assert rules == {"readback.safe-edge", "readback.quiet-zone"}
