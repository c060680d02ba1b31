"""The gallery shows every stock, its pictures are there, and they stay small."""

from __future__ import annotations

import importlib
import re
import sys

import pytest
from PIL import Image
from source_tree import ROOT

from labeltool.workflow import layouts

sys.path.insert(0, str(ROOT / "tools"))
gallery = importlib.import_module("gallery_docs")
PAGE = (ROOT / "docs" / "gallery.md").read_text(encoding="utf-8")
STOCKS = layouts.stocks(None)
ARTWORKS = set(layouts.artwork_names(None))


def test_every_stock_has_its_picture_and_no_picture_is_left_over():
    shown = re.findall(r"\]\(pictures/(.+)\.png\)", PAGE)
    assert shown == sorted(STOCKS)
    assert {path.stem for path in gallery.PICTURES.iterdir()} == set(STOCKS)


def test_pictures_are_small():
    sizes = [path.stat().st_size for path in gallery.PICTURES.iterdir()]
    assert sum(sizes) < 3_000_000 and max(sizes) < 300_000
    for path in gallery.PICTURES.iterdir():
        with Image.open(path) as picture:
            assert picture.width <= gallery.WIDEST


def test_every_artwork_is_shown_with_few_and_with_many_words():
    for words in ("few words", "many words"):
        assert set(re.findall(rf"([a-z-]+) \({words}\)", PAGE)) == ARTWORKS


@pytest.mark.parametrize("name", ["a4-2x4-99.1x67.7", "roll-57x32-203dpi"])
def test_the_page_says_what_fits(name):
    lines = PAGE.partition(f"## {name}\n")[2].partition("\n## ")[0]
    for artwork in ARTWORKS:
        for words, text in (("few words", gallery.few()), ("many words", gallery.many())):
            fits = gallery.frame_of(text, STOCKS[name], artwork) is not None
            assert (f"{artwork} ({words})" in re.split(", |: |[.]", lines)) == fits


def test_pictures_flow_in_reading_order():
    cells = [Image.new("L", (700, 10), shade) for shade in (0, 60, 120)]
    whole = gallery.flowed(cells)
    assert whole.size == (1412, 20 + gallery.GAP)
    assert [whole.getpixel(spot) for spot in ((0, 0), (712, 0), (0, 22), (705, 0))] == [0, 60, 120, 255]
