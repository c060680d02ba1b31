"""The table of metrics is the font file's own: read here with fontTools, glyph by glyph."""

from __future__ import annotations

from io import BytesIO

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from labeltool import tables
from labeltool.typeset.metrics import missing_glyphs

WEIGHTS = ("regular", "medium", "semibold")


def font(weight: str) -> TTFont:
    return TTFont(BytesIO(tables.font_bytes(weight)))


def bounds(file: TTFont, char: str) -> tuple[int, ...]:
    glyphs = file.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[file.getBestCmap()[ord(char)]].draw(pen)
    return tuple(round(value) for value in pen.bounds or (0, 0, 0, 0))


@pytest.mark.parametrize("weight", WEIGHTS)
def test_every_advance_is_the_files(weight):
    file, metrics = font(weight), tables.fonts().of(weight)
    steps = {chr(code): file["hmtx"][name][0] for code, name in file.getBestCmap().items()}
    assert dict(metrics.advances) == steps
    assert len(steps) > 1500


@pytest.mark.parametrize("weight", WEIGHTS)
def test_bounds_and_heights_are_the_files(weight):
    file, metrics = font(weight), tables.fonts().of(weight)
    assert metrics.units_per_em == file["head"].unitsPerEm
    assert metrics.sha256 == tables.font_sha256(weight)
    assert (metrics.ascender, metrics.descender) == (file["hhea"].ascent, file["hhea"].descent)
    for char in "xHIgjÅÉŁ0123456789.,/()[]@&éüñçß€Ωж":
        assert metrics.bounds[char] == bounds(file, char), char
    assert metrics.x_height == bounds(file, "x")[3] == file["OS/2"].sxHeight
    assert metrics.cap_height == bounds(file, "H")[3] == file["OS/2"].sCapHeight
    assert metrics.stem == bounds(file, "I")[2] - bounds(file, "I")[0]


@pytest.mark.parametrize("weight", WEIGHTS)
def test_figures_are_lining_and_step_evenly(weight):
    """The default figures are proportional; the tabular ones have no code point, and the figure space's width."""
    file, metrics = font(weight), tables.fonts().of(weight)
    assert {file["hmtx"][name][0] for name in ("zero.tf", "one.tf", "nine.tf")} == {metrics.figure_step}
    assert "one.tf" not in file.getBestCmap().values()
    assert metrics.figure_height == min(bounds(file, digit)[3] for digit in "0123456789") > metrics.x_height
    assert metrics.advance("1", tabular=True) == metrics.advance("8", tabular=True) == metrics.figure_step / 1000


def test_width_is_the_sum_of_advances():
    metrics = tables.fonts().regular
    assert metrics.width("Aqua") == pytest.approx(sum(metrics.advances[char] for char in "Aqua") / 1000)


def test_thin_space_is_a_gap_that_the_face_has_no_glyph_for():
    metrics = tables.fonts().regular
    assert "\u2009" not in metrics.advances
    assert metrics.has("\u2009") and 0 < metrics.advance("\u2009") < metrics.advance(" ")


@pytest.mark.parametrize(("char", "said"), [
    ("漢", "U+6F22"), ("\u0301", "COMBINING ACUTE ACCENT"), ("\u200b", "ZERO WIDTH SPACE"), ("\u202e", "RIGHT-TO-LEFT"),
    ("\x07", "U+0007"), ("\U0001f9f4", "LOTION BOTTLE"), ("\u00ad", "SOFT HYPHEN"),
])
def test_a_character_that_cannot_be_set_is_named(char, said):
    (found,) = missing_glyphs([("name", f"Oat{char}Milk {char}")], tables.fonts())
    assert said in found.text and "name" in found.text and "Oat" in found.text
    assert (found.rule, found.level, found.where.block) == ("typeset.glyph", "error", "name")


def test_each_block_and_character_is_named_once_and_good_text_never():
    found = missing_glyphs([("name", "漢漢"), ("function", "漢字"), ("net", "50 ml\n℮ é ß Ж Ω")], tables.fonts())
    assert [(item.where.block, item.text[item.text.index("U+"):][:6]) for item in found] == [
        ("name", "U+6F22"), ("function", "U+6F22"), ("function", "U+5B57")]


def test_shipped_table_is_what_the_tool_makes():
    metrics = tables.fonts()
    for weight in WEIGHTS:
        file = font(weight)
        glyphs = file.getGlyphSet()
        names = file.getBestCmap()
        for code in list(names)[::37]:
            pen = BoundsPen(glyphs)
            glyphs[names[code]].draw(pen)
            box = tuple(round(value) for value in pen.bounds or (0, 0, 0, 0))
            assert metrics.of(weight).bounds[chr(code)] == box
