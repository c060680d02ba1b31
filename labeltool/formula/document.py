"""A TOML file as a table whose every key knows its line; syntax errors and doubled keys as findings."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

from labeltool.finding import Where
from labeltool.formula.files import Data, read_data, text_of
from labeltool.formula.report import Report
from labeltool.formula.tomllines import KeyPath, TomlLines, toml_lines

_AT = re.compile(r" \(at (?:line ([0-9]+), column [0-9]+|end of document)\)$")
_DIGITS = re.compile("[0-9_]{4000,}")
_COMMA = re.compile(r"=\s*-?[0-9]+,[0-9]+\s*(?:#.*)?$")
_CURLY = re.compile("[\u201c\u201d\u201e\u2018\u2019]")


@dataclass(frozen=True, slots=True)
class Document:
    """Where the keys of one input file stand. `options` name the command-line options that overrule single keys."""

    file: str | None
    lines: TomlLines = field(default_factory=lambda: TomlLines({}))
    options: Mapping[KeyPath, str] = field(default_factory=dict)

    def where(self, path: KeyPath) -> Where:
        """The place of a key."""
        if path in self.options:
            return Where(key=self.options[path])
        return Where(self.file, self.lines.line(path), key=dotted(path) or None)


@dataclass(frozen=True, slots=True)
class TomlFile:
    """A TOML file read: its bytes, its values (floats as Decimal), its lines."""

    data: Data
    values: dict[str, Any]
    document: Document


def dotted(path: KeyPath) -> str:
    """A key path as text: ingredient[3].percent, places counted from 1."""
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part[:60]}"
    return text.removeprefix(".")


def read_toml(path: Path, cwd: Path | None, report: Report) -> TomlFile | None:
    """Read a TOML file, or None with its faults reported."""
    data = read_data(path, cwd, report)
    if data is None:
        return None
    text = text_of(data, report)
    if text is None:
        return None
    lines = toml_lines(text)
    values = _values(text, lines, data.name, report)
    return None if values is None else TomlFile(data, values, Document(data.name, lines))


def _values(text: str, lines: TomlLines, name: str, report: Report) -> dict[str, Any] | None:
    if lines.too_deep is not None:
        report.error("toml.depth", "nested too deeply to be an input file", Where(name, lines.too_deep))
        return None
    for path, first, second in lines.twice:
        report.error("toml.twice", f"{dotted(path)} is given twice: on line {first} and on line {second}",
                     Where(name, second, key=dotted(path)), do="keep one of them")
    if lines.twice:
        return None
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except (ValueError, ArithmeticError, RecursionError) as error:
        _report_syntax(str(error), text, name, report)
        return None


def _report_syntax(message: str, text: str, name: str, report: Report) -> None:
    at = _AT.search(message)
    rows = text.split("\n")
    digits = None if at else _DIGITS.search(text)
    place = text.count("\n", 0, digits.start()) + 1 if digits else None
    line = int(at.group(1)) if at and at.group(1) else len(rows) if at else place
    row = rows[line - 1].rstrip() if line and line <= len(rows) else ""
    what = _AT.sub("", message).rstrip(".")[:200]
    report.error("toml.syntax", f"no valid TOML: {what[:1].lower()}{what[1:]}", Where(name, line), do=_cure(row))


def _cure(row: str) -> str | None:
    if _COMMA.search(row):
        return 'write a point for the decimals, or quotes around the number: "5,32"'
    if _CURLY.search(row):
        return "write straight quotes"
    return None
