from __future__ import annotations

from pathlib import Path

import pytest

from labeltool.errors import InputError
from labeltool.formula.place import VARIABLE, find_workshop


def shop(folder: Path) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "workshop.toml").write_text("")
    return folder


def find(cwd: Path, formula: str | Path | None = None, workshop: str | None = None, env: str | None = None) -> Path:
    return find_workshop(Path(formula) if formula else None, workshop=Path(workshop) if workshop else None,
                         env={VARIABLE: env} if env is not None else {}, cwd=cwd)


def test_the_order_of_looking(tmp_path: Path) -> None:
    named, set_, of_formula, of_cwd = (shop(tmp_path / name) for name in ("named", "set", "formula", "cwd"))
    inner = of_cwd / "deep" / "er"
    inner.mkdir(parents=True)
    formula = of_formula / "formulas" / "x.toml"
    assert find(inner, formula, str(named), str(set_)) == named
    assert find(inner, formula, env=str(set_)) == set_
    assert find(inner, formula) == of_formula
    assert find(inner, "../x.toml") == of_cwd
    assert find(inner) == of_cwd
    assert find(inner, env="") == of_cwd


def test_the_nearest_folder_wins(tmp_path: Path) -> None:
    shop(tmp_path)
    near = shop(tmp_path / "a")
    (near / "b").mkdir()
    assert find(near / "b") == near


def test_a_formula_outside_falls_back_to_the_current_folder(tmp_path: Path) -> None:
    here = shop(tmp_path / "here")
    (tmp_path / "loose").mkdir()
    assert find(here, tmp_path / "loose" / "x.toml") == here


def test_a_relative_name_and_the_file_itself_will_do(tmp_path: Path) -> None:
    folder = shop(tmp_path / "shop")
    assert find(tmp_path, workshop="shop") == folder
    assert find(tmp_path, workshop="shop/workshop.toml") == folder


@pytest.mark.parametrize(("workshop", "env"), [("nowhere", None), (None, "nowhere"), ("a\0b", None)])
def test_a_named_folder_without_workshop_says_so(tmp_path: Path, workshop: str | None, env: str | None) -> None:
    shop(tmp_path)
    with pytest.raises(InputError) as caught:
        find(tmp_path, None, workshop, env)
    (finding,) = caught.value.findings
    assert finding.rule == "workshop.none"
    assert "labeltool start" in str(finding.do)


def test_none_at_all_names_the_command_that_makes_one(tmp_path: Path) -> None:
    (tmp_path / "workshop.toml").mkdir()
    with pytest.raises(InputError) as caught:
        find(tmp_path)
    assert "labeltool start DIR" in str(caught.value.findings[0].do)
