"""The weighing sheet as CSV: written with empty masses, filled in by hand or spreadsheet, and read back."""

from __future__ import annotations

import csv
import datetime as dt
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from types import SimpleNamespace
from typing import Any

from labeltool.batch.model import PlanRow, Weighing
from labeltool.batch.typed import parse_weight
from labeltool.finding import Finding, Findings, Where
from labeltool.formula.quantities import parse_date, shown

COLUMNS = ("line", "material", "grams", "lot", "expires", "note")
TOLD = ("phase", "planned")  # written for whoever weighs, and not read back
WRITTEN = ("line", "phase", "material", "planned", "grams", "lot", "expires", "note")
_GUARDED = ("=", "+", "-", "@", "\t", "\r", "'")
_PLANNED = re.compile(r"planned [0-9.]+ g(, phase .*)?|to pH(, at most [0-9.]+ g)?(, phase .*)?")


@dataclass(frozen=True, slots=True)
class SheetRow:
    """A filled row of the sheet and its place."""

    weighing: Weighing
    where: Where


def write_sheet(plan: Iterable[PlanRow]) -> str:
    """The sheet of a plan: one row a line with its phase and planned mass, weighed masses and lots empty."""
    lines: list[str] = []
    writer = csv.writer(SimpleNamespace(write=lines.append), lineterminator="\n")
    writer.writerow(WRITTEN)
    for row in plan:
        planned = "" if row.grams is None else f"{row.grams:f}"
        writer.writerow([row.line, guarded(row.phase), guarded(row.material), planned, "", "", "", _titrated(row)])
    return "".join(lines)


def _titrated(row: PlanRow) -> str:
    if row.kind != "to-ph":
        return ""
    return "to pH" + (f", at most {row.most_g:f} g" if row.most_g is not None else "")


def guarded(text: str) -> str:
    """Text that no spreadsheet takes for a formula: an apostrophe before = + - @ and the like."""
    return f"'{text}" if text.startswith(_GUARDED) else text


def unguarded(text: str) -> str:
    """The text that `guarded` was given."""
    return text[1:] if text.startswith("'") and text[1:].startswith(_GUARDED) else text


def read_sheet(text: str, file: str | None = None) -> tuple[tuple[SheetRow, ...], Findings]:
    """The filled rows of a sheet, and everything wrong with it. Rows without a mass are not weighed yet."""
    try:
        table = list(csv.reader(_lines(text), delimiter=_delimiter(text)))
    except csv.Error as error:
        return (), Findings((_fault("weigh.syntax", f"the sheet cannot be read: {error}", Where(file=file)),))
    rows = [(number, cells) for number, cells in enumerate(table, 1) if any(cell.strip() for cell in cells)]
    if not rows:
        return (), Findings((_fault("weigh.empty", "the sheet is empty", Where(file=file), ", ".join(COLUMNS)),))
    (first, header), *body = rows
    columns, found = _columns(header, Where(file=file, row=first))
    if any(item.level == "error" for item in found):
        return (), Findings(tuple(found))
    filled = []
    for number, cells in body:
        weighing, faults = _row(cells, columns, Where(file=file, row=number))
        found += faults
        if weighing is not None:
            filled.append(SheetRow(weighing, Where(file=file, row=number)))
    return tuple(filled), Findings(tuple(found))


def _lines(text: str) -> list[str]:
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    return [f"{line}\n" for line in plain.split("\n")]


def _delimiter(text: str) -> str:
    first = next((line for line in text.splitlines() if line.strip()), "")
    return max(",;\t", key=first.count)


def _fault(rule: str, text: str, where: Where, limit: str | None = None) -> Finding:
    return Finding(rule, "error", text, where, limit=limit, do="correct that cell of the sheet")


def _columns(header: Sequence[str], where: Where) -> tuple[dict[str, int], list[Finding]]:
    names = [cell.strip().lower() for cell in header]
    places = {name: names.index(name) for name in COLUMNS if name in names}
    twice = [name for name in places if names.count(name) > 1]
    found = [_fault("weigh.column", f"the column {name} stands there twice", where) for name in twice]
    other = [name for name in names if name and name not in (*COLUMNS, *TOLD)]
    if other:
        text = f"columns that are not read: {shown(', '.join(other))}"
        found.append(Finding("weigh.column", "note", text, where, limit=", ".join(COLUMNS)))
    if "grams" not in places or not places.keys() & {"line", "material"}:
        text = "the first row must name the columns grams, and line or material"
        found.append(_fault("weigh.column", text, where, ", ".join(COLUMNS)))
    return places, found


def _row(cells: Sequence[str], columns: dict[str, int], where: Where) -> tuple[Weighing | None, list[Finding]]:
    """The row's weighing; None where it is not weighed yet or something is wrong with it."""
    given = {name: _cell(cells, place) for name, place in columns.items()}
    if not given["grams"]:
        return None, _unweighed(given, where)
    read: dict[str, Any] = {}
    found = []
    for name, parse in _PARSERS.items():
        value = parse(given.get(name, ""))
        if isinstance(value, _Wrong):
            found.append(_fault("weigh.cell", value.text, replace(where, cell=f"column {name}")))
        else:
            read[name] = value
    if not found and not read["material"] and read["line"] is None:
        found.append(_fault("weigh.line", "the row names neither line nor material", where))
    return (None if found else Weighing(**read)), found


def _cell(cells: Sequence[str], place: int) -> str:
    return unguarded(cells[place].strip()) if place < len(cells) else ""


def _unweighed(given: dict[str, str], where: Where) -> list[Finding]:
    if not given.get("lot"):
        return []
    text = f"the row names the lot {shown(given['lot'])} and no mass: it is not recorded"
    return [Finding("weigh.grams", "warning", text, where, do="give the mass, 0 where none went in")]


@dataclass(frozen=True, slots=True)
class _Wrong:
    text: str


def _grams(text: str) -> Decimal | _Wrong:
    found = parse_weight(text)
    return _Wrong(found) if isinstance(found, str) else found


def _line(text: str) -> int | _Wrong | None:
    if not text:
        return None
    if text.isascii() and text.isdigit() and len(text) < 7 and int(text):
        return int(text)
    return _Wrong(f"{shown(text)} is no line number")


def _expires(text: str) -> dt.date | _Wrong | None:
    if not text:
        return None
    found = parse_date(text)
    return _Wrong(found) if isinstance(found, str) else found


def _note(text: str) -> str:
    return "" if _PLANNED.fullmatch(text) else text


_PARSERS: dict[str, Callable[[str], Any]] = {
    "grams": _grams, "line": _line, "material": str, "lot": lambda text: text or None, "expires": _expires,
    "note": _note,
}


def materials_filled(rows: Iterable[SheetRow], plan: Sequence[PlanRow]) -> Iterator[SheetRow]:
    """The rows with the plan's material where only the line was given."""
    by_line = {row.line: row.material for row in plan}
    for item in rows:
        line = item.weighing.line
        if item.weighing.material or line is None:
            yield item
        else:
            yield replace(item, weighing=replace(item.weighing, material=by_line.get(line, "")))
