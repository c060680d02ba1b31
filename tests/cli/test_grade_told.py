"""The predicted grade as a maker meets it: in print, reprint and verify, in the record and in JSON."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from cli_runs import CREAM, labeltool

from labeltool.records.store import open_store

DEMO = Path(__file__).parents[2] / "demo" / "ottersholt"


@pytest.fixture
def shop(tmp_path):
    assert labeltool("start", "shop", cwd=tmp_path).code == 0
    clear = (tmp_path / "shop/layouts/stocks")
    clear.mkdir(parents=True, exist_ok=True)
    (clear / "clear-big.toml").write_text(
        'title = "Clear"\nkind = "sheet"\npage = [210, 297]\nlabel = [99.1, 139]\nshape = "rectangle"\ncorner = 1.5\n'
        'grid = [2, 2]\norigin = [4.65, 9]\npitch = [101.6, 139]\nsafe = 1.5\n'
        'face = "clear"\nprint = "laser"\ndpi = 600\n'
    )
    return tmp_path / "shop"


def kept(shop, code="260503A31"):
    with open_store(shop / "records.sqlite", create=False) as store:
        return [row.extra["grade"] for row in store.prints(code)]


def test_print_tells_and_keeps_the_grade(shop):
    ran = labeltool("print", f"formulas/{CREAM}.toml", cwd=shop)
    assert ran.code == 0 and "  QR code: predicted grade A (4.0)\n" in ran.out and "grade" not in ran.err
    assert kept(shop) == [{"value": 4.0, "limits": []}]
    read = labeltool("verify", "prints/260503A31-1.pdf", cwd=shop)
    assert read.code == 0 and "14 labels: predicted grade A (4.0)\n" in read.out
    document = labeltool("verify", "prints/260503A31-1.pdf", "--json", cwd=shop).json
    assert {(item["grade"], tuple(item["limits"])) for item in document["labels"]} == {(4.0, ())}


def test_a_grade_below_c_warns_and_says_what_would_help(shop):
    dark = ("--stock", "clear-big", "--behind", "#906060")
    ran = labeltool("print", f"formulas/{CREAM}.toml", *dark, "--json", cwd=shop)
    assert ran.code == 0, ran.err
    low, = [item for item in ran.json["problems"] if item["rule"] == "grade.low"]
    assert low["level"] == "warning" and "limited by symbol contrast" in low["text"] and "1.5" in low["limit"]
    assert low["do"].startswith("take a lighter stock")
    grade, = kept(shop)
    assert 0 <= grade["value"] < 1.5 and grade["limits"] == ["symbol-contrast"]
    read = labeltool("verify", "prints/260503A31-1.pdf", "--json", cwd=shop).json
    assert {item["grade"] for item in read["labels"]} == {grade["value"]}


def test_what_lies_behind_clear_stock_changes_the_grade_and_a_reprint_keeps_it(shop):
    labeltool("print", f"formulas/{CREAM}.toml", "--stock", "clear-big", "--behind", "#f0f0e8", cwd=shop)
    first, = kept(shop)
    assert first["value"] >= 3.5
    again = labeltool("reprint", "260503A31", "--why", "scuffed", cwd=shop)
    assert again.code == 0 and "predicted grade" in again.out
    assert kept(shop) == [first, first]


def test_without_read_back_there_is_no_grade_and_a_reprint_does_not_inherit_one(shop):
    ran = labeltool("print", f"formulas/{CREAM}.toml", "--no-verify", cwd=shop)
    assert ran.code == 0 and "grade" not in ran.out
    labeltool("reprint", "260503A31", "--why", "one", cwd=shop)
    labeltool("reprint", "260503A31", "--why", "two", "--no-verify", cwd=shop)
    assert kept(shop) == [None, {"value": 4.0, "limits": []}, None]


def test_once_answers_with_the_same_warning(shop):
    call = ("print", f"formulas/{CREAM}.toml", "--stock", "clear-big", "--behind", "#906060", "--once", "k", "--json")
    first, second = labeltool(*call, cwd=shop), labeltool(*call, cwd=shop)
    assert first.json == second.json
    assert any(item["rule"] == "grade.low" for item in first.json["problems"])


def test_a_draft_has_no_grade(shop):
    ran = labeltool("print", f"formulas/{CREAM}.toml", "--draft", cwd=shop)
    assert ran.code == 0 and "grade" not in ran.out + ran.err


@pytest.fixture
def balm(tmp_path):
    """The demo's lip balm, whose tube is narrow."""
    shutil.copytree(DEMO, tmp_path / "ottersholt")
    return tmp_path / "ottersholt"


def test_on_a_narrow_tube_the_grade_is_that_of_the_tube(balm):
    ran = labeltool("print", "formulas/tinted-lip-balm.toml", "--stock", "a4-3x8-63.5x33.9", cwd=balm)
    assert ran.code == 0 and "container.curve" not in ran.err, ran.err
    code = re.search(r"batch (\w+), made", ran.out)[1]
    grade, = kept(balm, code)
    assert 1.5 <= grade["value"] < 4 and grade["limits"] == ["grid-non-uniformity"]
    assert "limited by grid non-uniformity: put the label where the container is flatter" in ran.out
    read = labeltool("verify", f"prints/{code}-1.pdf", "--json", cwd=balm).json
    assert {(item["grade"], *item["limits"]) for item in read["labels"]} == {(grade["value"], "grid-non-uniformity")}
    labeltool("reprint", code, "--why", "scuffed", cwd=balm)
    assert kept(balm, code) == [grade, grade]


def test_a_tube_too_narrow_for_the_symbol_is_warned_of(balm):
    path = balm / "formulas/tinted-lip-balm.toml"
    path.write_text(path.read_text().replace("diameter = 22", "diameter = 18"))
    ran = labeltool("print", "formulas/tinted-lip-balm.toml", "--stock", "a4-3x8-63.5x33.9", "--json", cwd=balm)
    assert ran.code == 0, ran.err
    found = {item["rule"]: item for item in ran.json["problems"]}
    assert found["container.curve"]["level"] == "warning" and "version 2" in found["container.curve"]["limit"]
    assert "grade.low" in found or kept(balm, ran.json["code"])[0]["value"] < 2.5
    checked = labeltool("check", "formulas/tinted-lip-balm.toml", "--stock", "a4-3x8-63.5x33.9", "--json", cwd=balm)
    assert "container.curve" in {item["rule"] for item in checked.json["problems"]}
