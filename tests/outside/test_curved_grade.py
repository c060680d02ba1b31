"""Symbols on a cylinder seen square-on from far away, against figures computed from geometry alone.

A place s round a cylinder of radius R is seen at R sin(s / R): the axial non-uniformity of ISO/IEC 15415 of a symbol
that takes up the half angle f is 2 (f - sin f) / (f + sin f), and its grid bows by the largest of |sin(u f) - u sin f|.
"""

import math

import pytest
from drawn_symbols import Drawing, known

PAYLOADS = {21: "A1", 25: "HTTPS://OTTERSHOLT.EXAMPLE/B/260503A31", 29: "https://ottersholt.example/b/260503A31/"}
COMPUTED_AXIAL = {15: 0.0114, 20: 0.0204, 25: 0.0319, 30: 0.0461, 35: 0.0630, 45: 0.1049}
COMPUTED_A_UNTIL = {21: 42.06, 25: 38.59, 29: 35.90}


def round_a_cylinder(size, half_angle_deg, across=True):
    symbol = known(PAYLOADS[size])
    assert symbol.size == size
    drawing = Drawing(symbol, module=(12.0, 12.0))
    half, middle = math.radians(half_angle_deg), size / 2

    def seen(at):
        return middle + middle * math.sin((at - middle) / middle * half) / half

    drawing.bend = (seen, drawing.bend[1]) if across else (drawing.bend[0], seen)
    return drawing.grade()


@pytest.mark.parametrize(("degrees", "axial"), COMPUTED_AXIAL.items())
@pytest.mark.parametrize("across", [True, False])
def test_axial_non_uniformity_is_that_of_the_geometry(degrees, axial, across):
    found = round_a_cylinder(25, degrees, across).of("axial-non-uniformity")
    assert found.value == pytest.approx(axial, rel=0.04, abs=0.001)


@pytest.mark.parametrize(("size", "degrees"), COMPUTED_A_UNTIL.items())
def test_the_grid_leaves_grade_a_where_geometry_says(size, degrees):
    assert round_a_cylinder(size, degrees - 1.2).of("grid-non-uniformity").grade == 4.0
    assert round_a_cylinder(size, degrees + 1.2).of("grid-non-uniformity").grade < 4.0


@pytest.mark.parametrize("degrees", [15, 25, 35])
def test_the_grid_bows_as_the_sine(degrees):
    half = math.radians(degrees)
    bow = max(abs(math.sin(u / 200 * half) - u / 200 * math.sin(half)) for u in range(201)) * 12.5 / half
    assert round_a_cylinder(25, degrees).of("grid-non-uniformity").value == pytest.approx(bow, abs=0.03)
