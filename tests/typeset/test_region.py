"""Chords of labels drawn in by a margin, against the distance to the edge measured point by point."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.typeset.region import Rect, Region


def edge_points(width, height, count=4000):
    for step in range(count):
        angle = 2 * math.pi * step / count
        yield width / 2 * (1 + math.cos(angle)), height / 2 * (1 + math.sin(angle))


@given(st.floats(18, 120), st.floats(18, 120), st.floats(0.5, 4), st.floats(0.05, 0.95))
def test_ends_of_an_ovals_chord_keep_the_margin_and_use_it(width, height, inset, share):
    region = Region("oval", width, height, 0, inset)
    y = inset + share * (height - 2 * inset)
    left, right = region.chord(y, y)
    assert left + right == pytest.approx(width)
    if right > left:
        nearest = min(math.hypot(left - x, y - v) for x, v in edge_points(width, height))
        assert nearest >= inset - 0.02


def test_a_circles_chord_is_pythagoras():
    region = Region("round", 40, 40, 0, 2)
    left, right = region.chord(20 - 9, 20 - 9)
    assert right - left == pytest.approx(2 * math.sqrt(18**2 - 9**2), abs=0.05)
    assert right - left <= 2 * math.sqrt(18**2 - 9**2) + 1e-9


def test_a_line_has_the_shorter_of_its_two_chords():
    region = Region("round", 40, 40, 0, 2)
    assert region.chord(8, 12) == region.chord(8, 8)
    assert region.chord(30, 34) == region.chord(34, 34)


def test_nothing_stands_outside():
    for shape in ("rectangle", "round", "oval"):
        region = Region(shape, 40, 30 if shape == "oval" else 40, 3, 2)
        left, right = region.chord(0.5, 3)
        assert left > right


def test_a_rectangles_corners_are_round_inside_too():
    region = Region("rectangle", 60, 40, 5, 2)
    assert region.chord(20, 20) == (2, 58)
    left, right = region.chord(2, 2)
    assert (left, right) == (pytest.approx(5), pytest.approx(55))
    left, _ = region.chord(3, 3)
    assert left == pytest.approx(5 - math.sqrt(3**2 - 2**2))
    assert Region("rectangle", 60, 40, 1.5, 2).chord(2, 2) == (2, 58)


def test_holds():
    region = Region("round", 40, 40, 0, 2)
    assert region.holds(Rect(10, 10, 30, 30))
    assert not region.holds(Rect(4, 4, 30, 30))


def test_meets_means_more_than_an_edge():
    assert Rect(0, 0, 2, 2).meets(Rect(1, 1, 3, 3))
    assert not Rect(0, 0, 2, 2).meets(Rect(2, 0, 3, 3))
    assert Rect(0, 0, 2, 2).inset(-1) == Rect(-1, -1, 3, 3)
