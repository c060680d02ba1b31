import pytest

from labeltool.output.content import modules, number, numbers, outline, placement, points, rule, text_matrix
from labeltool.typeset.frame import Modules, Outline, Rule, TextRun


def test_points_are_seventy_two_to_the_inch():
    assert points(25.4) == pytest.approx(72)


@pytest.mark.parametrize("value, text", [
    (0, "0"), (-0.0, "0"), (1, "1"), (1.5, "1.5"), (0.123456, "0.12346"), (-0.000001, "0"), (1e-9, "0"),
    (1e6, "1000000"),
])
def test_numbers_are_short_and_have_no_exponent(value, text):
    assert number(value) == text


def test_several_numbers_stand_apart():
    assert numbers(1, 0.5, -2) == "1 0.5 -2"


def test_rule_is_a_rectangle_from_its_lower_left_corner():
    assert rule(Rule(25.4, 0, 25.4, 12.7, "name"), 25.4) == "72.0002 36.0002 71.9996 35.9996 re f"


def test_outline_is_filled_even_odd_with_y_turned_upwards():
    path = (("M", 0.0, 0.0), ("L", 25.4, 0.0), ("C", 25.4, 25.4, 0.0, 25.4, 0.0, 12.7), ("Z",))
    assert outline(Outline(path, "opening"), 25.4) == "0 72 m 72 72 l 72 0 0 0 0 36 c h f*"


def test_symbol_is_whole_modules_under_one_matrix_with_one_fill():
    item = Modules(25.4, 0, 25.4 / 72, ("110", "000", "101"), "A", 1, "M", 0)
    assert modules(item, 25.4) == "q 1 0 0 -1 72 72 cm 0 0 2 1 re 0 2 1 1 re 2 2 1 1 re f Q"


@pytest.mark.parametrize("angle, matrix", [
    (0, (1, 0, 0, 1)), (90, (0, -1, 1, 0)), (-90, (0, 1, -1, 0)), (180, (-1, 0, 0, -1)),
])
def test_text_turns_clockwise(angle, matrix):
    run = TextRun(25.4, 25.4, "x", "regular", 8, "name", 0, angle)
    assert text_matrix(run, 50.8) == pytest.approx((*matrix, 72, 72))


def test_placement_counts_from_the_top_left():
    assert placement("L0", 25.4, 25.4, 25.4, 101.6) == "q 1 0 0 1 72 144 cm /L0 Do Q"
