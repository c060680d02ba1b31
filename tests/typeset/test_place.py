"""From lines to runs, rules and outlines."""

from __future__ import annotations

import pytest
from test_fit import ARTWORKS, STOCKS, set_label
from typeset_checks import ink_of, lines_of
from typeset_samples import balm, lotion, three_markets

from labeltool import tables
from labeltool.codec import canonical, from_plain, to_plain
from labeltool.typeset.frame import Frame, Outline, Rule, TextRun
from labeltool.typeset.printed import printed_text
from labeltool.wording.model import Block


def test_a_frame_survives_the_record():
    found = set_label(three_markets(), "back", STOCKS["a4-2x2-99.1x139"])
    assert from_plain(Frame, to_plain(found)) == found
    assert canonical(found) == canonical(set_label(three_markets(), "back", STOCKS["a4-2x2-99.1x139"]))


def test_fonts_are_named_by_hash():
    found = set_label(lotion(), "back", STOCKS["a4-2x4-99.1x67.7"])
    assert found.fonts == tuple((weight, tables.font_sha256(weight)) for weight in ("regular", "semibold"))


@pytest.mark.parametrize("name", ["a4-2x2-99.1x139", "roll-102x152-203dpi", "roll-102x76-300dpi"])
def test_hairlines_are_whole_dots_on_whole_dots_and_two_at_least(name):
    found = set_label(lotion(), "front-and-back", STOCKS[name])
    (rule,) = [item for item in found.items if isinstance(item, Rule)]
    dots = [value * found.dpi / 25.4 for value in (rule.x_mm, rule.y_mm, rule.width_mm, rule.height_mm)]
    assert dots == pytest.approx([round(value) for value in dots], abs=1e-3)
    assert min(dots[2:]) >= 2 - 1e-3
    assert 0.1 <= min(rule.width_mm, rule.height_mm) <= 0.3


def test_signs_stand_on_whole_dots_on_thermal_stock():
    found = set_label(three_markets(), "front-and-back", STOCKS["roll-102x152-203dpi"])
    signs = [ink_of(item)[0] for item in found.items if isinstance(item, Outline)]
    assert len(signs) == 3
    heights = {round(rect.height, 2) for rect in signs}
    assert max(heights) - min(heights) < 0.1


def test_signs_stand_on_the_baseline_in_one_row_and_are_as_high_as_the_law_says():
    found = set_label(three_markets(), "back", STOCKS["a4-2x2-99.1x139"])
    signs = {item.block: ink_of(item)[0] for item in found.items if isinstance(item, Outline)}
    assert set(signs) == {"date", "opening", "e-mark"}
    assert signs["date"].bottom == pytest.approx(signs["opening"].bottom, abs=0.05)
    date = [item.y_mm for item in found.items if isinstance(item, TextRun) and item.block == "date"]
    assert signs["date"].bottom == pytest.approx(date[0], abs=0.05)
    assert signs["e-mark"].height >= 3 - 1e-6


def test_the_months_stand_inside_the_jar_in_the_running_size():
    found = set_label(balm(), "back", STOCKS["a4-3x8-63.5x33.9"])
    (jar,) = [ink_of(item)[0] for item in found.items if isinstance(item, Outline)]
    months = [item for item in found.items if isinstance(item, TextRun) and item.block == "opening"]
    assert "".join(item.text for item in months) == "12M"
    for item in months:
        for rect in ink_of(item):
            assert jar.left < rect.left and rect.right < jar.right and jar.top < rect.top and rect.bottom < jar.bottom
    running = next(item for item in found.items if isinstance(item, TextRun) and item.block == "ingredients")
    assert months[0].size_pt == running.size_pt


def test_strokes_of_signs_are_as_heavy_as_the_stems():
    from labeltool.typeset.signs import outline
    from labeltool.typeset.sizes import sizes_of

    fonts = tables.fonts()
    sizes = sizes_of(1.2, "regular", 2.0, 1.2, 0, fonts)
    shape = outline("open-jar", 5.0, sizes, fonts)
    assert shape == outline("open-jar", 5.0, sizes, fonts)
    heavier = outline("open-jar", 5.0, sizes_of(1.2, "semibold", 2.0, 1.2, 0, fonts), fonts)
    assert heavier != shape


def test_capitals_are_spaced_and_small_letters_are_not():
    def spacing(text):
        found = set_label(text, "front", STOCKS["a4-2x4-99.1x67.7"])
        return {item.block: item.spacing_pt / item.size_pt for item in found.items if isinstance(item, TextRun)}

    assert spacing(balm()) == {"brand": pytest.approx(0.04, abs=1e-3), "name": 0, "function": 0, "net": 0}
    assert spacing(lotion())["brand"] == 0


def test_all_baselines_of_a_column_lie_on_one_grid():
    jobs = ((lotion(), "a4-2x4-99.1x67.7"), (lotion(40), "a4-1x6-140x40"), (three_markets(), "a4-2x2-99.1x139"))
    for text, name in jobs:
        lines = lines_of(set_label(text, "back", STOCKS[name]))
        list_rows = [y for y, runs in lines if runs[0].block == "ingredients"]
        running = next(runs[0].size_pt for _, runs in lines if runs[0].block == "ingredients")
        rows = [y for y, runs in lines if runs[0].size_pt == running and runs[0].block not in ("opening", "date")]
        pitch = list_rows[1] - list_rows[0]
        size = running * 25.4 / 72
        assert 1.15 - 1e-3 <= pitch / size <= 1.25 + 1e-3
        for y in rows:
            off = (y - rows[0]) / (pitch / 2)
            assert abs(off - round(off)) * pitch / 2 < 0.05


def test_columns_of_running_text_are_equally_grey():
    """Letters by area of the box around them, left column against right, within 8 percent."""
    found = set_label(lotion(40), "back", STOCKS["a4-2x4-99.1x67.7"])
    columns: dict[bool, list] = {False: [], True: []}
    for _, runs in lines_of(found):
        if runs[0].block == "ingredients":
            columns[runs[0].x_mm > found.width_mm / 2].append(runs)
    greys = []
    for lines in columns.values():
        widths = [tables.fonts().regular.width("".join(run.text for run in runs)) for runs in lines[:-1]]
        greys.append(sum(widths) / len(widths))
    assert min(greys) / max(greys) > 0.92


def test_a_block_is_printed_heading_first_and_addresses_in_one_line():
    assert printed_text(Block("responsible", "A Bodycare\n3 Yard,\n\nTown", "EU:")) == "EU: A Bodycare, 3 Yard, Town"
    assert printed_text(Block("opening", "6M", symbol="open-jar")) == "6M"
    assert printed_text(Block("e-mark", "", symbol="e-mark")) == ""


def test_words_name_every_carried_block_in_order():
    found = set_label(three_markets(), "back", STOCKS["a4-2x2-99.1x139"])
    names = [block.name for block in three_markets().blocks]
    assert [name for name, _ in found.words] == names
    assert dict(found.words)["net"] == "250 ml / 8.45 fl. oz."
    assert ARTWORKS["back"].name == found.artwork
