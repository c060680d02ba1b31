import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.stock.measure import Readings, like, measured, table_of, toml_of
from labeltool.stock.parse import parse_stock
from labeltool.stock.places import places
from labeltool.workflow import layouts

STOCKS = layouts.stocks(None)
SHEETS = [item for item in STOCKS.values() if item.kind == "sheet" and item.shape == "rectangle"]
MISREAD = st.floats(-0.25, 0.25)


def readings_of(stock, off=(0.0, 0.0, 0.0, 0.0)):
    """What a ruler tells of a stock, each reading off by so much."""
    last = [stock.origin_mm[axis] + ((stock.columns, stock.rows)[axis] - 1) * stock.pitch_mm[axis]
            + stock.label_mm[axis] for axis in (0, 1)]
    return Readings(stock.page_mm, stock.label_mm, (stock.columns, stock.rows),
                    (stock.origin_mm[0] + off[0], stock.origin_mm[1] + off[1]), (last[0] + off[2], last[1] + off[3]))


@pytest.mark.parametrize("stock", SHEETS, ids=lambda item: item.name)
def test_exact_readings_give_the_stock_back(stock):
    found, faults = measured(readings_of(stock))
    assert not faults
    assert found.origin == pytest.approx(stock.origin_mm, abs=0.001)
    for axis, count in enumerate((stock.columns, stock.rows)):
        assert count == 1 or found.pitch[axis] == pytest.approx(stock.pitch_mm[axis], abs=0.001)


@given(st.sampled_from(SHEETS), st.tuples(MISREAD, MISREAD, MISREAD, MISREAD))
def test_no_place_is_further_off_than_is_told(stock, off):
    readings = readings_of(stock, off)
    found, faults = measured(readings)
    assert not faults
    made, findings = parse_stock("made", table_of(readings, found))
    assert made is not None, findings
    for ours, real in zip(places(made, made.per_page), places(stock, stock.per_page), strict=True):
        assert abs(ours.x_mm - real.x_mm) <= found.off[0] + 0.01
        assert abs(ours.y_mm - real.y_mm) <= found.off[1] + 0.01
    assert max(found.off) <= 0.75


def test_labels_that_would_overlap_by_a_hair_touch_and_share_what_is_over():
    found, _ = measured(Readings((210, 297), (70, 29.7), (3, 10), (0, 0.2), (210, 296.8)))
    assert found.origin == (0, 0) and found.pitch == (70, 29.7)
    assert found.off[1] == pytest.approx(0.25 + 0.2)


@pytest.mark.parametrize(("last", "words"), [
    ((190.0, 284.1), "across, 3 label"), ((202.7, 250.0), "down, 8 label"), ((3.0, 284.1), "across, 3 label"),
])
def test_readings_that_contradict_each_other_are_told(last, words):
    found, faults = measured(Readings((210, 297), (63.5, 33.9), (3, 8), (7.2, 12.9), last))
    assert found is None and [item.rule for item in faults] == ["stock.readings"]
    assert faults[0].text.startswith(words)


def test_a_single_label_must_fill_its_edges():
    assert measured(Readings((210, 297), (190, 60), (1, 1), (10, 10), (200.4, 70)))[0].origin == (10.2, 10)
    assert measured(Readings((210, 297), (190, 60), (1, 1), (10, 10), (202, 70)))[0] is None


def test_the_file_says_what_the_table_says():
    readings = readings_of(STOCKS["a4-3x8-63.5x33.9"])
    table = table_of(readings, measured(readings)[0])
    assert tomllib.loads(toml_of(table)) == table


def test_a_built_in_stock_within_the_rulers_error_is_found():
    stock = STOCKS["a4-3x8-63.5x33.9"]
    near, _ = parse_stock("mine", table_of(readings_of(stock), measured(readings_of(stock, (-0.2, 0.1, 0.2, 0)))[0]))
    assert like(near, SHEETS).name in (stock.name, "a4-3x8-63.5x33.9-clear")
    assert like(STOCKS["a4-3x7-63.5x38.1"], [stock]) is None
