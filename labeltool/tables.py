"""The only reader of package data: rule tables, words, layouts, fonts. Hands them to pure code as values."""

from __future__ import annotations

import hashlib
import json
from functools import cache
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any

import tomli

if TYPE_CHECKING:
    from labeltool.typeset.metrics import FontSet

FONT_FILES = {
    "regular": "FiraSansCondensed-Regular.ttf",
    "medium": "FiraSansCondensed-Medium.ttf",
    "semibold": "FiraSansCondensed-SemiBold.ttf",
}


@cache
def toml(folder: str, name: str) -> dict[str, Any]:
    """The table `name`.toml of `labeltool/FOLDER/` ("rules" or "data")."""
    text = resources.files("labeltool").joinpath(folder, f"{name}.toml").read_text(encoding="utf-8")
    return tomli.loads(text)


@cache
def font_bytes(weight: str) -> bytes:
    """The font file of a weight: "regular", "medium" or "semibold". Raises KeyError for another."""
    return resources.files("fontpkg_fira_sans_condensed").joinpath("files", FONT_FILES[weight]).read_bytes()


@cache
def font_sha256(weight: str) -> str:
    """The SHA-256 of the font file of a weight, in hex."""
    return hashlib.sha256(font_bytes(weight)).hexdigest()


@cache
def fonts() -> FontSet:
    """The metrics of the shipped face, all weights."""
    from labeltool.typeset.metrics import font_set

    text = resources.files("labeltool").joinpath("data", "font_metrics.json").read_text(encoding="utf-8")
    return font_set(json.loads(text))


@cache
def page_file(name: str) -> str:
    """A template or style sheet of the batch record pages, as text."""
    return resources.files("labeltool").joinpath("data", "pages", name).read_text(encoding="utf-8")


def layout_folder() -> Path:
    """The folder of the built-in layouts: inside the installed package, or beside it in a checkout."""
    package = Path(str(resources.files("labeltool")))
    inside = package / "layouts"
    return inside if inside.is_dir() else package.parent / "layouts"


def start_files() -> dict[str, bytes]:
    """The files of the template workshop, by relative name."""
    root = Path(str(resources.files("labeltool"))) / "data" / "start"
    found = sorted(path for path in root.rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    return {path.relative_to(root).as_posix(): path.read_bytes() for path in found}
