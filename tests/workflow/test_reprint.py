"""Reprints: the same labels again from the record alone, whatever became of the files."""

from __future__ import annotations

import datetime as dt
import shutil
import sqlite3
from dataclasses import replace

import pypdfium2
import pytest
from cli_runs import BALM, CREAM, Shop, new_shop, tree
from pypdf import PdfReader

from labeltool import tables
from labeltool.records.model import PrintOrder
from labeltool.records.store import open_store

SHEET = "a4-2x4-99.1x67.7"
LARGER = "a4-2x2-99.1x139"
OTHER_DPI = "roll-100x40-300dpi"
AT = "2026-05-04T08:00:00+00:00"
STOCK = 'kind = "sheet"\npage = [210, 297]\nlabel = [99, 67]\ngrid = [2, 4]\norigin = [5, 5]\npitch = [100, 68]\n'


@pytest.fixture(scope="module")
def once_printed(tmp_path_factory):
    """A workshop with its own stock and artwork, and a print of each formula on them."""
    shop = new_shop(tmp_path_factory.mktemp("reprint"))
    shop.write("layouts/stocks/mine.toml", STOCK)
    shop.write("layouts/artwork/own.toml", back_artwork())
    shop.done("print", CREAM, BALM, "--stock", "mine", "--artwork", "own", "--count", "3")
    return shop


def back_artwork():
    return (tables.layout_folder() / "artwork" / "back.toml").read_text(encoding="utf-8")


@pytest.fixture
def shop(once_printed, tmp_path):
    return Shop(shutil.copytree(once_printed.folder, tmp_path / "shop"))


def pdf(shop, name):
    return (shop.folder / name).read_bytes()


def pixels(shop, name):
    document = pypdfium2.PdfDocument(shop.folder / name)
    try:
        return [bytes(page.render(scale=2, grayscale=True).buffer) for page in document]
    finally:
        document.close()


def words(shop, name):
    return PdfReader(shop.folder / name).pages[0].extract_text()


CHANGES = {
    "nothing": lambda shop: None,
    "formula changed": lambda shop: shop.change(f"formulas/{BALM}.toml", '"Plain Foot Balm"', '"Another Balm"'),
    "formula gone": lambda shop: (shop.folder / f"formulas/{BALM}.toml").unlink(),
    "formula broken": lambda shop: shop.write(f"formulas/{BALM}.toml", "broken ="),
    "materials changed": lambda shop: shop.change("materials.toml", '"Cera Alba"', '"Candelilla Cera"'),
    "materials gone": lambda shop: (shop.folder / "materials.toml").unlink(),
    "workshop changed": lambda shop: shop.change("workshop.toml", '"Your Workshop"', '"Their Workshop"'),
    "pattern of codes changed": lambda shop: shop.change("workshop.toml", "%y%m%d{seq}{check}", "%Y-%j{seq}"),
    "stock changed": lambda shop: shop.write("layouts/stocks/mine.toml", STOCK.replace("[5, 5]", "[8, 9]")),
    "stock gone": lambda shop: (shop.folder / "layouts/stocks/mine.toml").unlink(),
    "artwork broken": lambda shop: shop.write("layouts/artwork/own.toml", "broken ="),
    "layouts gone": lambda shop: shutil.rmtree(shop.folder / "layouts"),
    "formulas gone": lambda shop: shutil.rmtree(shop.folder / "formulas"),
    "prints gone": lambda shop: shutil.rmtree(shop.folder / "prints"),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES.keys())
def test_same_bytes_whatever_became_of_the_files(shop, change):
    before = pdf(shop, "prints/260503B28-1.pdf")
    change(shop)
    found = shop.document("reprint", "260503B28", "--why", "scuffed", "-o", "again.pdf")
    assert pdf(shop, "again.pdf") == before
    assert (found["code"], found["labels"], found["stock"], found["artwork"]) == ("260503B28", 3, "mine", ["own"])
    (row,) = shop.document("batch", "show", "260503B28")["prints"][1:]
    assert (row["why"], row["reset"], row["superseded"], row["labels"]) == ("scuffed", False, False, 3)


def test_everything_changed_at_once(shop):
    before = [pdf(shop, f"prints/{code}-1.pdf") for code in ("260503A31", "260503B28")]
    for name in ("formula gone", "materials gone", "workshop changed", "layouts gone"):
        CHANGES[name](shop)
    for code, data in zip(("260503A31", "260503B28"), before, strict=True):
        found = shop.document("reprint", code, "--why", "scuffed")
        assert pdf(shop, found["file"]) == data and found["file"] == f"prints/{code}-2.pdf"


def test_reprint_of_a_reprint_and_of_print_one(shop):
    shop.done("reprint", "260503B28", "--why", "a", "--count", "5")
    assert shop.document("reprint", "260503B28", "--why", "b")["labels"] == 5
    assert shop.document("reprint", "260503B28", "--why", "c", "--print", "1")["labels"] == 3
    assert [row["labels"] for row in shop.document("batch", "show", "260503B28")["prints"]] == [3, 5, 5, 3]


def test_places_of_a_fresh_sheet(shop):
    skipped = shop.document("reprint", "260503B28", "--why", "torn", "--count", "2", "--skip", "5")
    assert (skipped["labels"], skipped["next-skip"]) == (2, 7)
    named = shop.document("reprint", "260503B28", "--why", "torn", "--count", "2", "--places", "6-7")
    assert pixels(shop, named["file"]) == pixels(shop, skipped["file"])


def test_original_may_be_printed_with_places_left_out_and_is_repeated_on_a_fresh_sheet(shop):
    shop.done("print", "260503B28", "--stock", "mine", "--artwork", "own", "--count", "3", "--skip", "4")
    again = shop.document("reprint", "260503B28", "--why", "torn")
    assert pdf(shop, again["file"]) == pdf(shop, "prints/260503B28-1.pdf")


def test_other_stock_of_the_same_kind_takes_the_frames_as_they_are(shop):
    found = shop.document("reprint", "260503B28", "--why", "out of sheets", "--stock", SHEET)
    row = shop.document("batch", "show", "260503B28")["prints"][1]
    assert (found["stock"], found["labels"], row["reset"]) == (SHEET, 3, False)
    assert words(shop, found["file"]) == words(shop, "prints/260503B28-1.pdf")


def test_other_dots_set_the_frozen_words_anew(shop):
    shop.change("materials.toml", '"Cera Alba"', '"Candelilla Cera"')
    found = shop.document("reprint", "260503B28", "--why", "no sheets", "--stock", OTHER_DPI)
    row = shop.document("batch", "show", "260503B28")["prints"][1]
    assert row["reset"] is True and row["stock"] == OTHER_DPI and found["sheets"] == 3
    assert "Cera Alba" in words(shop, found["file"]) and "Candelilla" not in words(shop, found["file"])


def test_label_too_small_for_the_words_is_refused(shop):
    before = tree(shop.folder)
    ran = shop.run("reprint", "260503B28", "--why", "x", "--stock", "a4-8x12-round-20")
    assert ran.code == 2 and ran.err.startswith("error: ")
    assert tree(shop.folder) == before


def test_past_best_before_is_warned_of(shop):
    day = dt.date(2027, 11, 3)
    assert "has passed" not in shop.done("reprint", "260503B28", "--why", "x", today=day).err
    late = shop.done("reprint", "260503B28", "--why", "x", today=day + dt.timedelta(days=1))
    assert "warning: the batch's best before, 2027-11-03, has passed" in late.err


@pytest.mark.parametrize("state", ["withdrawn", "recalled"])
def test_batch_taken_back_is_not_printed_again(shop, state):
    with open_store(shop.folder / "records.sqlite") as store:
        store.change_state("260503B28", state, by="AB", at=AT, why="glass in it")
    before = tree(shop.folder / "prints")
    for call in (("reprint", "260503B28", "--why", "x"), ("print", "260503B28"), ("print", "260503B28:2")):
        ran = shop.run(*call)
        assert ran.code == 2 and state in ran.err and "glass in it" in ran.err
    assert tree(shop.folder / "prints") == before
    assert shop.run("reprint", "260503A31", "--why", "x").code == 0
    assert shop.document("batch", "show", "260503B28")["state"] == state


def test_print_that_a_later_one_supersedes_is_warned_of(shop):
    supersede(shop)
    assert [row["superseded"] for row in shop.document("batch", "show", "260503B28")["prints"]] == [True, False]
    old = shop.done("reprint", "260503B28", "--why", "x", "--print", "1")
    assert "warning: print 1 is superseded" in old.err
    assert "superseded" not in shop.done("reprint", "260503B28", "--why", "x", "--print", "2").err
    assert "superseded" in shop.done("batch", "show", "260503B28").out


def supersede(shop):
    """Put a later print on record whose warnings differ."""
    with open_store(shop.folder / "records.sqlite") as store:
        row = store.prints("260503B28")[0]
        facts = {name: getattr(row, name) for name in PrintOrder.__dataclass_fields__ if hasattr(row, name)}
        other = replace(row.words, warnings=("Avoid contact with the eyes.",))
        store.add_print(PrintOrder(**(facts | {"words": other, "file": "prints/260503B28-{n}.pdf", "at": AT})))
    shutil.copy(shop.folder / "prints/260503B28-1.pdf", shop.folder / "prints/260503B28-2.pdf")


def test_batch_without_a_print_says_how_to_make_one(shop):
    code = shop.done("batch", "open", BALM).out.strip()
    ran = shop.run("reprint", code, "--why", "x")
    assert ran.code == 2 and f"labeltool print {code}" in ran.err


def test_several_artworks_are_asked_about(shop):
    shop.done("print", "260503B28", "--stock", SHEET, "--artwork", "back", "--count", "1")
    ran = shop.run("reprint", "260503B28", "--why", "x")
    assert ran.code == 2 and "--artwork own" in ran.err and "--artwork back" in ran.err
    assert shop.document("reprint", "260503B28", "--why", "x", "--artwork", "own")["labels"] == 3
    assert shop.document("reprint", "260503B28", "--why", "x", "--artwork", "back")["labels"] == 1


def test_set_of_artworks_is_repeated_whole_or_in_part(shop):
    first = shop.document("print", BALM, "--stock", LARGER, "--artwork", "front", "--artwork", "back", "--count", "2")
    assert first["labels"] == 4
    again = shop.document("reprint", first["code"], "--why", "x")
    assert pdf(shop, again["file"]) == pdf(shop, first["file"])
    part = shop.document("reprint", first["code"], "--why", "x", "--artwork", "front")
    assert (part["labels"], part["artwork"]) == (2, ["front"])


def test_record_that_has_lost_a_frame_is_said_to_be_damaged(shop):
    db = sqlite3.connect(shop.folder / "records.sqlite", isolation_level=None)
    for (name,) in db.execute("select name from sqlite_master where type = 'trigger'").fetchall():
        db.execute(f"drop trigger {name}")
    db.execute("delete from asset")
    db.close()
    ran = shop.run("reprint", "260503B28", "--why", "x")
    assert ran.code == 3 and ran.err.startswith("error: ") and "fault of labeltool" not in ran.err
    assert shop.run("records", "check").code in (1, 3)


def test_record_brought_back_from_a_backup_prints_the_same_bytes(shop, tmp_path):
    shop.done("records", "backup", "copy.sqlite")
    shop.done("records", "export", "-o", "copy.jsonl")
    before = pdf(shop, "prints/260503B28-1.pdf")
    for source in ("copy.sqlite", "copy.jsonl"):
        other = new_shop(tmp_path, f"other-{source[5:]}")
        other.done("records", "restore", shop.folder / source)
        found = other.document("reprint", "260503B28", "--why", "new machine", "-o", "again.pdf")
        assert pdf(other, "again.pdf") == before and found["code"] == "260503B28"


def test_a_reprint_of_one_label_of_a_set_keeps_its_own_diameter(tmp_path):
    """The lid of the set lies flat and the label beside it goes round the jar; repeated alone it verifies too."""
    shop = new_shop(tmp_path)
    code = shop.document("print", CREAM, "--artwork", "front", "--artwork", "back", "--stock", SHEET)["code"]
    again = shop.document("reprint", code, "--artwork", "back", "--why", "torn")
    with open_store(shop.folder / "records.sqlite", create=False) as store:
        first, second = store.prints(code)
    assert [len(row.extra["diameters"]) for row in (first, second)] == [2, 1]
    shop.done("verify", again["file"])


def test_on_another_stock_the_batch_s_container_counts(tmp_path):
    """A lid lies flat; the same words on a label round the jar do not."""
    shop = new_shop(tmp_path)
    jar = '[container]\nshape = "cylinder"\ndiameter = 95\nheight = 90\n\n[[ingredient]]\nmaterial = "shea-butter"'
    shop.change(f"formulas/{BALM}.toml", '[[ingredient]]\nmaterial = "shea-butter"', jar)
    code = shop.document("print", BALM, "--stock", "letter-3x4-round-63.5", "--artwork", "back")["code"]
    shop.done("reprint", code, "--stock", SHEET, "--why", "larger")
    with open_store(shop.folder / "records.sqlite", create=False) as store:
        assert [row.extra["diameters"] for row in store.prints(code)] == [[None], [95.0]]
