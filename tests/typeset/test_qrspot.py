"""Where the symbol stands."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typeset_samples import roll, stock

from labeltool.typeset.qrspot import Clear, Symbol, dot_choices, spot
from labeltool.typeset.region import Rect, Region


def dots(value, dpi):
    return value * dpi / 25.4


@given(st.sampled_from([203, 300, 600]), st.sampled_from([25, 29, 33]), st.floats(25, 120), st.floats(25, 120),
       st.sampled_from(["bottom-right", "bottom-left", "bottom-centre"]), st.floats(1, 4))
def test_whole_dots_quiet_zone_and_edge(dpi, modules, width, height, corner, inset):
    symbol = Symbol(modules, dot_choices(stock(50, 50, dpi=dpi), (0.33, 0.39))[-1], dpi)
    region = Region("rectangle", width, height, 1.5, inset)
    found = spot(symbol, corner, region.box, Clear(inset, inset, inset, inset), region, region.box.bottom)
    if found is None:
        assert min(width, height) < symbol.dark_mm + 2 * max(symbol.quiet_mm, 2, inset) + 0.2
        return
    for value in (found.dark.left, found.dark.top):
        assert dots(value, dpi) == pytest.approx(round(dots(value, dpi)), abs=1e-6)
    assert found.dark.width == pytest.approx(modules * symbol.module_mm)
    assert found.dark.left - found.quiet.left == pytest.approx(4 * symbol.module_mm)
    assert found.quiet.left >= -1e-9 and found.quiet.right <= width + 1e-9 and found.quiet.bottom <= height + 1e-9
    for space in (found.dark.left, width - found.dark.right, height - found.dark.bottom):
        assert space >= 2 - 1e-9


def test_bottom_right_stands_at_the_margin():
    region = Region("rectangle", 60, 40, 0, 3)
    found = spot(Symbol(25, 8, 600), "bottom-right", region.box, Clear(3, 3, 3, 3), region, 37)
    assert 57 - found.dark.right < 25.4 / 600 + 1e-6 and 37 - found.dark.bottom < 25.4 / 600 + 1e-6


def test_beside_another_panel_the_quiet_zone_stays_clear_of_it():
    region = Region("rectangle", 60, 40, 0, 3)
    rect, symbol = Rect(3, 3, 30, 37), Symbol(25, 8, 600)
    near, far = (spot(symbol, "bottom-right", rect, Clear(3, 3, gap, 3), region, 37) for gap in (0.5, 2))
    assert near.quiet.right <= 30.5 + 1e-9
    assert 30 - far.dark.right < 25.4 / 600 + 1e-6


def test_in_a_circle_it_rises_until_its_corners_are_inside():
    region = Region("round", 60, 60, 0, 2)
    found = spot(Symbol(25, 8, 600), "bottom-centre", region.box, Clear(2, 2, 2, 2), region, 58)
    assert region.holds(found.dark) and not region.holds(Rect(
        found.dark.left, found.dark.top + 0.1, found.dark.right, found.dark.bottom + 0.1))
    assert found.across


@pytest.mark.parametrize(("made", "wanted"), [
    (roll(57, 32, 203), (4, 3)), (roll(57, 32, 300), (5, 4)), (stock(60, 40), (9, 8)),
])
def test_modules_are_tried_from_the_wished_size_down(made, wanted):
    """At 203 dpi four dots are preferred, three the least; 0.33 mm is never undercut."""
    assert dot_choices(made, (0.33, 0.39)) == wanted


def test_small_modules_only_where_the_artwork_says_so():
    assert dot_choices(stock(60, 40), (0.25, 0.25))[-1] == 6
    assert dot_choices(roll(57, 32, 203), (0.25, 0.25))[-1] == 3


@pytest.mark.parametrize(("widest", "dots"), [
    (None, (5, 4)), (20.0, (5, 4)), (10.5, (4,)), (8.4, (4,)), (1.0, (4,)), (10.59, (5, 4)),
])
def test_a_container_bears_so_many_dots_and_the_least_are_kept(widest, dots):
    """25 modules at 300 dpi: 10.58 mm with 5 dots, 8.47 mm with 4, which are the least for 0.33 mm."""
    assert dot_choices(roll(57, 32, 300), (0.33, 0.39), 25, widest) == dots
