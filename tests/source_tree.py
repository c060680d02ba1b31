"""The project's own source read as syntax trees, for the tests about its shape."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = "labeltool"


def package_sources() -> dict[str, str]:
    """The text of every module of the package, by dotted name; a package's own module ends in .__init__."""
    return {
        ".".join(path.relative_to(ROOT).with_suffix("").parts): path.read_text(encoding="utf-8")
        for path in sorted((ROOT / PACKAGE).rglob("*.py"))
    }


def tracked_files() -> list[Path]:
    """The files under version control."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
    return [ROOT / name for name in listed.decode().split("\0") if name and (ROOT / name).is_file()]


@cache
def tree(source: str) -> ast.Module:
    """The syntax tree of a source, parsed once."""
    return ast.parse(source)


def functions(source: str) -> Iterator[tuple[str, int]]:
    """Name and length in lines (decorators aside) of every function."""
    for node in ast.walk(tree(source)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            yield node.name, (node.end_lineno or node.lineno) - node.lineno + 1


@cache
def imports(module: str, source: str) -> frozenset[str]:
    """Dotted names that a module imports: `from a import b` gives a.b; relative ones are made absolute."""
    found: set[str] = set()
    for node in ast.walk(tree(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = _base(module, node)
            found |= {f"{base}.{alias.name}" for alias in node.names}
    return frozenset(found)


def _base(module: str, node: ast.ImportFrom) -> str:
    if not node.level:
        return node.module or ""
    home = module.split(".")[: -node.level]
    return ".".join([*home, node.module] if node.module else home)
