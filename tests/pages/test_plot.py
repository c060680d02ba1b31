"""The plot of pH: everything stands inside it, in proportion."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.pages.plot import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, plot

D = Decimal
READINGS = ((D("0"), D("6.48")), (D("0.6"), D("5.92")), (D("1.0"), D("5.61")), (D("1.3"), D("5.32")))


def test_places_are_in_proportion() -> None:
    drawn = plot(READINGS, (D("5.0"), D("5.6")))
    assert drawn and drawn.band
    assert [tick.text for tick in drawn.across] == ["0", "0.5", "1", "1.5"]
    assert [tick.text for tick in drawn.up] == ["4.5", "5", "5.5", "6", "6.5", "7"]
    assert drawn.dots[0].x == LEFT and drawn.dots[2].x == pytest.approx(LEFT + (WIDTH - RIGHT - LEFT) * 2 / 3, abs=0.1)
    assert drawn.band[0] + drawn.band[1] == drawn.up[1].at
    assert drawn.told == "pH 6.48 at 0 g; pH 5.92 at 0.6 g; pH 5.61 at 1.0 g; pH 5.32 at 1.3 g"


def test_without_readings_there_is_none() -> None:
    assert plot((), None) is None


def test_readings_without_additions_stand_on_the_left() -> None:
    drawn = plot(((D(0), D("5.3")), (D(0), D("5.3"))), None)
    assert drawn and {(dot.x, dot.y) for dot in drawn.dots} == {(LEFT, drawn.dots[0].y)}
    assert drawn.band is None


PH = st.decimals(0, 14, places=2)


@given(st.lists(st.tuples(st.decimals(0, 100_000, places=3), PH), min_size=1, max_size=12),
       st.none() | st.tuples(PH, PH).map(sorted).map(tuple))
def test_everything_stands_inside(points, span) -> None:
    drawn = plot(points, span)
    assert drawn and 2 <= len(drawn.up) <= 8 and 2 <= len(drawn.across) <= 8
    for dot in drawn.dots:
        assert LEFT <= dot.x <= WIDTH - RIGHT and TOP <= dot.y <= HEIGHT - BOTTOM
    if drawn.band:
        assert drawn.band[0] >= TOP - 0.1 and 0 <= drawn.band[1] <= HEIGHT - BOTTOM - drawn.band[0] + 0.1
