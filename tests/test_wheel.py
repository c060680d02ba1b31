"""The built wheel alone: what it holds, and that it works where no development tool is."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from source_tree import ROOT

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of commands of a new environment that holds the wheel and what it asks for, nothing else."""
    folder = tmp_path_factory.mktemp("environment") / "venv"
    subprocess.run([sys.executable, "-m", "venv", folder], check=True, capture_output=True)
    commands = folder / "bin"
    install = [commands / "python", "-m", "pip", "install", "--quiet", "--disable-pip-version-check", wheel]
    subprocess.run(install, check=True, capture_output=True)
    return commands


def run(command: list[object], cwd: Path) -> subprocess.CompletedProcess[str]:
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("LABELTOOL", "PYTHON"))}
    return subprocess.run(list(map(str, command)), cwd=cwd, env=kept, capture_output=True, text=True, check=False)


def package_files(folder: Path, pattern: str) -> set[str]:
    return {path.relative_to(ROOT).as_posix() for path in folder.rglob(pattern) if path.is_file()}


def test_the_wheel_holds_layouts_tables_and_template(wheel):
    held = set(zipfile.ZipFile(wheel).namelist())
    layouts = {f"labeltool/{name}" for name in package_files(ROOT / "layouts", "*.toml")}
    package = package_files(ROOT / "labeltool", "*.toml") | package_files(ROOT / "labeltool", "*.json")
    code = package_files(ROOT / "labeltool", "*.py")
    assert "labeltool/data/start/workshop.toml" in package
    assert any(name.startswith("labeltool/layouts/stocks/") for name in layouts)
    assert any(name.startswith("labeltool/layouts/artwork/") for name in layouts)
    pages = package_files(ROOT / "labeltool", "*.html") | package_files(ROOT / "labeltool", "*.css")
    assert "labeltool/data/pages/public.html" in pages
    assert layouts | package | code | pages <= held


def test_the_wheel_holds_nothing_of_development(wheel):
    tops = {name.partition("/")[0] for name in zipfile.ZipFile(wheel).namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"labeltool"}


def test_a_stranger_starts_and_prints(installed, tmp_path):
    where = run([installed / "python", "-c", "import labeltool; print(labeltool.__file__)"], tmp_path)
    assert str(installed.parent) in where.stdout
    assert run([installed / "python", "-c", "import pytest"], tmp_path).returncode == 1
    started = run([installed / "labeltool", "start", "shop"], tmp_path)
    assert started.returncode == 0, started.stderr
    printed = run([installed / "labeltool", "print", "shop/formulas/plain-foot-balm.toml", "--by", "AB"], tmp_path)
    assert printed.returncode == 0, printed.stderr
    (pdf,) = (tmp_path / "shop" / "prints").glob("*-1.pdf")
    verified = run([installed / "labeltool", "verify", pdf], tmp_path)
    assert verified.returncode == 0, verified.stderr
    built = run([installed / "labeltool", "pages", "build", "site", "--workshop", "shop"], tmp_path)
    assert built.returncode == 0, built.stderr
    assert len(list((tmp_path / "site").rglob("index.html"))) == 1
