"""Paper bands: as long as the girth and the overlap, with marks to cut along."""

from __future__ import annotations

import math
from typing import Any

import pytest

from labeltool.codec import from_plain, to_plain
from labeltool.finding import Finding
from labeltool.stock.band import MARK_MM, banded, marks_of
from labeltool.stock.model import Stock
from labeltool.stock.parse import parse_stock

BAND: dict[str, Any] = {
    "kind": "sheet", "page": [297, 210], "label": [277, 45], "grid": [1, 3], "origin": [10, 20], "pitch": [277, 55],
    "marks": "cut", "overlap": 10,
}


def stock(**changes: Any) -> Stock:
    found, findings = parse_stock("band", {key: value for key, value in (BAND | changes).items() if value is not None})
    assert found is not None, findings
    return found


def test_the_keys_are_read():
    assert (stock().marks, stock().overlap_mm) == ("cut", 10.0)
    plain = stock(marks=None, overlap=None)
    assert (plain.marks, plain.overlap_mm) == ("none", 0.0)


@pytest.mark.parametrize(("changes", "key"), [
    ({"marks": "cat"}, "marks"), ({"marks": "none"}, "overlap"), ({"marks": None}, "overlap"),
    ({"overlap": -1}, "overlap"), ({"shape": "round", "label": [45, 45]}, "marks"),
])
def test_wrong_keys_are_told(changes, key):
    table = {name: value for name, value in (BAND | changes).items() if value is not None}
    found, findings = parse_stock("band", table)
    assert found is None and key in [item.where.key for item in findings]


def test_stocks_without_marks_are_on_record_as_they_always_were():
    plain = stock(marks=None, overlap=None)
    assert {"marks", "overlap_mm"} & to_plain(plain).keys() == set()
    assert from_plain(Stock, to_plain(plain)) == plain
    assert from_plain(Stock, to_plain(stock())) == stock()


@pytest.mark.parametrize("girth", [100.0, 2 * (78 + 32), math.pi * 60])
def test_a_band_is_as_long_as_the_girth_and_its_overlap(girth):
    found = banded(stock(), girth)
    assert isinstance(found, Stock)
    assert found.label_mm == (pytest.approx(girth + 10, abs=0.006), 45)
    assert found.pitch_mm == stock().pitch_mm


def test_the_longest_band_fits_and_a_longer_one_is_told():
    assert isinstance(banded(stock(), 267.0), Stock)
    found = banded(stock(), 267.1)
    assert isinstance(found, Finding) and found.rule == "stock.band" and "277.1" in found.text


def test_other_stock_and_unknown_girths_stay_as_they_are():
    plain = stock(marks=None, overlap=None)
    assert banded(plain, 100.0) is plain
    assert banded(stock(), None) == stock()


def test_marks_lie_at_the_corners_inside_the_label():
    marks = marks_of(230, 45)
    assert len(marks) == 8
    for x, y, width, height in marks:
        assert x >= 0 and x + width <= 230 + 1e-9 and y >= 0 and y + height <= 45 + 1e-9
        assert max(width, height) == MARK_MM
