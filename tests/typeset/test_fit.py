"""Whole labels: random texts on random stocks, and the ones a workshop prints every day."""

from __future__ import annotations

import tomllib
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from typeset_checks import faults, ink_centre
from typeset_samples import NAMES, SMALL, balm, lotion, roll, stock, three_markets

from labeltool import tables
from labeltool.stock.parse import parse_stock
from labeltool.symbol.qr import matrix
from labeltool.typeset.artwork import parse_artwork
from labeltool.typeset.fit import Misfit, typeset
from labeltool.typeset.frame import TextRun
from labeltool.wording.model import Block, LabelText, Minimum, QrContent

ROOT = tables.layout_folder()
ARTWORKS = {
    path.stem: parse_artwork(path.stem, tomllib.loads(path.read_text(encoding="utf-8")))[0]
    for path in sorted((ROOT / "artwork").glob("*.toml"))
}
STOCKS = {
    path.stem: parse_stock(path.stem, tomllib.loads(path.read_text(encoding="utf-8")))[0]
    for path in sorted((ROOT / "stocks").glob("*.toml"))
}
TEXTS = {"lotion": lotion(), "long": lotion(40), "balm": balm(), "three markets": three_markets(),
         "three markets, small": three_markets(SMALL)}


def set_label(text: LabelText, artwork: str, on, **more):
    return typeset(text, ARTWORKS[artwork], on, matrix(text.qr.payload), tables.fonts(), **more)


words = st.lists(
    st.sampled_from([*NAMES[:20], "Équilibre", "for", "the", "skin", "à", "Åkerbär", "50 ml", "(nano)", "Größe"]),
    min_size=1, max_size=6).map(" ".join)
TWO = (Minimum(0.9, "x", "a"), Minimum(1.3, "figure", "b"))
heights = st.sampled_from([(), (SMALL,), (Minimum(1.2, "x", "a"),), TWO])


@st.composite
def label_texts(draw):
    found = [Block("name", draw(words), minimums=draw(heights))]
    if draw(st.booleans()):
        found.insert(0, Block("brand", draw(st.sampled_from(["OTTERSHOLT", "Ottersholt", "Åker & Söner"]))))
    for name, heading in (("function", ""), ("claims", ""), ("directions", "Directions:"), ("warnings", "Caution:"),
                          ("responsible", ""), ("origin", ""), ("contact", "")):
        for lang in draw(st.sampled_from([(), ("en",), ("en", "fr")])):
            found.append(Block(name, draw(words), heading, minimums=draw(heights), lang=lang))
    found.append(Block("net", draw(st.sampled_from(["5 ml", "250 ml / 8.45 fl. oz.", "3 x 100 g"])), minimums=draw(
        st.sampled_from([(), (Minimum(2.0, "figure", "a"),), (Minimum(4.0, "figure", "a"),)]))))
    listed = draw(st.lists(st.sampled_from(NAMES), min_size=1, max_size=45))
    found.append(Block("ingredients", ", ".join(listed) + ".", "Ingredients:", minimums=draw(heights)))
    found.append(Block("code", "260503\u2009A\u200931", "Batch", minimums=(SMALL,)))
    if draw(st.booleans()):
        symbol = draw(st.sampled_from([None, "hourglass"]))
        found.append(Block("date", "10/2027", "" if symbol else "Best used before the end of", symbol))
    if draw(st.booleans()):
        found.append(Block("opening", draw(st.sampled_from(["6M", "36M"])), symbol="open-jar"))
    if draw(st.booleans()):
        found.append(Block("e-mark", "", symbol="e-mark", minimums=(Minimum(3.0, "figure", "c"),)))
    links = ("260503A31", "HTTPS://OTTERSHOLT.EXAMPLE/B/260503A31", "https://o.example/" + "x" * 40)
    payload = draw(st.sampled_from(links))
    return LabelText("x", "260503A31", tuple(found), QrContent(payload), ("UK",))


@st.composite
def stocks(draw):
    if draw(st.booleans()):
        return draw(st.sampled_from(sorted(STOCKS.values(), key=lambda item: item.name)))
    shape = draw(st.sampled_from(["rectangle", "rectangle", "round", "oval"]))
    width, height = draw(st.floats(18, 150)), draw(st.floats(18, 150))
    dpi, medium = draw(st.sampled_from([(600, "laser"), (203, "direct-thermal"), (300, "thermal-transfer")]))
    return stock(width, width if shape == "round" else height, shape=shape, dpi=dpi, medium=medium,
                 safe=draw(st.floats(1, 3)), corner=draw(st.floats(0, 4)))


@settings(max_examples=100)
@given(label_texts(), st.sampled_from(sorted(ARTWORKS)), stocks())
def test_whatever_is_set_is_sound(text, artwork, on):
    found = set_label(text, artwork, on)
    if isinstance(found, Misfit):
        assert found.findings and all(item.level == "error" and item.do and item.limit for item in found.findings)
    else:
        assert faults(found, text, ARTWORKS[artwork], on) == []


@pytest.mark.parametrize("artwork", sorted(ARTWORKS))
@pytest.mark.parametrize("name", sorted(TEXTS))
def test_built_in_artworks_on_all_built_in_stocks(artwork, name):
    text = TEXTS[name]
    fitted = 0
    for on in STOCKS.values():
        found = set_label(text, artwork, on)
        if not isinstance(found, Misfit):
            fitted += 1
            assert faults(found, text, ARTWORKS[artwork], on) == [], on.name
    assert fitted >= 2 or (name, artwork) == ("three markets", "wrap")


def test_the_same_text_gives_the_same_frame():
    on = STOCKS["a4-3x8-63.5x33.9"]
    assert set_label(lotion(), "back", on) == set_label(lotion(), "back", on)


def test_a_common_lotion_fits_the_common_label():
    """26 names, cautions, address and a symbol of 25 modules on 63.5 × 33.9 mm at the small packages' height."""
    found = set_label(lotion(), "back", STOCKS["a4-3x8-63.5x33.9"])
    assert found.x_height_mm >= 0.9
    (symbol,) = found.symbols
    assert len(symbol.rows) == 25 and symbol.module_mm >= 0.33
    assert {run.weight for run in found.items if isinstance(run, TextRun)} == {"regular", "semibold"}


def test_short_text_stops_growing_and_leaves_white():
    found = set_label(balm(), "back", STOCKS["a4-2x2-99.1x139"])
    assert found.x_height_mm == 2.2


@pytest.mark.parametrize("on", ["a4-3x8-63.5x33.9", "a4-2x4-99.1x67.7", "a4-2x2-99.1x139", "roll-57x32-203dpi"])
@pytest.mark.parametrize("text", [lotion(), balm()], ids=["lotion", "balm"])
def test_a_front_balances_round_its_middle(on, text):
    found = set_label(text, "front", STOCKS[on])
    across, down = ink_centre(found)
    assert abs(across - found.width_mm / 2) < 1
    assert abs(down - found.height_mm / 2) < 1.2


def test_blocks_without_a_place_are_left_out_and_absent_ones_leave_no_gap():
    text = lotion()
    found = set_label(text, "bottom-dot", STOCKS["a4-7x10-round-25"])
    assert [name for name, _ in found.words] == ["code", "date"]
    bare = LabelText("x", "x", tuple(item for item in text.blocks if item.name in ("name", "ingredients", "code")),
                     text.qr, text.markets)
    found = set_label(bare, "back", STOCKS["a4-2x2-99.1x139"])
    lines = sorted({item.y_mm for item in found.items if isinstance(item, TextRun) and item.block == "ingredients"})
    name = next(item.y_mm for item in found.items if isinstance(item, TextRun) and item.block == "name")
    assert lines[0] - name < 2 * (lines[1] - lines[0])


def test_a_text_without_symbol_content_is_set_without_symbol():
    found = typeset(balm(), ARTWORKS["front"], STOCKS["a4-3x8-63.5x33.9"], matrix("X"), tables.fonts())
    assert found.symbols == ()
    found = typeset(balm(), ARTWORKS["back"], STOCKS["a4-3x8-63.5x33.9"], None, tables.fonts())
    assert found.symbols == ()


def test_running_text_takes_the_lightest_weight_with_stems_of_two_dots():
    small, large = roll(57, 32), roll(102, 152)
    found = set_label(balm(), "back", small)
    assert 1.02 <= found.x_height_mm < 1.42
    assert {run.weight for run in found.items if isinstance(run, TextRun)} == {"medium", "semibold"}
    found = set_label(balm(), "back", large)
    assert {run.weight for run in found.items if isinstance(run, TextRun)} == {"regular", "semibold"}


def test_figures_of_code_and_date_stand_on_equal_steps():
    found = set_label(lotion(), "back", STOCKS["a4-2x4-99.1x67.7"])
    runs = [item for item in found.items if isinstance(item, TextRun) and item.block == "code"]
    digits = [item for item in runs if item.text.isdigit()]
    assert [item.text for item in digits] == list("26050331") and {item.weight for item in digits} == {"semibold"}
    font, size = tables.fonts().semibold, digits[0].size_pt * 25.4 / 72
    middles = [item.x_mm + (font.bounds[item.text][0] + font.bounds[item.text][2]) / 2000 * size for item in digits[:6]]
    for before, after in pairwise(middles):
        assert after - before == pytest.approx(font.figure_step / 1000 * size, abs=0.001)


def test_a_wrap_keeps_both_ends_clear_by_the_overlap():
    on = STOCKS["a4-1x6-140x40"]
    for round_mm, clear in ((150.0, 0.0), (135.0, 5.0), (125.0, 15.0)):
        found = set_label(lotion(), "wrap", on, container_circumference_mm=round_mm)
        left = min(box.x_mm for box in found.boxes)
        right = max(box.x_mm + box.width_mm for box in found.boxes)
        assert left >= clear - 0.1 and right <= 140 - clear + 0.1, round_mm
    found = set_label(lotion(), "wrap", on, container_circumference_mm=80.0)
    assert isinstance(found, Misfit) and found.findings[0].rule == "typeset.circumference"
    assert "60.0 mm would be covered" in found.findings[0].text


def test_a_character_without_glyph_stops_the_label_before_anything_is_set():
    text = LabelText("x", "x", (Block("name", "Oat 漢"), Block("claims", "漢")), QrContent("X"), ("UK",))
    found = set_label(text, "back", STOCKS["a4-2x2-99.1x139"])
    assert isinstance(found, Misfit)
    assert [item.where.block for item in found.findings] == ["name"]


def test_an_artwork_without_arrangement_for_the_shape_says_so():
    found = set_label(lotion(), "wrap", STOCKS["a4-4x6-round-40"])
    assert isinstance(found, Misfit)
    assert found.findings[0].rule == "typeset.arrangement" and "round" in found.findings[0].text
