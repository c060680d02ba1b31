"""The demo workshop and the template of a new one: what they promise to show, and that all of it prints."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from source_tree import ROOT

from labeltool.cli.main import run
from labeltool.formula.load import load

DEMO = ROOT / "demo" / "ottersholt"
TEMPLATE = ROOT / "labeltool" / "data" / "start"
SETS = [DEMO / "formulas" / "evening-set.toml"]
FORMULAS = sorted({*(DEMO / "formulas").glob("*.toml")} - {*SETS}) + sorted((TEMPLATE / "formulas").glob("*.toml"))
NAMES = [path.stem for path in FORMULAS]


def loaded(path: Path):
    found, findings = load(path, env={}, cwd=ROOT)
    assert list(findings) == []
    return found


def answer(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, dict]:
    with pytest.raises(SystemExit) as end:
        run([*words, "--json"])
    return end.value.code, json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("path", FORMULAS, ids=NAMES)
def test_it_reads_without_a_word_of_complaint(path):
    assert loaded(path).formula.rows


@pytest.mark.parametrize("path", FORMULAS + SETS, ids=[*NAMES, "evening-set"])
def test_nothing_is_missing_or_wrong(path, capsys):
    code, document = answer(capsys, "check", str(path))
    assert [item for item in document["problems"] if item["level"] == "error"] == []
    assert [item for item in document["elements"] if item["state"] == "missing"] == []
    assert [item for item in document["limits"] if item["state"] != "within"] == []
    assert code == 0


@pytest.mark.parametrize("path", FORMULAS, ids=NAMES)
def test_every_name_is_known_to_the_table_of_names(path, capsys):
    _, document = answer(capsys, "declare", str(path))
    assert [item["text"] for item in document["problems"] if item["rule"].startswith("name.")] == []


def test_the_order_is_proved_but_for_the_one_pair_that_shows_a_doubt(capsys):
    doubts = {}
    for path in FORMULAS:
        _, document = answer(capsys, "declare", str(path))
        doubts[path.stem] = [(item["before"], item["after"]) for item in document["doubts"]]
    assert doubts.pop("mint-shampoo-bar") == [("Cetearyl Alcohol", "Stearic Acid")]
    assert set(map(tuple, doubts.values())) == {()}


def test_the_demo_shows_what_formulas_can_hold():
    products = [loaded(path) for path in FORMULAS if path.is_relative_to(DEMO)]
    materials = [item for product in products for item in dict(product.materials).values()]
    rows = [row for product in products for row in product.formula.rows]
    assert len(products) == 5
    assert {row.kind for row in rows} == {"amount", "qs", "to-ph"}
    assert any(part.percent.low < part.percent.high for item in materials for part in item.made_of)
    assert any(item.fragrance and item.allergens for item in materials)
    assert any(part.colorant for item in materials for part in item.made_of)
    assert any(product.formula.may_contain for product in products)
    assert {product.formula.product.use for product in products} == {"leave-on", "rinse-off"}
    nets = {f"{product.formula.product.net.amount} {product.formula.product.net.unit}" for product in products}
    assert {"5 ml", "250 ml"} <= nets
    assert list((DEMO / "formulas").glob("*.csv"))


def test_the_template_stands_alone(tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(SystemExit) as end:
        run(["start", "shop"])
    assert end.value.code == 0
    made = {path.relative_to("shop").as_posix() for path in Path("shop").rglob("*") if path.is_file()}
    assert made == {path.relative_to(TEMPLATE).as_posix() for path in TEMPLATE.rglob("*") if path.is_file()}
    capsys.readouterr()
    code, document = answer(capsys, "print", "shop/formulas/*.toml", "--by", "AB")
    assert code == 0
    assert [Path(item["file"]).is_file() for item in document["items"]] == [True, True]


@pytest.mark.slow
def test_the_demo_prints_and_reads_back(tmp_path):
    target = tmp_path / "out"
    command = [sys.executable, str(ROOT / "demo" / "run"), str(target)]
    result = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, encoding="utf-8", check=False)
    assert result.returncode == 0, result.stdout + result.stderr
    assert len(list((target / "prints").glob("*.pdf"))) == 15
    names = [path.stem for path in FORMULAS if path.is_relative_to(DEMO)]
    pictures = {path.stem for path in (target / "previews").glob("*.png")}
    serum = "lactic-night-serum"
    assert pictures == {f"{name}-{kind}" for name in names if name != serum for kind in ("roll", "sheet")} | {
        f"{serum}-{label}" for label in ("sample-all", "30ml-front", "30ml-back", "30ml-box", "50ml-front", "50ml-back")
    } | {"evening-set"}
    assert result.stdout.count("as on record") == 15
