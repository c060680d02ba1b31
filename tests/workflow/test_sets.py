"""Gift sets: opened from batches, printed with the words of each, traced both ways, refused after a recall."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from cli_runs import BALM, CREAM, Shop
from pack_shop import SET, pack_shop

from labeltool.records.store import open_store

ONE, TWO, CODE = "260503A31", "260503B28", "260503C25"
OF = ("--of", ONE, "--of", TWO)
QUICK = ("--no-verify", "--count", "1", "--stock", "a4-2x2-99.1x139")


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """A workshop with two open batches and a printed set of them; to be read, not changed."""
    shop = pack_shop(tmp_path_factory.mktemp("set"))
    shop.write("formulas/winter-set.toml", SET)
    shop.done("batch", "open", CREAM, "--size", "500g")
    shop.done("batch", "open", BALM, "--size", "400g")
    shop.done("print", "winter-set", *OF, *QUICK)
    return shop


@pytest.fixture
def shop(made: Shop, tmp_path: Path) -> Shop:
    return Shop(Path(shutil.copytree(made.folder, tmp_path / "shop")))


def rule(shop: Shop, *call: object) -> list[str]:
    ran = shop.run(*call, "--json")
    assert ran.code == 2, ran.out
    return [item["rule"] for item in ran.json["problems"] if item["level"] == "error"]


def test_the_outer_names_each_product_with_list_code_and_date(made):
    with open_store(made.folder / "records.sqlite") as store:
        (row,), batch = store.prints(CODE), store.batch(CODE)
    said = [f"{block['heading']} {block['text']}".replace("\u2009", "") for block in row.text["blocks"]]
    assert f"Batch {CODE}" in said
    assert any(text.startswith("2 × Calendula Hand Cream, 30 ml. Ingredients: Aqua, ") for text in said)
    assert any(text.startswith("Plain Foot Balm, 40 g. Ingredients: Butyrospermum") for text in said)
    assert f"Calendula Hand Cream: Batch {ONE}. Best used before the end of 04/2027" in said
    assert f"Plain Foot Balm: Batch {TWO}. Best used before the end of 10/2027" in said
    assert " 2 × 30 ml + 40 g" in said
    assert row.extra["best-before"] == "2027-05-03", "the earliest of its products"
    assert batch is not None and [item["lot"] for item in batch.frozen["held"]] == [ONE, TWO]
    printed = "".join(run["text"] for frame in row.frames for run in frame["items"] if run["$"] == "TextRun")
    assert "Calendula Officinalis" in printed and "10/2027" in printed


def test_a_set_shows_what_it_holds(made):
    held = made.document("batch", "show", CODE)["holds"]
    assert [(item["code"], item["formula"], item["pack"], item["count"]) for item in held] == [
        (ONE, CREAM, "30ml", 2), (TWO, BALM, "", 1)]
    assert f"holds 2 × {CREAM} 30ml of batch {ONE}" in made.done("batch", "show", CODE).out
    assert "holds" not in made.document("batch", "show", ONE)


def test_equal_contents_are_counted_together(shop):
    shop.write("formulas/winter-set.toml", SET.replace(f'[[contains]]\nformula = "{BALM}"\n', ""))
    shop.done("print", "winter-set", "--of", ONE, *QUICK)
    with open_store(shop.folder / "records.sqlite") as store:
        (row,) = store.prints("260503D22")
    assert [block["text"] for block in row.text["blocks"] if block["name"] == "net"] == ["2 × 30 ml"]


def test_trace_passes_through_a_set_both_ways(shop):
    forward = shop.document("trace", ONE)
    assert [item["code"] for item in forward["batches"]] == [ONE, CODE]
    assert {use["lot"] for use in shop.document("trace", CODE)["went-in"]} == {ONE, TWO}
    shop.write("w.csv", "line,material,grams,lot\n1,shea-butter,160,S-1\n")
    shop.done("batch", "bench", TWO, "--from", "w.csv")
    assert [item["code"] for item in shop.document("trace", "S-1")["batches"]] == [TWO, CODE]


def test_more_labels_and_reprints_need_no_of(shop):
    assert shop.document("print", CODE, *QUICK)["code"] == CODE
    assert shop.document("reprint", CODE, "--why", "torn")["code"] == CODE
    assert rule(shop, "print", CODE, "--of", ONE) == ["call.of"]


def test_what_was_taken_back_goes_out_in_no_set(shop):
    shop.done("batch", "withdraw", ONE, "--why", "smell")
    assert rule(shop, "print", CODE) == ["set.taken-back"]
    assert rule(shop, "reprint", CODE, "--why", "torn") == ["set.taken-back"]
    assert rule(shop, "print", "winter-set", *OF) == ["set.taken-back"]


def test_a_set_waits_for_the_release_of_what_lies_in_it(shop):
    shop.change("workshop.toml", "[batch]", "[batch]\nrequire-release = true")
    assert rule(shop, "print", "winter-set", *OF) == ["batch.unreleased"] * 2
    shop.write("w.csv", "line,material,grams,lot\n1,shea-butter,160,S-1\n2,coconut-oil,120,C-1\n"
                        "3,sunflower-oil,60,U-1\n4,beeswax,60,B-1\n")
    shop.done("batch", "bench", TWO, "--from", "w.csv")
    shop.done("batch", "release", TWO, "--by", "AB")
    assert rule(shop, "print", "winter-set", *OF) == ["batch.unreleased"]


@pytest.mark.parametrize(("call", "rules"), [
    (("print", "winter-set"), ["set.lacking", "set.lacking"]),
    (("print", "winter-set", "--of", ONE), ["set.lacking"]),
    (("print", "winter-set", *OF, "--of", CODE), ["set.stranger"]),
    (("print", BALM, "--of", ONE), ["call.of"]),
    (("declare", "winter-set"), ["set.nothing"]),
])
def test_a_wrong_call_is_told(made, call, rules):
    assert rule(made, *call) == rules


@pytest.mark.parametrize("call", [("weigh", "winter-set", "--size", "5g"), ("batch", "open", "winter-set")])
def test_a_set_is_neither_weighed_nor_opened_without_its_products(made, call):
    ran = made.run(*call)
    assert ran.code == 2 and "is a set" in ran.err


def test_a_product_in_packs_needs_its_pack(shop):
    shop.change("formulas/winter-set.toml", 'pack = "30ml"\n', "")
    assert rule(shop, "print", "winter-set", *OF) == ["set.pack"]


def test_check_looks_at_every_product_of_the_set(made):
    found = made.document("check", "winter-set")
    texts = [row["text"] for row in found["elements"] if row["element"] == "ingredients"]
    assert [text.partition(":")[0] for text in texts] == ["Calendula Hand Cream", "Plain Foot Balm"]
    assert not [row for row in found["elements"] if row["state"] == "missing"]


def test_a_set_of_a_product_that_lacks_an_element_is_refused(shop):
    shop.change(f"formulas/{BALM}.toml", 'shelf-life = "18 months"\n', "")
    ran = shop.run("check", "winter-set", "--json")
    assert ran.code == 1
    assert any("Plain Foot Balm" in row["text"] for row in ran.json["elements"] if row["state"] == "missing")


@pytest.mark.parametrize(("lost", "element"), [
    ("ingredients", "ingredients"), ("code", "batch code"), ("date", "durability"), ("warnings", "precautions"),
    ("net", "net content"), ("responsible", "responsible person"),
])
def test_what_an_artwork_has_no_place_for_is_told_of_a_set(shop, lost, element):
    shop.write("layouts/artwork/lost.toml", '[[variant]]\ntop = ["name", "net"]\nflow = ["warnings", "ingredients"]\n'
               'foot = [{ run = ["responsible", "contact"] }, { stack = ["code", "date"] }]\n'.replace(
                   f', "{lost}"', "").replace(f'"{lost}", ', ""))
    found = shop.document("check", "winter-set", "--artwork", "lost")
    (left,) = [item["text"] for item in found["problems"] if item["rule"] == "label.elsewhere"]
    assert element in left


def test_the_figures_of_different_contents_have_their_height_in_check(made):
    rows = [row for row in made.document("check", "winter-set")["elements"]
            if row["element"] == "height of the net figures"]
    assert [(row["state"], row["text"]) for row in rows] == [("present", "2 mm or more")]


def test_the_date_told_of_a_set_is_the_earliest_on_its_label(shop):
    assert "best before: 2027-05-03; on the label 04/2027, which means the end" in shop.done(
        "print", CODE, *QUICK).out


WEIGHED = ("line,material,grams,lot\n1,shea-butter,150,S-1\n2,coconut-oil,130,C-1\n3,sunflower-oil,60,O-1\n"
           "4,beeswax,60,B-1\n")


def test_a_set_is_outdated_when_the_bench_of_a_product_changes_its_list(shop):
    shop.write("masses.csv", WEIGHED.replace("150", "120").replace("130", "160"))
    shop.done("batch", "bench", TWO, "--from", "masses.csv")
    (print_,) = shop.document("batch", "show", CODE)["prints"]
    assert print_["superseded"] is True
    told = shop.document("batch", "show", CODE)["problems"]
    assert [item["text"] for item in told if item["rule"] == "print.outdated"] == [
        "the 1 labels of print 1 say another list than what was made: do not use them"]
    again = shop.document("reprint", CODE, "--why", "more")
    assert "reprint.superseded" in [item["rule"] for item in again["problems"]]


def test_a_set_stands_when_the_bench_of_a_product_leaves_its_list_as_it_was(shop):
    shop.write("masses.csv", WEIGHED)
    shop.done("batch", "bench", TWO, "--from", "masses.csv")
    (print_,) = shop.document("batch", "show", CODE)["prints"]
    assert print_["superseded"] is False


GERMAN = """[product.text.de]
name = "Winterset"
function = "Geschenkset"

"""
BALM_GERMAN = """[product.text.de]
name = "Fußbalsam"
function = "Fußbalsam"
directions = "Abends einreiben."

"""
CREAM_GERMAN = """[product.text.de]
name = "Handcreme"
function = "Handcreme"
directions = "Einmassieren."

"""


def test_a_set_speaks_the_languages_asked_for(tmp_path):
    shop = pack_shop(tmp_path)
    shop.write("formulas/winter-set.toml", SET.replace("[container]", GERMAN + "[container]"))
    shop.change("workshop.toml", 'languages = ["en"]', 'languages = ["en", "de"]')
    shop.change("workshop.toml", 'markets   = ["UK"]', 'markets   = ["EU"]')
    person = '[responsible-person]\nEU = { name = "A", address = ["1 Example Quay"] }'
    shop.change("workshop.toml", "[sale]", f"{person}\n\n[sale]")
    shop.change(f"formulas/{CREAM}.toml", "[container]", CREAM_GERMAN + "[container]")
    path = shop.folder / "formulas" / f"{BALM}.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("[[ingredient]]", BALM_GERMAN + "[[ingredient]]", 1),
                    encoding="utf-8")
    shop.done("batch", "open", CREAM, "--size", "500g")
    shop.done("batch", "open", BALM, "--size", "400g")
    shop.done("print", "winter-set", *OF, *QUICK)
    with open_store(shop.folder / "records.sqlite") as store:
        (row,) = store.prints(CODE)
    said = {(block["name"], block["lang"], block["text"]) for block in row.text["blocks"]}
    assert {("name", "en", "Winter Set"), ("name", "de", "Winterset"), ("function", "de", "Geschenkset")} <= said
    headings = [block["heading"] for block in row.text["blocks"] if block["name"] == "ingredients"]
    assert headings == ["2 × Calendula Hand Cream / Handcreme, 30 ml. Ingredients:",
                        "Plain Foot Balm / Fußbalsam, 40 g. Ingredients:"]
    shop.done("print", CODE, "--languages", "de", *QUICK)
    with open_store(shop.folder / "records.sqlite") as store:
        german = store.prints(CODE)[-1].text["blocks"]
    words = " ".join(f"{block['heading']} {block['text']}" for block in german)
    assert "2 × Handcreme, 30 ml. Ingredients: Aqua" in words and "Fußbalsam: Charge" in words
    assert not any(english in words for english in ("Hand Cream", "Foot Balm", "Winter Set", "Batch", "Caution"))
