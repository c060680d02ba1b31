"""print --leaflet: the symbol on the label, the list in a leaflet beside it, both on record."""

from pathlib import Path

import pytest
from cli_runs import CREAM, Shop, new_shop

from labeltool import tables
from labeltool.raster import Pdf
from labeltool.records.store import open_store
from labeltool.typeset.frame import Frame
from labeltool.workflow.leaflet import Leaflet, sheets_of

SMALL = ("--stock", "a4-3x8-63.5x33.9", "--artwork", "back")


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return new_shop(tmp_path)


def words(path: Path) -> str:
    pdf = Pdf(path.read_bytes())
    return " ".join(" ".join(pdf.text(page).split()) for page in range(pdf.page_count))


def test_the_list_stands_in_the_leaflet_and_the_label_shows_the_book(shop: Shop) -> None:
    listed = shop.document("declare", CREAM)["label"]["declaration"]
    assert shop.run("print", CREAM, *SMALL).code == 2
    found = shop.document("print", CREAM, *SMALL, "--leaflet", "--count", "9")
    assert "leaflet.reason" in [item["rule"] for item in found["problems"]]
    label, leaflet = words(shop.folder / found["file"]), words(shop.folder / found["leaflet"])
    assert found["leaflet"] == f"prints/{found['code']}-1-leaflet.pdf"
    assert listed not in label and "Ingredients" not in label
    assert leaflet.count(listed) == 9 and leaflet.count("Batch 2") == 9
    with open_store(shop.folder / "records.sqlite", create=False) as store:
        row = store.prints(found["code"])[0]
    assert [item["$"] for item in row.frames[0]["items"] if item["block"] == "leaflet"] == ["Outline"]
    assert row.words.declaration == f"Ingredients: {listed}"
    assert shop.run("verify", found["file"]).code == 0


def test_no_more_leaves_the_label_than_must(shop: Shop) -> None:
    """Where there is room for them the warnings stay; where there is room for all, that is said."""
    shop.write("layouts/stocks/tiny.toml",
               'kind = "sheet"\npage = [210, 297]\nlabel = [58, 32]\norigin = [5, 5]\n')
    said = {}
    for stock in ("tiny", "a4-3x7-63.5x38.1", "a4-2x7-99.1x38.1"):
        found = shop.document("print", CREAM, "--stock", stock, "--artwork", "back", "--leaflet")
        texts = {item["rule"]: item["text"].rpartition(": ")[2] for item in found["problems"]}
        said[stock] = texts["leaflet.reason"], "leaflet.needless" in texts
        on_label = "reach of children" in words(shop.folder / found["file"])
        assert on_label is (stock != "tiny")
    both, listed = "the warnings and the list of ingredients", "the list of ingredients"
    assert list(said.values()) == [(both, False), (listed, False), (listed, True)]


def test_a_reprint_has_the_same_leaflet(shop: Shop) -> None:
    first = shop.document("print", CREAM, *SMALL, "--leaflet")
    again = shop.document("reprint", first["code"], "--why", "wet")
    assert again["leaflet"] != first["leaflet"]
    assert (shop.folder / again["leaflet"]).read_bytes() == (shop.folder / first["leaflet"]).read_bytes()
    assert again["problems"] == []


def test_a_leaflet_says_what_the_label_said_so_nothing_is_superseded(shop: Shop) -> None:
    code = shop.document("print", CREAM)["code"]
    shop.done("print", code, *SMALL, "--leaflet")
    assert [row["superseded"] for row in shop.document("batch", "show", code)["prints"]] == [False, False]


@pytest.mark.parametrize(("change", "options", "rule"), [
    ('markets   = ["UK", "US"]', ("--artwork", "back"), "leaflet.market"),
    ('markets   = ["UK"]', ("--artwork", "front"), "leaflet.symbol"),
])
def test_what_is_refused(change: str, options: tuple[str, ...], rule: str, shop: Shop) -> None:
    shop.change("workshop.toml", 'markets   = ["UK"]', change)
    ran = shop.run("print", CREAM, "--stock", "a4-2x4-99.1x67.7", *options, "--leaflet", "--json")
    assert ran.code == 2 and rule in ran.rules
    assert not (shop.folder / "records.sqlite").exists()


def test_a_draft_has_its_leaflet_too_and_check_knows_it(shop: Shop) -> None:
    found = shop.document("print", CREAM, *SMALL, "--leaflet", "--draft", "-o", "try.pdf")
    assert found["leaflet"] == "try-leaflet.pdf" and (shop.folder / "try-leaflet.pdf").is_file()
    assert "typeset.room" in shop.run("check", CREAM, *SMALL, "--json").rules
    assert "typeset.room" not in shop.run("check", CREAM, *SMALL, "--leaflet", "--json").rules


def test_a_foreign_file_in_the_leaflet_s_place_stops_the_print(shop: Shop) -> None:
    shop.write("try-leaflet.pdf", "mine")
    ran = shop.run("print", CREAM, *SMALL, "--leaflet", "-o", "try.pdf", "--json")
    assert ran.code == 2 and ran.rules == ["output.foreign"]
    assert not (shop.folder / "try.pdf").exists()


@pytest.mark.parametrize(("copies", "places"), [(1, [1]), (4, [4]), (9, [4, 4, 1])])
def test_four_small_ones_share_a_sheet(copies: int, places: list[int]) -> None:
    fonts = (("regular", tables.font_sha256("regular")),)
    page = Frame(105, 148.5, "rectangle", 0, "document", (), (), 0, fonts, (), 600)
    small = sheets_of(Leaflet((page,), (210, 297)), copies)
    assert [len(sheet.placed) for sheet in small] == places
    assert {(placed.x_mm, placed.y_mm) for placed in small[0].placed} <= {(x, y) for x in (0, 105) for y in (0, 148.5)}
    whole = Frame(210, 297, "rectangle", 0, "document", (), (), 0, fonts, (), 600)
    assert len(sheets_of(Leaflet((whole, whole), (210, 297)), copies)) == 2 * copies
