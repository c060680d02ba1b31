from itertools import pairwise

import pytest

from labeltool.symbol.icons import drawn
from labeltool.symbol.model import Drawn

NAMES = ("open-jar", "hourglass", "hand-on-book", "e-mark")
STEMS = (0.03, 0.045, 0.07, 0.12)


def flat(symbol: Drawn) -> list[list[tuple[float, float]]]:
    """The contours as polygons, curves cut into 16."""
    contours, points = [], []
    for name, *numbers in symbol.path:
        pairs = list(zip(numbers[::2], numbers[1::2], strict=True))
        if name == "Z":
            contours.append(points)
            points = []
        elif name == "C":
            p0, (p1, p2, p3) = points[-1], pairs
            for step in range(1, 17):
                t, s = step / 16, 1 - step / 16
                points.append(tuple(
                    s ** 3 * p0[i] + 3 * s * s * t * p1[i] + 3 * s * t * t * p2[i] + t ** 3 * p3[i] for i in (0, 1)
                ))
        else:
            points += pairs
    assert not points
    return contours


def ink(contours, x: float, y: float) -> bool:
    """Whether a point is filled, even-odd."""
    crossings = 0
    for points in contours:
        for (x1, y1), (x2, y2) in zip(points, [*points[1:], points[0]], strict=True):
            crossings += (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1)
    return crossings % 2 == 1


def thickness(contours, x: float, y: float, dx: float, dy: float) -> float:
    """Length of the first stretch of ink from (x, y) on, in steps of 0.001."""
    inked = [ink(contours, x + dx * step / 1000, y + dy * step / 1000) for step in range(1000)]
    start = inked.index(True)
    return inked[start:].index(False) / 1000


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("stem", STEMS)
def test_ink_fills_the_height_and_the_width_exactly(name, stem):
    symbol = drawn(name, stem)
    xs, ys = zip(*[point for contour in flat(symbol) for point in contour], strict=True)
    assert (min(xs), min(ys), max(ys)) == (0, 0, 1)
    assert max(xs) == pytest.approx(symbol.width, abs=1e-5)
    assert 0.5 < symbol.width < 1.3


@pytest.mark.parametrize("name", NAMES)
def test_controls_stay_within_the_box_so_that_they_bound_the_ink(name):
    symbol = drawn(name, 0.05)
    for command in symbol.path:
        assert all(-1e-9 <= x <= symbol.width + 1e-9 for x in command[1::2])
        assert all(-1e-9 <= y <= 1 + 1e-9 for y in command[2::2])


@pytest.mark.parametrize("stem", STEMS)
def test_jar_has_room_free_of_ink_for_the_months(stem):
    symbol = drawn("open-jar", stem)
    x, y, width, height = symbol.label_box
    contours = flat(symbol)
    assert width > 0.55 and height > 0.25
    inset = 0.05
    steps = [inset + (1 - 2 * inset) * step / 20 for step in range(21)]
    assert not any(ink(contours, x + width * u, y + height * v) for u in steps for v in steps)


def test_jar_is_open_between_lid_and_mouth():
    contours = flat(drawn("open-jar", 0.045))
    inked = [ink(contours, 0.44, step / 200) for step in range(200)]
    changes = sum(a != b for a, b in pairwise(inked))
    assert changes >= 8  # lid's rim and side, mouth's far rim, near rim, foot


@pytest.mark.parametrize("stem", (0.03, 0.05, 0.07))
def test_strokes_have_the_thickness_asked_for(stem):
    jar, book, glass = (flat(drawn(name, stem)) for name in ("open-jar", "hand-on-book", "hourglass"))
    assert thickness(jar, -0.01, 0.75, 1, 0) == pytest.approx(stem, rel=0.1)
    assert thickness(book, -0.01, 0.75, 1, 0) == pytest.approx(min(stem, 0.065), rel=0.1)
    assert thickness(glass, 0.01, -0.01, 0, 1) == pytest.approx(1.2 * stem, rel=0.1)


def test_hourglass_is_the_same_left_and_right():
    contours = flat(drawn("hourglass", 0.05))
    width = drawn("hourglass", 0.05).width
    for row in range(1, 40):
        for column in range(1, 20):
            x, y = width / 2 * column / 20 + 0.0003, row / 40 + 0.0003
            assert ink(contours, x, y) == ink(contours, width - x, y)


def test_estimated_sign_has_its_one_form_whatever_the_stem():
    assert drawn("e-mark", 0.03) == drawn("e-mark", 0.12)
    contours = flat(drawn("e-mark", 0.05))
    assert ink(contours, 0.55, 0.49) and ink(contours, 0.1, 0.5) and ink(contours, 1.0, 0.4)
    assert not ink(contours, 1.0, 0.6)  # open at the lower right
    assert thickness(contours, 0.55, 0.3, 0, 1) == pytest.approx(0.046, abs=0.002)


def test_stems_outside_the_range_are_brought_into_it():
    assert drawn("open-jar", 0.5) == drawn("open-jar", 0.12)
    assert drawn("open-jar", 0.0) == drawn("open-jar", 0.03)


def test_unknown_name_is_a_key_error():
    with pytest.raises(KeyError):
        drawn("recycling", 0.05)
