"""The names of all findings, read from the source of the package."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

NAME = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*(?:\.[a-z0-9]+(?:-[a-z0-9]+)*)+")
FILE = re.compile(r".*\.(?:toml|csv|xlsx|pdf|png|sqlite|json|html|md|txt|ttf)")
MAKERS = {"Finding", "input_error", "machine_error", "error", "warning", "note"}


def rule_names(package: Path) -> tuple[str, ...]:
    """Every rule name that stands as a literal in the package, sorted.

    A literal counts where it is handed to what makes a finding, and anywhere else where its first word is
    that of a name so found.
    """
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in sorted(package.rglob("*.py"))]
    sure = {name for tree in trees for name in _handed_over(tree)}
    families = {family(name) for name in sure}
    more = {text for tree in trees for text in _literals(tree) if family(text) in families and not FILE.fullmatch(text)}
    return tuple(sorted(sure | more))


def family(name: str) -> str:
    """The first word of a rule name."""
    return name.partition(".")[0]


def _literals(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and NAME.fullmatch(node.value):
            yield node.value


def _handed_over(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _called(node.func) in MAKERS:
            named = [item.value for item in node.keywords if item.arg == "rule"]
            for value in (*node.args[:1], *named):
                yield from _literals(value)


def _called(node: ast.expr) -> str:
    if isinstance(node, ast.Attribute):
        return node.attr
    return node.id if isinstance(node, ast.Name) else ""
