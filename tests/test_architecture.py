"""Which part may import which: read from the source, so that a breach cannot hide."""

from __future__ import annotations

import ast
import sys
from functools import cache

import pytest
from source_tree import imports, package_sources, tree

PURE = {"compose", "rules", "wording", "coding", "symbol", "typeset", "stock", "batch"}
ENDS = {"output", "printing", "records", "readback", "pages", "workflow", "cli"}
IMPURE_MODULES = {
    "asyncio", "ctypes", "fileinput", "ftplib", "getpass", "glob", "http", "importlib", "io", "locale", "logging",
    "multiprocessing", "os", "pathlib", "pickle", "platform", "secrets", "shelve", "shutil", "smtplib", "socket",
    "sqlite3", "ssl", "subprocess", "sys", "tempfile", "threading", "time", "urllib.request", "uuid", "zipfile",
}
IMPURE_CALLS = {"open", "input", "print", "exec", "eval", "__import__"}
CLOCK_CALLS = {"today", "now", "utcnow"}
FILE_CALLS = {"read_text", "read_bytes", "write_text", "write_bytes", "unlink", "mkdir"}
ONE_FILE = {"sqlite3"}  # of the standard library, yet kept to one file as outside libraries are
CLI_ONLY = {"click"}


def part(module: str) -> str:
    """The folder of a module inside the package: "" for one at its top."""
    pieces = module.split(".")
    return pieces[1] if len(pieces) > 2 else ""


def direction_breaches(sources: dict[str, str]) -> list[str]:
    """Imports that run against cli → workflow → the rest, or let read-back know the record."""
    found = []
    for module, source in sources.items():
        banned = {"cli": set(), "workflow": {"cli"}}.get(part(module), {"cli", "workflow"})
        if part(module) == "readback":
            banned = banned | {"records"}
        if part(module) in PURE:
            banned = banned | ENDS
        for name in sorted(imports(module, source)):
            if name.startswith("labeltool.") and name.split(".")[1] in banned - {part(module)}:
                found.append(f"{module} imports {name}")
    return found


def needed(module: str, sources: dict[str, str]) -> set[str]:
    """All modules of the package that come with a module, itself included."""
    seen, ahead = set(), [module]
    while ahead:
        here = ahead.pop()
        if here in seen:
            continue
        seen.add(here)
        for name in imports(here, sources[here]):
            pieces = name.split(".")
            options = [".".join(pieces[:size]) for size in range(1, len(pieces) + 1)]
            ahead += [found for text in options for found in (text, f"{text}.__init__") if found in sources]
    return seen


@cache
def touches(module: str, source: str) -> list[str]:
    """What a module does that pure code may not: files, clock, chance, environment, network."""
    found = []
    for name in sorted(imports(module, source)):
        pieces = name.split(".")
        if {".".join(pieces[:size]) for size in range(1, len(pieces) + 1)} & IMPURE_MODULES:
            found.append(f"{module} imports {name}")
        if pieces[0] == "random" and name != "random.Random":
            found.append(f"{module} imports {name}")
    for node in ast.walk(tree(source)):
        if isinstance(node, ast.Call):
            called = node.func
            name = called.id if isinstance(called, ast.Name) else ""
            method = called.attr if isinstance(called, ast.Attribute) else ""
            if name in IMPURE_CALLS or method in CLOCK_CALLS | FILE_CALLS:
                found.append(f"{module}:{node.lineno} calls {name or method}")
            if name == "Random" and not node.args:
                found.append(f"{module}:{node.lineno} draws from chance without a seed")
    return found


def purity_breaches(sources: dict[str, str]) -> list[str]:
    """What pure code touches, itself or through anything it imports."""
    found = set()
    for module in sources:
        if part(module) in PURE:
            for other in needed(module, sources):
                found |= {f"{breach} (needed by {module})" for breach in touches(other, sources[other])}
    return sorted(found)


def outside(module: str, source: str) -> set[str]:
    """The outside libraries that a module imports."""
    tops = {name.partition(".")[0] for name in imports(module, source)}
    return {top for top in tops if top != "labeltool" and (top not in sys.stdlib_module_names or top in ONE_FILE)}


def library_breaches(sources: dict[str, str]) -> list[str]:
    """Outside libraries that more than one file imports, and click outside cli."""
    users: dict[str, list[str]] = {}
    for module, source in sources.items():
        for library in outside(module, source):
            users.setdefault(library, []).append(module)
    shared = [f"{library} is imported by {', '.join(modules)}" for library, modules in sorted(users.items())
              if len(modules) > 1 and library not in CLI_ONLY]
    strays = [f"{module} imports {library}" for library in CLI_ONLY for module in users.get(library, [])
              if part(module) != "cli"]
    return shared + strays


def data_breaches(sources: dict[str, str]) -> list[str]:
    """Modules other than tables.py that look for files of the package or of the font."""
    marks = ("importlib.resources", "import resources", "__file__", "fontpkg", "pkgutil")
    return [f"{module} mentions {mark}" for module, source in sources.items() if module != "labeltool.tables"
            for mark in marks if mark in source]


@pytest.mark.parametrize("check", [direction_breaches, purity_breaches, library_breaches, data_breaches])
def test_no_breach(check):
    sources = package_sources()
    assert len(sources) > 50
    assert check(sources) == []


def planted(module: str, source: str) -> dict[str, str]:
    """A small package with one module that breaks a rule."""
    return {
        "labeltool.__init__": "", "labeltool.tables": "from pathlib import Path", "labeltool.finding": "",
        "labeltool.output.pdf": "import reportlab", "labeltool.records.sqlite": "import sqlite3",
        "labeltool.formula.files": "import os", "labeltool.formula.model": "", module: source,
    }


@pytest.mark.parametrize(
    ("check", "module", "source"),
    [
        (direction_breaches, "labeltool.workflow.a", "from labeltool.cli.main import run"),
        (direction_breaches, "labeltool.output.a", "import labeltool.workflow.printing"),
        (direction_breaches, "labeltool.output.a", "from ..workflow import printing"),
        (direction_breaches, "labeltool.output.a", "from labeltool import workflow"),
        (direction_breaches, "labeltool.readback.a", "from labeltool.records import store"),
        (direction_breaches, "labeltool.rules.a", "from labeltool.output.pdf import write_pdf"),
        (direction_breaches, "labeltool.rules.a", "def late():\n    from labeltool.records import store"),
        (purity_breaches, "labeltool.rules.a", "import os"),
        (purity_breaches, "labeltool.rules.a", "import os.path as p"),
        (purity_breaches, "labeltool.rules.a", "from pathlib import Path"),
        (purity_breaches, "labeltool.rules.a", "from urllib.request import urlopen"),
        (purity_breaches, "labeltool.rules.a", "from labeltool import tables"),
        (purity_breaches, "labeltool.rules.a", "from labeltool.formula.files import read_data"),
        (purity_breaches, "labeltool.rules.a", "import datetime as dt\ndef f():\n    return dt.date.today()"),
        (purity_breaches, "labeltool.rules.a", "def f():\n    return open('x')"),
        (purity_breaches, "labeltool.rules.a", "import random"),
        (purity_breaches, "labeltool.rules.a", "from random import Random\nRandom()"),
        (library_breaches, "labeltool.output.a", "from reportlab.pdfgen import canvas"),
        (library_breaches, "labeltool.records.a", "import sqlite3"),
        (library_breaches, "labeltool.output.a", "import click"),
        (data_breaches, "labeltool.output.a", "from importlib import resources"),
        (data_breaches, "labeltool.output.a", "HERE = __file__"),
    ],
)
def test_a_planted_breach_is_found(check, module, source):
    assert check(planted("labeltool.formula.more", "")) == []
    assert check(planted(module, source)) != []


def test_what_is_allowed_is_not_a_breach():
    lines = ("from random import Random", "from urllib.parse import quote", "from labeltool.formula.model import X",
             "Random(7)")
    sources = planted("labeltool.rules.a", "\n".join(lines))
    for check in (direction_breaches, purity_breaches, library_breaches, data_breaches):
        assert check(sources) == []
