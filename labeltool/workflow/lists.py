"""`print --from LIST.csv`: a row a print (columns formula or code, made, size, pack, label, count)."""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

from labeltool.errors import InputError
from labeltool.finding import Finding, Where
from labeltool.formula.quantities import parse_date, parse_size
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.csvtext import read_csv_text
from labeltool.workflow.place import MOST

COLUMNS = ("formula", "made", "size", "count", "code", "pack", "label")
NAMING = ("formula", "code")


@dataclass(frozen=True, slots=True)
class ListRow:
    """One row; None where its cell is empty. `what` is a formula, which opens a batch, or a batch's code."""

    what: str
    made: dt.date | None
    size_g: Decimal | None
    count: int | None
    where: Where
    pack: str | None = None
    labels: tuple[str, ...] = ()

    def applied(self, call: PrintCall) -> PrintCall:
        """The call's options with this row's in front."""
        wish = replace(call.wish, count=self.count or call.wish.count)
        return replace(call, made=self.made or call.made, size_g=self.size_g or call.size_g, wish=wish,
                       pack=self.pack or call.pack, labels=self.labels or call.labels)


def read_list(path: Path) -> tuple[ListRow, ...]:
    """The rows of the file. Raises InputError with every fault of every row."""
    text = read_csv_text(path, path.name)
    dialect = max(",;\t", key=(text.splitlines() or [""])[0].count)
    reader = csv.DictReader(io.StringIO(text), delimiter=dialect, skipinitialspace=True)
    reader.fieldnames = [name.strip().lower() for name in reader.fieldnames or ()]
    faults = list(_header(reader.fieldnames, path))
    rows = []
    for cells in reader if not faults else ():
        row = _row(cells, path, reader.line_num, faults)
        rows.append(row)
    if not rows and not faults:
        faults.append(Finding("list.empty", "error", f"{path.name} has no rows", Where(str(path))))
    if faults:
        raise InputError(faults)
    return tuple(row for row in rows if row is not None)


def _header(names: list[str], path: Path) -> Iterator[Finding]:
    where = Where(str(path), 1)
    if not set(NAMING) & set(names):
        yield _fault("list.columns", f"{path.name} has no column formula and no column code", where)
    for name in names:
        if name not in COLUMNS:
            yield _fault("list.columns", f"column {name!r} is not known", where)
        if names.count(name) > 1:
            yield _fault("list.columns", f"column {name!r} stands twice", where)


def _row(cells: Mapping[str, str], path: Path, line: int, faults: list[Finding]) -> ListRow | None:
    where = Where(str(path), line)
    got = {name: (cells.get(name) or "").strip() for name in COLUMNS}
    before = len(faults)
    if cells.get(None) or bool(got["formula"]) == bool(got["code"]):  # type: ignore[call-overload]
        faults.append(_fault("list.row", "a row needs a formula or a code, and no more cells than columns", where))
    if got["code"] and got["size"]:
        faults.append(_fault("list.row", "a code is of a batch whose size is known: leave size empty", where))
    made = parse_date(got["made"]) if got["made"] else None
    size = parse_size(got["size"]) if got["size"] else None
    for value in (made, size):
        if isinstance(value, str):
            faults.append(_fault("list.value", value, where))
    count = _count(got["count"], where, faults)
    if len(faults) > before or isinstance(made, str) or isinstance(size, str):
        return None
    labels = (got["label"],) if got["label"] else ()
    return ListRow(got["formula"] or got["code"], made, size, count, where, got["pack"] or None, labels)


def _count(text: str, where: Where, faults: list[Finding]) -> int | None:
    if not text:
        return None
    if text.isascii() and text.isdigit() and len(text) < 9 and 1 <= int(text) <= MOST:
        return int(text)
    faults.append(_fault("list.value", f"count {text!r} is no number of labels", where))
    return None


def _fault(rule: str, text: str, where: Where) -> Finding:
    return Finding(rule, "error", text, where, limit=f"columns {', '.join(COLUMNS)}")
