"""Sizes, weights and minimums."""

from __future__ import annotations

import pytest
from typeset_samples import roll, stock

from labeltool import tables
from labeltool.typeset.sizes import body_weights, least_net_mm, least_x_mm, sizes_of
from labeltool.wording.model import Block, Minimum

FONTS = tables.fonts()


def test_sizes_follow_from_the_x_height():
    sizes = sizes_of(1.2, "regular", 2.0, 1.2, 0.0, FONTS)
    assert sizes.running_mm == pytest.approx(1.2 / 0.526)
    assert sizes.name_mm == pytest.approx(2.4 / 0.530)
    assert sizes.net_mm == sizes.running_mm
    assert sizes.grid_mm == pytest.approx(sizes.running_mm * 0.6)


def test_the_net_quantity_takes_a_size_of_its_own_only_where_it_must():
    assert sizes_of(1.2, "regular", 2.0, 1.2, 2.2, FONTS).net_mm == pytest.approx(1.2 / 0.526)
    own = sizes_of(1.2, "regular", 2.0, 1.2, 3.0, FONTS)
    assert own.net_mm == 3.0 and own.name_mm != own.net_mm
    near_name = sizes_of(1.2, "regular", 2.0, 1.2, 4.4, FONTS)
    assert near_name.net_mm == near_name.name_mm >= 4.4
    larger = sizes_of(1.2, "regular", 2.0, 1.2, 4.8, FONTS)
    assert larger.net_mm == larger.name_mm == 4.8
    near_running = sizes_of(1.2, "regular", 2.0, 1.2, 2.3, FONTS)
    assert near_running.net_mm == pytest.approx(1.15 * near_running.running_mm)


def test_stems_of_two_dots_on_thermal_stock():
    """203 dpi: Regular from 1.42 mm, Medium from 1.02, SemiBold from 0.92; 300 dpi: Regular from 0.96."""
    found = dict(body_weights(roll(57, 32, 203), FONTS))
    assert {weight: round(value, 2) for weight, value in found.items()} == {
        "regular": 1.42, "medium": 1.02, "semibold": 0.92}
    assert dict(body_weights(roll(57, 32, 300), FONTS))["regular"] == pytest.approx(0.958, abs=0.001)
    assert body_weights(stock(57, 32), FONTS) == (("regular", 0.0),)


def test_the_strictest_minimum_of_all_running_blocks_counts():
    blocks = [
        Block("ingredients", "Aqua", minimums=(Minimum(0.8, "x", "a"), Minimum(1.59, "x", "b"))),
        Block("net", "50 ml", minimums=(Minimum(6.0, "figure", "c"),)),
        Block("name", "Balm", minimums=(Minimum(2.0, "x", "d"),)),
    ]
    assert least_x_mm(blocks, 2.0, FONTS) == 1.59
    assert least_x_mm(blocks, 1.0, FONTS) == 2.0
    assert least_x_mm(blocks[1:2], 2.0, FONTS) == 0.9
    figures = [Block("code", "1", minimums=(Minimum(2.0, "figure", "e"),))]
    assert least_x_mm(figures, 2.0, FONTS) == pytest.approx(2.0 * 526 / 669)


def test_the_net_size_meets_figures_and_small_letters():
    font = FONTS.semibold
    block = Block("net", "50 ml", minimums=(Minimum(3.0, "figure", "a"), Minimum(1.59, "x", "b")))
    size = least_net_mm([block], font)
    assert size * 0.674 == pytest.approx(3.0) and size * 0.530 >= 1.59
    assert least_net_mm([Block("name", "x")], font) == 0.0
