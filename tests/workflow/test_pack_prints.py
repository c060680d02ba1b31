"""Prints by pack and label: what is printed, what each row keeps, what a call that is wrong is told."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from cli_runs import CREAM, Shop
from pack_shop import LARGE, SHEET, pack_shop

from labeltool.records.model import PrintRow
from labeltool.records.store import open_store

CODE = "260503A31"
QUICK = ("--no-verify",)
GERMAN = """[product.text.de]
name = "Ringelblumen-Handcreme"
function = "Handcreme"
directions = "Auf die Hände auftragen."

"""


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """A workshop with an open batch of a cream in packs; to be read, not changed."""
    shop = pack_shop(tmp_path_factory.mktemp("packs"))
    shop.done("batch", "open", CREAM, "--size", "500g")
    return shop


@pytest.fixture
def shop(opened: Shop, tmp_path: Path) -> Shop:
    return Shop(Path(shutil.copytree(opened.folder, tmp_path / "shop")))


def rows(shop: Shop) -> tuple[PrintRow, ...]:
    with open_store(shop.folder / "records.sqlite") as store:
        return store.prints(CODE)


def blocks(row: PrintRow) -> dict[str, str]:
    return {block["name"]: block["text"] for block in row.text["blocks"]}


def error(shop: Shop, *call: object) -> Any:
    ran = shop.run(*call, "--json")
    assert ran.code == 2, ran.err
    (found,) = [item for item in ran.json["problems"] if item["level"] == "error"]
    return found


def test_all_labels_of_a_pack_are_printed_one_file_a_stock(shop):
    found = shop.document("print", CODE, "--pack", "30ml", "--count", "2")["items"]
    assert [(item["label"], item["stock"], item["labels"]) for item in found] == [
        (["front", "back"], SHEET, 4), (["box"], LARGE, 2)]
    assert {item["pack"] for item in found} == {"30ml"} and {item["code"] for item in found} == {CODE}
    kept = rows(shop)
    assert [(row.pack, row.label, row.artworks, row.labels) for row in kept] == [
        ("30ml", "front", ("front",), 2), ("30ml", "back", ("back",), 2), ("30ml", "box", ("front-and-back",), 2)]
    assert kept[0].file == kept[1].file == found[0]["file"] and kept[2].file == found[1]["file"]
    assert not any(row.superseded for row in kept)
    for item in found:
        ran = shop.document("verify", item["file"])
        assert len(ran["labels"]) == item["labels"] and all(one["matches-record"] for one in ran["labels"])


def test_each_pack_says_its_own_content_and_mark(shop):
    for pack in ("sample", "100ml"):
        shop.done("print", CODE, "--pack", pack, "--count", "1", *QUICK)
    sample, front, _ = rows(shop)
    assert blocks(sample)["net"] == "4.9 ml" and blocks(sample)["mark"] == "Sample. Not for sale."
    assert blocks(front)["net"] == "100 ml" and "mark" not in blocks(front)


def test_one_label_alone_says_what_the_others_must_carry(shop):
    found = shop.document("print", CODE, "--pack", "100ml", "--label", "FRONT", "--count", "1", *QUICK)
    assert (found["label"], found["labels"]) == (["front"], 1)
    (left,) = [item for item in found["problems"] if item["rule"] == "label.elsewhere"]
    assert "back: " in left["text"] and "ingredients" in left["text"] and "batch code" in left["text"]


def test_one_sheet_is_filled_by_all_labels_that_share_it(shop):
    assert shop.document("print", CODE, "--pack", "100ml", *QUICK)["labels"] == 14
    assert [row.labels for row in rows(shop)] == [7, 7]


@pytest.mark.parametrize(("call", "rule", "said"), [
    ((CODE,), "call.pack", "several packs"), ((CODE, "--pack", "300ml"), "call.pack", "300ml"),
    ((CODE, "--pack", "30ml", "--label", "lid"), "call.label", "lid"),
    ((CODE, "--label", "front"), "call.pack", "several packs"),
    ((CODE, "--pack", "30ml", "--markets", "FR"), "call.markets", "FR"),
    ((CODE, "--pack", "30ml", "--languages", "german"), "call.languages", "german"),
    ((CODE, "--pack", "30ml", "--net", "40 ml"), "call.facts", "--net"),
    ((CODE, "--pack", "30ml", "-o", "x.pdf"), "call.output", LARGE),
    ((CODE, "--pack", "30ml", "--skip", "3"), "call.skip", LARGE),
    ((CODE, "--pack", "30ml", "--count", "filled"), "call.count-filled", "counted"),
    ((CREAM, "--size", "30 ml"), "call.usage", "--pack names the pack"),
    ((f"{CODE}/30ml:2", f"{CODE}/30ml:3", "--stock", LARGE), "call.shares", "twice"),
    ((f"{CODE}/30ml:2", CODE), "call.shares", "count"), ((f"{CODE}/30ml",), "call.shares", "no pack with a count"),
    ((f"{CODE}/:4",), "call.shares", "no pack with a count"), ((f"{CODE}:2",), "call.pack", "several packs"),
    (("plain-foot-balm", "--pack", "30ml"), "call.pack", "no packs"),
])
def test_a_wrong_call_is_told_and_nothing_is_printed(shop, call, rule, said):
    found = error(shop, "print", *call)
    assert found["rule"] == rule and said in found["text"] + str(found["limit"])
    assert rows(shop) == () and not (shop.folder / "prints").exists()


def test_packs_of_one_batch_share_sheets(shop):
    found = shop.document("print", f"{CODE}/30ml:2", f"{CODE}/sample:3", "--stock", LARGE)["items"]
    assert [(item["pack"], item["labels"]) for item in found] == [("30ml", 6), ("sample", 3)]
    assert len({item["file"] for item in found}) == 1
    assert shop.document("verify", found[0]["file"])["problems"] == []
    again = shop.document("reprint", CODE, "--pack", "30ml", "--label", "box", "--why", "torn")
    assert (again["pack"], again["label"], again["labels"]) == ("30ml", ["box"], 2)


def test_all_labels_of_a_pack_are_printed_after_one_was_printed_by_its_artwork(shop):
    shop.done("print", CODE, "--pack", "100ml", "--artwork", "back", "--stock", LARGE, "--count", "1", *QUICK)
    found = shop.document("print", CODE, "--pack", "100ml", "--count", "1", *QUICK)
    assert (found["label"], found["stock"]) == (["front", "back"], SHEET)


def test_readers_of_one_print_are_not_the_batchs(tmp_path):
    shop = pack_shop(tmp_path)
    shop.change("workshop.toml", 'markets   = ["UK"]', 'markets   = ["UK", "EU"]')
    shop.write("workshop.toml", (shop.folder / "workshop.toml").read_text().replace(
        "[sale]", '[responsible-person]\nEU = { name = "A", address = ["1 Example Quay"] }\n\n[sale]'))
    shop.change(f"formulas/{CREAM}.toml", "[container]", GERMAN + "[container]")
    found = shop.document("print", CREAM, "--pack", "100ml", "--label", "back", "--markets", "EU", "--languages",
                          "de", "--count", "1", *QUICK)
    (row,) = rows(shop)
    assert (row.markets, row.languages) == (("EU",), ("de",))
    assert blocks(row)["directions"] == "Auf die Hände auftragen."
    with open_store(shop.folder / "records.sqlite") as store:
        batch = store.batch(found["code"])
    assert batch is not None and batch.frozen["formula"]["product"]["markets"] is None
    shop.done("print", CODE, "--pack", "100ml", "--label", "back", "--count", "1", *QUICK)
    assert rows(shop)[1].markets == ("UK", "EU") and rows(shop)[1].languages == ("en",)


def test_a_call_under_one_key_prints_every_file_once(shop):
    call = ("print", CODE, "--pack", "30ml", "--count", "1", "--once", "k", *QUICK)
    first = [item["file"] for item in shop.document(*call)["items"]]
    assert [item["file"] for item in shop.document(*call)["items"]] == first
    assert len(rows(shop)) == 3


def test_a_list_of_prints_takes_code_pack_and_label(shop):
    shop.write("list.csv", f"code,pack,label,count\n{CODE},100ml,back,2\n{CODE},sample,,1\n")
    found = shop.document("print", "--from", "list.csv", *QUICK)["items"]
    assert [(item["pack"], item["label"], item["labels"]) for item in found] == [
        ("100ml", ["back"], 2), ("sample", ["all"], 1)]


@pytest.mark.parametrize(("text", "rule"), [
    ("code,formula,pack\nx,y,\n", "list.row"), ("pack\n30ml\n", "list.columns"), ("code,size\nx,5g\n", "list.row"),
    ("formula,size\ny,30 ml\n", "list.value"),
])
def test_a_wrong_list_is_told(shop, text, rule):
    shop.write("list.csv", text)
    assert error(shop, "print", "--from", "list.csv")["rule"] == rule


def test_filled_packs_are_printed_by_pack_and_label(shop):
    shop.done("batch", "bench", CODE, "--filled", "100ml=9")
    shop.done("print", CODE, "--pack", "100ml", "--label", "back", "--count", "4", *QUICK)
    shop.done("print", CODE, "--pack", "100ml", "--count", "filled", *QUICK)
    assert [(row.label, row.labels) for row in rows(shop)] == [("back", 4), ("front", 9), ("back", 5)]
    ran = shop.run("print", CODE, "--pack", "100ml", "--count", "filled", *QUICK)
    assert ran.code == 2 and "has its label" in ran.err


def test_a_draft_of_a_pack_has_a_file_a_stock_and_no_row(shop):
    found = shop.document("print", CODE, "--pack", "30ml", "--draft", "--count", "1")["items"]
    assert [Path(item["file"]).name for item in found] == [
        f"draft-{CREAM}-30ml-front-back.pdf", f"draft-{CREAM}-30ml-box.pdf"]
    assert rows(shop) == ()


def test_check_tells_the_label_each_element_stands_on(shop):
    found = shop.document("check", CREAM)
    at = {(row["pack"], row["on"], row["element"]): row for row in found["elements"]}
    assert at["30ml", "container", "ingredients"]["labels"] == ["back"]
    assert at["30ml", "container", "net content"]["labels"] == ["front", "back"]
    assert at["30ml", "outer", "batch code"]["labels"] == ["box"]
    assert at["sample", "container", "net content"]["state"] == "not-needed"
    assert {row["pack"] for row in shop.document("check", CREAM, "--pack", "sample")["elements"]} == {"sample"}


def test_a_set_that_lacks_an_element_is_refused_and_named(tmp_path):
    shop = pack_shop(tmp_path, '[[pack]]\nname = "a"\nlabels = [ { name = "front" } ]\n')
    ran = shop.run("print", CREAM, "--pack", "a", "--json")
    lacking = [item["text"] for item in ran.json["problems"] if item["rule"] == "label.missing"]
    assert ran.code == 2 and any("ingredients" in text for text in lacking)
    assert shop.run("check", CREAM).code == 1
    assert not (shop.folder / "records.sqlite").exists()
