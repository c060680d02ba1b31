import math

import pytest

from labeltool.symbol.pen import Pen, bezier, shifted, smooth


def approx(points):
    return [pytest.approx(point) for point in points]


def test_arc_of_a_whole_circle_stays_within_two_tenths_of_a_percent_of_it():
    path = Pen().arc((0, 0), (1, 1), 0, 360).close().path()
    assert [command[0] for command in path] == ["M", "C", "C", "C", "C", "Z"]
    start = path[0][1:]
    for command in path[1:5]:
        numbers = command[1:]
        controls = [start, numbers[0:2], numbers[2:4], numbers[4:6]]
        for step in range(11):
            assert math.hypot(*bezier(*controls, step / 10)) == pytest.approx(1, abs=0.002)
        start = numbers[4:6]


def test_arc_runs_either_way_and_joins_by_a_line():
    path = Pen().move(5, 5).arc((0, 0), (2, 1), 90, 0).path()
    assert path[0] == ("M", 5.0, 5.0)
    assert path[1] == ("L", 0.0, 1.0)
    assert path[-1][-2:] == (2.0, 0.0)


def test_shifted_line_keeps_its_distance_at_a_corner():
    assert shifted([(0, 0), (10, 0), (10, 10)], 1) == approx([(0, 1), (9, 1), (9, 10)])


def test_shifted_square_shrinks_or_grows():
    square = [(0, 0), (10, 0), (10, 10), (0, 10)]
    assert shifted(square, 1, closed=True) == approx([(1, 1), (9, 1), (9, 9), (1, 9)])
    assert shifted(square, -1, closed=True) == approx([(-1, -1), (11, -1), (11, 11), (-1, 11)])


def test_smooth_goes_through_its_points():
    points = [(0.0, 0.0), (1.0, 2.0), (3.0, 1.0)]
    assert set(points) <= set(smooth(points))
    assert set(points) <= set(smooth(points, closed=True))
