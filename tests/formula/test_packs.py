"""[[pack]] and [[contains]] as they are read: every key, every fault at its place."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from labeltool.codec import from_plain, to_plain
from labeltool.finding import Findings
from labeltool.formula.load import read_formula
from labeltool.formula.model import Contained, Container, Formula, NetQuantity, PackLabel
from labeltool.formula.sizes import find_pack, of_pack, pack_names, sizes

HEAD = """\
[product]
name = "Oat Milk Hand Lotion"
net = "50 ml"

[container]
shape = "cylinder"
diameter = 40
height = 95

[[ingredient]]
inci = "Aqua"
percent = "qs"
"""
WHOLE = """
[[pack]]
name = "30ml"
net  = "30 ml"
gtin = "9520000025014"
mark = "Tester. Not for sale."
container = { shape = "cylinder", diameter = 30, height = 80 }
outer     = { shape = "box", width = 40, depth = 40, height = 100 }
labels = [
  { name = "front", on = "container", artwork = "front", stock = "a4-3x8-63.5x33.9" },
  { name = "back",  on = "container", artwork = "back", markets = ["EU"], languages = ["de"] },
  { name = "box",   on = "outer", artwork = "front-and-back" },
]

[[pack]]
name = "sample"
"""


def read(tmp_path: Path, text: str) -> tuple[Formula | None, Findings]:
    path = tmp_path / "lotion.toml"
    path.write_text(text, encoding="utf-8")
    return read_formula(path)


def rules(found: Findings) -> list[tuple[str, str, int | None]]:
    return [(item.rule, item.level, item.where.line) for item in found]


def test_every_key_of_a_pack_is_read(tmp_path):
    formula, found = read(tmp_path, HEAD + WHOLE)
    assert formula is not None and len(found) == 0
    small, sample = formula.packs
    assert (small.name, small.net, small.gtin) == ("30ml", NetQuantity(Decimal(30), "ml"), "9520000025014")
    assert small.mark == "Tester. Not for sale."
    assert small.container == Container("cylinder", Decimal(30), height_mm=Decimal(80))
    assert small.outer == Container("box", None, Decimal(40), Decimal(40), Decimal(100))
    assert [(item.name, item.on, item.artwork) for item in small.labels] == [
        ("front", "container", "front"), ("back", "container", "back"), ("box", "outer", "front-and-back")]
    back = small.labels[1]
    assert back == PackLabel("back", "container", "back", None, ("EU",), ("de",), back.where)
    assert (sample.name, sample.net, sample.container, sample.labels) == ("sample", None, None, ())


def test_a_frozen_formula_with_packs_comes_back_from_the_record(tmp_path):
    formula, _ = read(tmp_path, HEAD + WHOLE)
    assert from_plain(Formula, to_plain(formula)) == formula


def test_a_formula_without_packs_is_frozen_as_it_always_was(tmp_path):
    formula, _ = read(tmp_path, HEAD)
    assert {"packs", "contains"} & to_plain(formula).keys() == set()
    assert from_plain(Formula, to_plain(formula)) == formula


@pytest.mark.parametrize(("pack", "rule"), [
    ("net = '30 ml'", "key.missing"),
    ("name = 'a/b'", "pack.name"), ("name = 'a:b'", "pack.name"), ("name = 'a=b'", "pack.name"),
    ("name = 'two words'", "pack.name"), ("name = '-x'", "pack.name"), ("name = ''", "key.missing"),
    ("name = 'a'\nnet = '30'", "value.net"), ("name = 'a'\nnet = '1 oz'", "value.net"),
    ("name = 'a'\ngtin = '9520000025015'", "product.gtin"),
    ("name = 'a'\ncontainer = { shape = 'cylinder' }", "key.missing"),
    ("name = 'a'\ncontainer = { shape = 'ball' }", "value.word"),
    ("name = 'a'\nouter = { shape = 'box', area = 4, width = 1, depth = 1, height = 1 }", "container.measure"),
    ("name = 'a'\nlabels = [ { name = 'x', on = 'outer' } ]", "pack.outer"),
    ("name = 'a'\nlabels = [ { name = 'x' }, { name = 'X' } ]", "pack.twice"),
    ("name = 'a'\nlabels = [ { artwork = 'x' } ]", "key.missing"),
    ("name = 'a'\nlabels = [ { name = 'x', on = 'lid' } ]", "value.word"),
    ("name = 'a'\nlabels = [ { name = 'x', markets = ['FR'] } ]", "value.market"),
    ("name = 'a'\nlabels = [ { name = 'x', languages = ['xx'] } ]", "value.language"),
    ("name = 'a'\nlabels = [ { name = 'x', art = 'x' } ]", "key.unknown"),
    ("name = 'a'\nsize = '30 ml'", "key.unknown"),
    ("name = 'a'\ndirections = 'x'", "key.misplaced"),
    ("name = 'a'\n[[pack]]\nname = 'A'", "pack.twice"),
    ("name = 'a'\ngtin = '9520000025014'\n[[pack]]\nname = 'b'\ngtin = '9520000025014'", "pack.gtin"),
])
def test_every_fault_of_a_pack_has_its_place(tmp_path, pack, rule):
    formula, found = read(tmp_path, f"{HEAD}\n[[pack]]\n{pack}\n")
    assert formula is None
    assert rule in [item.rule for item in found]
    assert all(item.where.line and item.where.line > HEAD.count("\n") for item in found.errors)


def test_what_stands_above_and_is_no_packs_is_told(tmp_path):
    own = "\n[[pack]]\nname = 'a'\nnet = '5 ml'\ncontainer = { shape = 'pouch', width = 50, height = 70 }\n"
    assert rules(read(tmp_path, HEAD + own)[1]) == [("pack.above", "note", 1)]
    assert rules(read(tmp_path, HEAD + own + "\n[[pack]]\nname = 'b'\n")[1]) == []


def test_an_empty_list_of_packs_is_told(tmp_path):
    assert rules(read(tmp_path, "pack = []\n" + HEAD)[1]) == [("value.empty-list", "error", 1)]


SET = """\
[product]
name = "Winter Set"

[[contains]]
formula = "lotion"
pack = "30ml"
count = 2

[[contains]]
formula = "balm"
"""


def test_a_set_has_products_in_place_of_ingredients(tmp_path):
    formula, found = read(tmp_path, SET)
    assert formula is not None and len(found) == 0 and formula.rows == ()
    held = [(item.formula, item.pack, item.count) for item in formula.contains]
    assert held == [("lotion", "30ml", 2), ("balm", "", 1)]
    assert from_plain(Formula, to_plain(formula)) == formula
    assert isinstance(formula.contains[0], Contained)


@pytest.mark.parametrize(("more", "rule"), [
    ("[[ingredient]]\ninci = 'Aqua'\npercent = 100", "set.ingredients"),
    ("[[may-contain]]\ninci = 'CI 77491'", "set.ingredients"),
    ("[[pack]]\nname = 'a'", "set.packs"),
    ("[[contains]]\nformula = 'balm'", "set.twice"), ("[[contains]]\npack = 'a'", "key.missing"),
    ("[[contains]]\nformula = 'x'\ncount = 0", "value.number"),
    ("[[contains]]\nformula = 'x'\ncount = 1.5", "value.number"),
    ("[[contains]]\nformula = 'x'\namount = 3", "key.unknown"),
])
def test_every_fault_of_a_set_is_told(tmp_path, more, rule):
    formula, found = read(tmp_path, f"{SET}\n{more}\n")
    assert formula is None and rule in [item.rule for item in found]


def test_a_set_beside_a_spreadsheet_of_its_name_is_refused(tmp_path):
    (tmp_path / "lotion.csv").write_text("inci,percent\nAqua,100\n", encoding="utf-8")
    formula, found = read(tmp_path, SET)
    assert formula is None and "set.ingredients" in [item.rule for item in found]


def test_a_formula_is_asked_for_its_packs_by_name(tmp_path):
    formula, _ = read(tmp_path, HEAD + WHOLE)
    assert formula is not None
    assert pack_names(formula) == ("30ml", "sample")
    sample = find_pack(formula, "SAMPLE")
    assert sample is not None and sample.net == formula.product.net and sample.container == formula.container
    assert find_pack(formula, "") is None
    small = find_pack(formula, "30ml")
    assert small is not None
    view = of_pack(formula, small)
    assert (view.product.net, view.product.gtin, view.container) == (small.net, "9520000025014", small.container)
    assert view.rows == formula.rows


def test_a_formula_without_packs_has_one_without_a_name(tmp_path):
    formula, _ = read(tmp_path, HEAD)
    assert formula is not None
    assert pack_names(formula) == ("",)
    (only,) = sizes(formula)
    assert (only.name, only.net, only.container) == ("", formula.product.net, formula.container)
    assert of_pack(formula, only) is formula


def test_a_number_above_is_the_one_packs_and_no_other(tmp_path):
    numbered = HEAD.replace('net = "50 ml"', 'net = "50 ml"\ngtin = "9520000025014"')
    one, _ = read(tmp_path, numbered + "\n[[pack]]\nname = 'a'\n")
    two, found = read(tmp_path, numbered + "\n[[pack]]\nname = 'a'\n[[pack]]\nname = 'b'\n")
    assert one is not None and two is not None
    assert [item.gtin for item in sizes(one)] == ["9520000025014"]
    assert [item.gtin for item in sizes(two)] == [None, None]
    assert [item.rule for item in found] == ["pack.above"]
