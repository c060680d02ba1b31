from __future__ import annotations

from pathlib import Path

import pytest
from formula_workshops import CITRIC, read, rules, write
from sheets import xlsx

from labeltool.formula.pairing import formula_names, formula_path

FACTS = '[product]\nname = "X"\n[[may-contain]]\ninci = "CI 77492"\n'
SHEET = "inci,percent\nAqua,100\n"


@pytest.mark.parametrize(("name", "ending"), [
    ("x.toml", "csv"), ("x.csv", "csv"), ("x.toml", "xlsx"), ("x.xlsx", "xlsx"), ("x.CSV", "CSV"),
])
def test_either_file_of_a_pair_names_the_product(tmp_path: Path, name: str, ending: str) -> None:
    rows = xlsx([["inci", "percent"], ["Aqua", 100]]) if ending == "xlsx" else SHEET.encode()
    write(tmp_path, {"formulas/x.toml": FACTS, f"formulas/x.{ending}": rows})
    found, findings = read(tmp_path, f"formulas/{name}")
    assert found is not None, findings
    assert (found.formula.key, found.formula.product.name) == ("x", "X")
    assert [item.inci for item in found.formula.may_contain] == ["CI 77492"]
    assert {name for name, _ in found.files} >= {"formulas/x.toml", f"formulas/x.{ending}"}


def test_a_neighbour_of_another_name_is_no_pair(tmp_path: Path) -> None:
    found, findings = read(write(tmp_path, {"formulas/x.toml": FACTS, "formulas/xy.csv": SHEET}), "formulas/x.toml")
    assert found is None
    assert rules(findings) == ["formula.rows"]


def test_the_sheets_faults_are_told_beside_those_of_the_facts(tmp_path: Path) -> None:
    files: dict[str, str | bytes | None] = {"formulas/x.toml": "[product]\nform = 1\n",
                                            "formulas/x.csv": "inci,percent\nAqua,99\n"}
    _, findings = read(write(tmp_path, files), "formulas/x.csv")
    assert rules(findings) == ["key.missing", "value.type", "formula.sum"]


def test_facts_that_cannot_be_read_do_not_hide_the_sheet(tmp_path: Path) -> None:
    write(tmp_path, {"formulas/x.toml": "[product\n", "formulas/x.csv": "inci,percent\nAqua,99\n"})
    _, findings = read(tmp_path, "formulas/x.csv")
    assert rules(findings) == ["toml.syntax", "formula.sum"]


def test_names_and_paths_of_a_workshops_formulas(tmp_path: Path) -> None:
    write(tmp_path, {"formulas/x.csv": SHEET, "formulas/notes.txt": ""})
    write(tmp_path, {"formulas/y.xlsx": b"", "formulas/y.toml": CITRIC})
    assert formula_names(tmp_path) == ["citric-solution", "lotion", "x", "y"]
    assert formula_path(tmp_path, "y") == tmp_path / "formulas" / "y.toml"
    assert formula_path(tmp_path, "x") == tmp_path / "formulas" / "x.csv"
    assert formula_path(tmp_path, "z") is None
    assert formula_names(tmp_path / "nowhere") == []
