import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.errors import InputError
from labeltool.stock.parse import parse_stock
from labeltool.stock.places import next_skip, parse_places, places

SHEET = parse_stock("a4", {
    "kind": "sheet", "page": [210, 297], "label": [63.5, 33.9], "grid": [3, 8], "origin": [7.25, 12.9],
    "pitch": [66.0, 33.9],
})[0]
ROLL = parse_stock("roll", {"kind": "roll", "label": [40, 20], "grid": [2, 1], "pitch": 43})[0]


def spots(found):
    return [(place.page, place.place) for place in found]


def test_places_run_row_by_row():
    found = places(SHEET, 24)
    assert (found[0].x_mm, found[0].y_mm) == (7.25, 12.9)
    assert (found[1].x_mm, found[1].y_mm) == (73.25, 12.9)
    assert (found[3].x_mm, found[3].y_mm) == (7.25, 46.8)
    assert (found[23].x_mm, found[23].y_mm) == (139.25, 250.2)


def test_skip_leaves_out_the_first_places_of_the_first_sheet_only():
    assert spots(places(SHEET, 27, skip=22)) == [(0, 23), (0, 24)] + [(1, n) for n in range(1, 25)] + [(2, 1)]


def test_full_skip_begins_a_new_sheet():
    assert spots(places(SHEET, 2, skip=24)) == [(0, 1), (0, 2)]


def test_named_places_come_first_and_in_the_order_named():
    assert spots(places(SHEET, 4, only=(9, 5))) == [(0, 9), (0, 5), (1, 1), (1, 2)]
    assert spots(places(SHEET, 1, only=(9, 5))) == [(0, 9)]


def test_none_is_none():
    assert places(SHEET, 0) == ()


def test_roll_page_is_one_row_across():
    assert [(p.page, p.place, p.x_mm, p.y_mm) for p in places(ROLL, 3)] == [(0, 1, 0, 0), (0, 2, 43, 0), (1, 1, 0, 0)]


@pytest.mark.parametrize("change", [{"skip": 25}, {"skip": -1}, {"only": (25,)}, {"only": (0,)}, {"only": ()}])
def test_place_that_is_not_on_the_sheet_is_refused(change):
    with pytest.raises(InputError):
        places(SHEET, 3, **change)


@given(st.integers(0, 200), st.integers(0, 23))
def test_no_place_is_used_twice_and_none_is_left_out(count, skip):
    numbers = [place.page * 24 + place.place for place in places(SHEET, count, skip=skip)]
    assert numbers == list(range(skip + 1, skip + 1 + count))


@pytest.mark.parametrize("text, found", [
    ("5", (5,)), ("5,9-12", (5, 9, 10, 11, 12)), (" 5 , 9 - 10 ", (5, 9, 10)), ("9\u201310", (9, 10)),
    ("24,1", (24, 1)), ("3-3", (3,)), ("1;2", (1, 2)),
])
def test_places_are_read_one_by_one(text, found):
    assert parse_places(text, 24) == found


@pytest.mark.parametrize("text, words", [
    ("", "is no place"), ("a", "is no place"), ("5,,6", "is no place"), ("5-", "is no place"), ("-5", "is no place"),
    ("1.5", "is no place"), ("0", "no place 0"), ("25", "no place 25"), ("20-30", "no place 30"),
    ("12-9", "runs backwards"), ("5,5", "named twice"), ("5,4-6", "place 5 is named twice"),
    ("9" * 5000, "is no place"),
])
def test_wrong_places_are_refused_with_the_reason(text, words):
    with pytest.raises(InputError) as caught:
        parse_places(text, 24)
    assert len(caught.value.findings) == 1
    assert words in caught.value.findings[0].text


def test_all_wrong_places_are_told_at_once():
    with pytest.raises(InputError) as caught:
        parse_places("0,x,12-9", 24)
    assert len(caught.value.findings) == 3


def test_next_free_place_goes_on_behind_the_last_label():
    assert next_skip(SHEET, places(SHEET, 5)) == 5
    assert next_skip(SHEET, places(SHEET, 5, skip=22)) == 3
    assert next_skip(SHEET, places(SHEET, 24)) == 0
    assert next_skip(SHEET, places(SHEET, 2, only=(12, 3))) == 12
    assert next_skip(ROLL, places(ROLL, 1)) == 0
    assert next_skip(SHEET, ()) == 0


def test_a_hundred_thousand_places_are_quick():
    assert len(places(SHEET, 100_000)) == 100_000
