from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.stock.parse import parse_stock
from labeltool.stock.surface import surface

WHITE = parse_stock("a4", {"kind": "sheet", "page": [210, 297], "label": [63.5, 33.9], "origin": [7.2, 12.9]})[0]


def told(symbol=True, behind=None, **changes):
    return [(item.rule, item.level) for item in surface(replace(WHITE, **changes), symbol, behind)]


def test_white_laser_paper_needs_no_caution():
    assert told() == []


@pytest.mark.parametrize(("medium", "rule"), [
    ("direct-thermal", ["medium.fades"]), ("inkjet", ["medium.runs"]), ("thermal-transfer", []), ("laser", []),
])
def test_a_medium_has_its_caution(medium, rule):
    assert told(medium=medium) == [(name, "note") for name in rule]


def test_toner_on_film_scuffs_and_what_lies_behind_is_asked_for():
    assert told(face="clear") == [("medium.scuffs", "note"), ("face.clear", "note")]
    assert told(face="clear", medium="thermal-transfer") == [("face.clear", "note")]


def test_a_white_patch_is_proposed_where_there_is_a_symbol():
    with_symbol, without = (surface(replace(WHITE, face="clear"), symbol, None)[-1] for symbol in (True, False))
    assert "white ink" in with_symbol.do and "white ink" not in without.do
    assert "--behind" in without.do


def test_the_colour_behind_clear_stock_is_judged():
    assert told(face="clear", medium="inkjet", behind="#f5efdc") == [("medium.runs", "note")]
    assert told(face="clear", medium="inkjet", behind="#3b2414") == [
        ("medium.runs", "note"), ("face.contrast", "warning"), ("face.symbol", "error")]
    assert told(False, "#3b2414", face="clear", medium="inkjet") == [
        ("medium.runs", "note"), ("face.contrast", "warning")]


def test_what_lies_behind_other_stock_is_not_seen():
    assert told(behind="#000000") == [("face.behind", "note")]


@pytest.mark.parametrize(("face", "rules"), [
    ("kraft", []), ("#d2b48c", []),
    ("#ff0000", []),  # red: 5.25:1 to the eye, and white to a scanner
    ("#0000ff", ["face.contrast", "face.symbol"]), ("#00ff00", ["face.symbol"]),
    ("#757575", []), ("#000000", ["face.contrast", "face.symbol"]),
])
def test_coloured_stock_is_judged_by_eye_and_by_red_light(face, rules):
    assert [rule for rule, _ in told(face=face)] == rules


def test_levels_change_at_three_and_at_four_and_a_half():
    grey = {face: dict(told(face=face)) for face in ("#747474", "#757575", "#595959", "#5a5a5a")}
    assert grey["#747474"] == {"face.contrast": "warning", "face.symbol": "warning"}
    assert grey["#757575"] == {}
    assert dict(told(face="#00ff00")) == {"face.symbol": "error"}  # light to the eye, black to a scanner
    assert grey["#595959"]["face.symbol"] == "error" and grey["#5a5a5a"]["face.symbol"] == "warning"


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_a_lighter_face_is_never_worse(colour):
    def worst(face):
        return max([("note", "warning", "error").index(level) for _, level in told(face=face)], default=-1)

    lighter = [min(255, value + 20) for value in colour]
    assert worst("#" + "".join(f"{value:02x}" for value in lighter)) <= worst(
        "#" + "".join(f"{value:02x}" for value in colour))


@pytest.mark.parametrize(("labels", "said"), [
    (24, "24 clear labels of 63.5 × 33.9 mm or a little more, one over each of this print"),
    (1, "a clear label of 63.5 × 33.9 mm or a little more over it"),
    (None, "a clear label of 63.5 × 33.9 mm or a little more over each"),
])
@pytest.mark.parametrize("changes", [{"face": "clear"}, {"medium": "inkjet"}, {"medium": "direct-thermal"}])
def test_the_clear_labels_that_go_over_a_print_are_counted(changes, labels, said):
    assert said in surface(replace(WHITE, **changes), True, "#ffffff" if "face" in changes else None, labels)[0].do
