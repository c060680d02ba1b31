"""Artwork files: the built-in ones, and everything that can be wrong with one."""

from __future__ import annotations

import re
import tomllib

import pytest

from labeltool import tables
from labeltool.typeset.artmodel import Panel, blocks_of, panels
from labeltool.typeset.artwork import HOMES, carries, parse_artwork

FOLDER = tables.layout_folder() / "artwork"
NAMES = ("front", "back", "front-and-back", "wrap", "round-lid", "bottom-dot")
DUTY = {"name", "function", "net", "ingredients", "warnings", "code", "date", "responsible", "qr"}


def builtin(name):
    artwork, findings = parse_artwork(name, tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8")))
    assert not findings.items
    return artwork


def parse(text):
    return parse_artwork("mine", tomllib.loads(text))


def test_the_built_in_ones_are_sound():
    assert {path.stem for path in FOLDER.glob("*.toml")} == set(NAMES)
    for name in NAMES:
        artwork = builtin(name)
        assert artwork.name == name and artwork.title
        assert all(blocks_of(variant) == carries(artwork) for variant in artwork.variants)


@pytest.mark.parametrize("name", ["back", "front-and-back", "wrap"])
def test_whole_labels_carry_every_duty(name):
    assert carries(builtin(name)) >= DUTY


def test_what_the_others_carry():
    assert carries(builtin("bottom-dot")) == {"code", "date"}
    assert carries(builtin("round-lid")) == {"brand", "name", "function", "net", "e-mark", "mark"}
    assert carries(builtin("front")) == {"brand", "name", "function", "net", "e-mark", "claims", "mark"}
    assert "brand" in carries(builtin("back"))


def test_every_built_in_stock_has_an_arrangement_of_some_artwork():
    for path in (tables.layout_folder() / "stocks").glob("*.toml"):
        stock = tomllib.loads(path.read_text(encoding="utf-8"))
        size = stock["label"]
        assert any(variant.when.holds(stock["shape"], *size) for name in NAMES for variant in builtin(name).variants)


def test_a_small_file_of_ones_own():
    artwork, findings = parse("""
title = "Mine"
module = [0.25, 0.3]
leading = [1.2, 1.2]
semibold = ["name"]
overlap = 3
[[variant]]
for = { shape = ["rectangle"], area = [0, 3000] }
ratio = [2, 2, 2]
rows = [
  { mm = 12, top = [{ row = ["name", "net"], spread = true }] },
  { columns = [
    { flow = ["ingredients"], flow-columns = [1, 2] }, { symbol = true, qr = "bottom-left" },
  ], rule = true },
]
""")
    assert not findings.items
    assert (artwork.title, artwork.module_mm) == ("Mine", (0.25, 0.3))
    assert (artwork.leading, artwork.overlap_mm) == ((1.2, 1.2), 3)
    assert carries(artwork) == {"name", "net", "ingredients", "qr"}
    first, second, third = panels(artwork.variants[0].area)
    assert first.top[0].kind == "row" and first.top[0].spread
    assert second.columns == (1, 2)
    assert third == Panel(qr="bottom-left")
    when = artwork.variants[0].when
    assert not when.holds("rectangle", 60, 60) and when.holds("rectangle", 50, 50)


FLAWS = [
    ("", "variant", "no arrangement"),
    ("variant = 3", "variant", "no arrangement"),
    ("[[variant]]\ntpo = ['name']", "variant[1].tpo", "unknown key"),
    ("[[variant]]\ntop = 'name'", "variant[1].top", "no list"),
    ("[[variant]]\ntop = ['nmae']", "variant[1].top", "'nmae'"),
    ("[[variant]]\ntop = ['qr']", "variant[1].top", "'qr'"),
    ("[[variant]]\ntop = [3]", "variant[1].top", "3"),
    ("[[variant]]\ntop = [{ raw = ['name'] }]", "variant[1].top.raw", "unknown key"),
    ("[[variant]]\ntop = [{ row = ['name'], stack = ['net'] }]", "variant[1].top", "row, stack"),
    ("[[variant]]\nqr = 'top'", "variant[1].qr", "'top'"),
    ("[[variant]]\nfor = { shape = ['round'] }\narc = 'date'\nmiddle = ['net']", "variant[1].arc", "'date'"),
    ("[[variant]]\narc = 'name'\nmiddle = ['net']", "variant[1].arc", "not surely one round panel"),
    ("[[variant]]\nfor = { shape = ['round'] }\narc = 'name'\ntop = ['net']", "variant[1].arc", "else than a middle"),
    ("[[variant]]\nqr = true", "variant[1].qr", "True"),
    ("[[variant]]\nalign = 'center'", "variant[1].align", "'center'"),
    ("[[variant]]\nflow-columns = [2, 1]", "variant[1].flow-columns", "does not rise"),
    ("[[variant]]\nflow-columns = 2", "variant[1].flow-columns", "2"),
    ("[[variant]]\nratio = [1, 2, 3]", "variant[1].ratio", "1"),
    ("[[variant]]\nratio = [2, 3]", "variant[1].ratio", "[2, 3]"),
    ("[[variant]]\ncomfort = true", "variant[1].comfort", "True"),
    ("[[variant]]\nmargin = nan", "variant[1].margin", "nan"),
    ("[[variant]]\nlargest = 3", "variant[1].largest", "3"),
    ("[[variant]]\ncolumns = [{}]", "variant[1].columns", "not allowed"),
    ("[[variant]]\ncolumns = [3, 4]", "variant[1].columns[1]", "no table"),
    ("[[variant]]\ncolumns = [{}, {}]\nrows = [{}, {}]", "variant[1]", "columns and rows"),
    ("[[variant]]\ncolumns = [{ mm = 3, share = 1 }, {}]", "variant[1].columns[1]", "mm and share"),
    ("[[variant]]\ncolumns = [{ mm = -3 }, {}]", "variant[1].columns[1].mm", "-3"),
    ("[[variant]]\ncolumns = [{ symbol = 'yes' }, {}]", "variant[1].columns[1].symbol", "'yes'"),
    ("[[variant]]\nfor = { shape = ['square'] }", "variant[1].for.shape", "'square'"),
    ("[[variant]]\nfor = { aera = [1, 2] }", "variant[1].for.aera", "unknown key"),
    ("[[variant]]\nfor = { area = [2, 1] }", "variant[1].for.area", "does not rise"),
    ("[[variant]]\nfor = 3", "variant[1].for", "no table"),
    ("module = [0.1, 0.3]\n[[variant]]", "module", "0.1"),
    ("leading = 1.2\n[[variant]]", "leading", "1.2"),
    ("semibold = ['title']\n[[variant]]", "semibold", "'title'"),
    ("overlap = inf\n[[variant]]", "overlap", "inf"),
    ("titel = 'x'\n[[variant]]", "titel", "unknown key"),
    ("title = 3\n[[variant]]", "title", "3"),
    ("[[variant]]\ntop = ['name']\n[[variant]]\ntop = ['net']", "variant[2]", "name, net"),
    ("[[variant]]\ntop = ['name']\nfoot = ['name']", "variant[1]", "name"),
    ("[[variant]]\nmiddle = ['name']\nflow = ['net']", "variant[1]", "middle"),
]


@pytest.mark.parametrize(("text", "key", "said"), FLAWS)
def test_a_flaw_is_named_with_its_place(text, key, said):
    artwork, findings = parse(text)
    assert artwork is None
    found = [item for item in findings if item.where.key == key]
    assert found, [item.text for item in findings]
    assert any(said in item.text for item in found)
    assert all(item.rule == "artwork.file" and item.limit and item.where.file == "mine.toml" for item in found)


def test_a_key_in_the_wrong_place_is_sent_home():
    _, findings = parse("ratio = [2, 2, 2]\n[[variant]]\nrule = true\nshare = 1\ntop = []\ntitle = 'x'")
    assert {item.where.key: item.do for item in findings} == {
        "ratio": "it belongs in [[variant]]", "variant[1].rule": "it belongs in an area cut into columns or rows",
        "variant[1].share": "it belongs in a part of columns or rows",
        "variant[1].title": "it belongs in the top of the file",
    }


def test_areas_nest_only_so_deep():
    area = "columns = [{}, {}]"
    for _ in range(40):
        area = f"rows = [{{ {area} }}, {{}}]"
    _, findings = parse(f"[[variant]]\n{area}")
    assert {item.text.partition(": ")[2] for item in findings} == {"too many areas inside each other"}


def test_all_flaws_are_told_at_once_with_the_nearest_key():
    _, findings = parse("titel = 'x'\nmodul = [1, 2]\n[[variant]]\nalgin = 'left'\nqr = 'middle'")
    assert len(findings) == 4
    assert "did you mean align?" in {item.do for item in findings}
    assert "did you mean title?" in {item.do for item in findings}


def test_the_examples_of_the_manual_are_sound():
    manual = (FOLDER.parent.parent / "docs" / "layouts.md").read_text(encoding="utf-8")
    examples = re.findall(r"```toml\n(.*?)```", manual, re.DOTALL)
    assert len(examples) >= 2
    for example in examples:
        assert parse(example)[1].items == ()


def test_the_manual_names_every_key():
    manual = (FOLDER.parent.parent / "docs" / "layouts.md").read_text(encoding="utf-8")
    for key in HOMES:
        assert f"`{key}`" in manual or f"`[[{key}]]`" in manual or f"{key} =" in manual, key
