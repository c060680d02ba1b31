"""A soap in a paper band, printed, read back and printed again."""

from __future__ import annotations

import pytest
from cli_runs import BALM, Shop, new_shop

from labeltool.records.store import open_store

STOCK = """\
kind = "sheet"
page = [297, 210]
label = [277, 45]
grid = [1, 3]
origin = [10, 20]
pitch = [277, 55]
marks = "cut"
overlap = 10
"""
CONTAINER = '\n[container]\nshape = "box"\nwidth = 78\ndepth = 32\nheight = 50\n'


@pytest.fixture
def shop(tmp_path) -> Shop:
    shop = new_shop(tmp_path)
    shop.write("layouts/stocks/a4-1x3-band.toml", STOCK)
    path = shop.folder / "formulas" / f"{BALM}.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("\n[[ingredient]]", CONTAINER + "\n[[ingredient]]", 1),
                    encoding="utf-8")
    return shop


def test_a_band_is_printed_as_long_as_the_bar_is_round(shop):
    found = shop.document("print", BALM, "--stock", "a4-1x3-band", "--artwork", "wrap")
    assert found["labels"] == 3
    with open_store(shop.folder / "records.sqlite") as store:
        (row,) = store.prints(found["code"])
    assert row.stock["label_mm"] == [2 * (78 + 32) + 10, 45] and row.stock["marks"] == "cut"
    (frame,) = row.frames
    assert frame["width_mm"] == 230 and sum(item["block"] == "cut" for item in frame["items"]) == 8
    words = [item["x_mm"] for item in frame["items"] if item["$"] == "TextRun"]
    assert min(words) >= 10, "the overlapping ends stay clear"
    ran = shop.document("verify", found["file"])
    assert all(item["matches-record"] for item in ran["labels"]) and len(ran["labels"]) == 3
    again = shop.document("reprint", found["code"], "--why", "torn")
    assert again["labels"] == 3


def test_a_bar_too_large_for_the_paper_is_told(shop):
    shop.change(f"formulas/{BALM}.toml", "width = 78", "width = 120")
    ran = shop.run("print", BALM, "--stock", "a4-1x3-band", "--artwork", "wrap", "--json")
    assert ran.code == 2 and "stock.band" in ran.rules
