"""The predicted grade against two decoders that nobody here wrote, on simulated photos: a small part of the matrix.

`python bench/grade_matrix.py` runs more of it, `--full` all; docs/verification.md has the results.
"""

import sys
from functools import cache
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2] / "bench"))

import grade_matrix
from grade_matrix import GOOD, Cell, chosen, correlation, press, run, unread_though_good
from seen import Camera, read, shot

LINK = grade_matrix.PAYLOADS[0]
WELL = Cell(LINK, 300, 4, 0.0, 0.85, None, 0.05)


@cache
def results(count):
    return [run(cell) for cell in chosen(count)]


def test_symbols_of_grade_a_and_b_are_read_by_both_decoders(samples):
    found = results(samples(18))
    good = [item for item in found if item.grade >= GOOD]
    assert len(good) >= 4
    assert unread_though_good(found) == []


def test_some_of_the_matrix_cannot_be_read_and_the_grade_ranks_it(samples):
    found = results(samples(18))
    unread = [item for item in found if not item.both]
    assert len(unread) >= 2
    assert correlation(found) > 0.4


@pytest.mark.parametrize("axis", [
    [Cell(LINK, 300, 4, 0.0, 0.85, None, blur) for blur in (0.05, 0.3, 0.5, 0.7, 0.9, 1.2)],
    [Cell(LINK, 203, 2, gain, 0.85, None, 0.05) for gain in (0.0, 0.04, 0.07, 0.09, 0.12)],
    [Cell(LINK, 300, 4, 0.0, 0.85, curve, 0.05) for curve in (0.2, 0.4, 0.6, 0.8, 1.0)],
    [Cell(LINK, 300, 4, 0.0, paper, None, 0.05) for paper in (0.85, 0.5, 0.3, 0.1, 0.06)],
])
def test_the_grade_falls_before_reading_fails(axis):
    found = [run(cell) for cell in axis]
    grades = [item.grade for item in found]
    assert grades == sorted(grades, reverse=True) and grades[0] == 4.0 and grades[-1] == 0.0
    assert not found[-1].both
    first_bad = next(index for index, grade in enumerate(grades) if grade < 1.5)
    assert all(item.both for item in found[:first_bad])


def test_the_camera_sees_a_flat_symbol_as_it_is_drawn():
    drawn = grade_matrix.drawn(WELL)
    module = 4 * 25.4 / 300
    still = Camera(tilt_deg=0, turn_deg=0, roll_deg=0, blur=0.01, noise=0, distance_mm=1e6, pixels=10)
    seen = shot(drawn, module / 10, module, None, still)
    middle = seen.shape[0] // 2
    row = bytes(drawn.pixels[drawn.height // 2 * drawn.width:][:drawn.width])
    light = [255 * ((value / 255) ** (1 / 2.4) * 1.055 - 0.055) for value in row]
    part = [float(value) for value in seen[middle][middle - 100:middle + 100]]
    start = len(light) // 2 - 100
    away = min(
        sum(abs(one - two) for one, two in zip(part, light[start + shift:], strict=False)) / 200
        for shift in (-1, 0, 1)
    )
    assert away < 12
    assert read(seen) == (LINK, LINK)


def test_the_press_of_a_cell_is_its_own():
    cell = Cell(LINK, 203, 3, 0.02, 0.5, None, 0.2)
    assert press(cell).gain_mm == (0.02, 0.02) and press(cell).edge_mm == pytest.approx(0.2 * 3 * 25.4 / 203)
