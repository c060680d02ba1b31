"""A spreadsheet's rows, from CSV or XLSX alike, as drafts of a formula's rows."""

from __future__ import annotations

import datetime as dt
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from labeltool.finding import Where
from labeltool.formula.components import known_purpose
from labeltool.formula.document import Document
from labeltool.formula.drafts import Amount, Draft, Unit, read_amount
from labeltool.formula.quantities import plain, shown
from labeltool.formula.report import Report
from labeltool.formula.table import Table
from labeltool.formula.values import fold

COLUMNS = ("phase", "material", "inci", "percent", "grams", "purpose")

Cell = str | Decimal | bool | dt.date | dt.time | dt.timedelta


@dataclass(frozen=True, slots=True)
class Grid:
    """Cells by row: (line or sheet row from 1, cells). `cells`: places are named B7, not by line."""

    file: str
    rows: tuple[tuple[int, tuple[Cell, ...]], ...]
    cells: bool = False

    def where(self, row: int, column: int | None = None) -> Where:
        """The place of a row, or of one of its cells (columns from 0)."""
        if self.cells:
            return Where(self.file, row=row, cell=None if column is None else f"{letters(column)}{row}")
        return Where(self.file, line=row, row=row)

    def filled(self) -> Iterator[tuple[int, tuple[Cell, ...]]]:
        """The rows that hold anything."""
        return ((row, cells) for row, cells in self.rows if not all(blank(cell) for cell in cells))


@dataclass(frozen=True, slots=True)
class SheetRows:
    """A sheet read: drafts (None: faulty), and for each whether its percent was written with a % sign."""

    drafts: tuple[Draft | None, ...]
    signed: tuple[bool, ...]


def letters(column: int) -> str:
    """The letters of a spreadsheet column counted from 0: A, B, … Z, AA."""
    text, left = "", column + 1
    while left:
        left, digit = divmod(left - 1, 26)
        text = chr(65 + digit) + text
    return text


def blank(cell: Cell) -> bool:
    """Whether a cell holds nothing to see."""
    return isinstance(cell, str) and not cell.strip()


def header_columns(cells: tuple[Cell, ...]) -> dict[str, int]:
    """The place of each known column name in a header row; the first where one stands twice."""
    found: dict[str, int] = {}
    for at, cell in enumerate(cells):
        name = fold(cell).casefold() if isinstance(cell, str) else ""
        if name in COLUMNS:
            found.setdefault(name, at)
    return found


def read_grid(grid: Grid, report: Report) -> SheetRows | None:
    """The rows of a sheet, or None with the fault of its first row reported."""
    rows = grid.filled()
    row, header = next(rows, (1, ()))
    columns = _columns(grid, row, header, report)
    if columns is None:
        return None
    drafts: list[Draft | None] = []
    signed: list[bool] = []
    for line, (row, cells) in enumerate(rows, 1):
        reader = _RowReader(grid, row, cells, columns, report)
        drafts.append(reader.draft(line, len(header)))
        signed.append("%" in str(reader.value("percent") or ""))
    if not drafts:
        report.error("formula.rows", f"{grid.file} has no rows below its first", Where(grid.file),
                     do="write a row for each material")
    return SheetRows(tuple(drafts), tuple(signed))


def _columns(grid: Grid, row: int, header: tuple[Cell, ...], report: Report) -> dict[str, int] | None:
    columns = header_columns(header)
    limit = ", ".join(COLUMNS)
    count = report.count
    if not columns:
        report.error("sheet.header", "the first row names no known column", grid.where(row), limit=limit)
        return None
    _other_columns(grid, row, header, columns, report)
    if "material" not in columns and "inci" not in columns:
        report.error("sheet.header", "no column is named material or inci", grid.where(row), limit=limit)
    if ("percent" in columns) == ("grams" in columns):
        found = "columns percent and grams" if "percent" in columns else "no column is named percent or grams"
        report.error("formula.mixed" if "percent" in columns else "sheet.header", found, grid.where(row),
                     limit="one of percent and grams")
    return None if report.failed_since(count) else columns


def _other_columns(grid: Grid, row: int, header: tuple[Cell, ...], columns: Mapping[str, int], report: Report) -> None:
    others: list[str] = []
    for at, cell in enumerate(header):
        name = fold(cell) if isinstance(cell, str) else ""
        if name.casefold() in columns and columns[name.casefold()] != at:
            report.error("sheet.twice", f"two columns are named {name}", grid.where(row, at), do="rename one of them")
        elif name.casefold() not in columns and not blank(cell):
            others.append(shown(name or str(cell)))
    if others:
        near = next((do for name in others[:20] if (do := report.did_you_mean(name.strip("'\""), COLUMNS))), None)
        report.note("sheet.ignored", f"columns not read: {', '.join(others[:20])}", grid.where(row),
                    limit=", ".join(COLUMNS), do=near)


@dataclass(frozen=True, slots=True)
class _RowReader:
    grid: Grid
    row: int
    cells: tuple[Cell, ...]
    columns: Mapping[str, int]
    report: Report

    def where(self, column: str | None = None) -> Where:
        return self.grid.where(self.row, self.columns[column] if column else None)

    def value(self, column: str) -> Cell | None:
        """The cell of a column; None where the sheet or the row has none, or it is blank."""
        at = self.columns.get(column)
        cell = self.cells[at] if at is not None and at < len(self.cells) else ""
        return None if blank(cell) else cell

    def text(self, column: str) -> str | None:
        cell = self.value(column)
        if cell is None or isinstance(cell, str | Decimal):
            text = fold(str(plain(cell) if isinstance(cell, Decimal) else cell or ""))
            if not any(unicodedata.category(mark) in ("Cc", "Cs") for mark in text):
                return text or None
            self.report.error("value.control", f"{column} holds a control character", self.where(column))
            return None
        self.report.error("sheet.cell", f"{column} is {_kind(cell)}", self.where(column), limit="text")
        return None

    def draft(self, line: int, width: int) -> Draft | None:
        count = self.report.count
        self._no_cells_beyond(width)
        material, inci = self.text("material"), self.text("inci")
        unit: Unit = "percent" if "percent" in self.columns else "grams"
        amount = self._amount(unit)
        if (material is None) == (inci is None) and not self.report.failed_since(count):
            self._substance(material is not None, amount)
        phase, why = self.text("phase") or "", self.text("purpose")
        if self.report.failed_since(count) or amount is None:
            return None
        return Draft(line, self.where(), amount, unit, material, inci, phase, None,
                     known_purpose(why, self._as_table()) if why else None)

    def _as_table(self) -> Table:
        return Table({}, Document(self.grid.file), self.report, ())

    def _no_cells_beyond(self, width: int) -> None:
        beyond = [at for at in range(width, len(self.cells)) if not blank(self.cells[at])]
        if beyond:
            self.report.error("sheet.cells", f"{len(self.cells)} cells, and {width} columns are named",
                              self.grid.where(self.row, beyond[0]),
                              do="a number with a decimal comma needs quotes here, or semicolons between the cells")

    def _substance(self, both: bool, amount: Amount | None) -> None:
        if both:
            self.report.error("row.both", "the row gives material and inci", self.where("inci"), limit="one of them")
            return
        total = amount is not None and amount.kind == "amount" and amount.value in (1, 100)
        self.report.error("row.nothing", "the row names neither material nor inci", self.where(),
                          do="delete the row, if it is the sum" if total else "name one, or delete the row")

    def _amount(self, unit: Unit) -> Amount | None:
        cell = self.value(unit)
        limit = 'a number, "qs", or "to pH 0.3" (up to how much)' if unit == "percent" else "a number of grams"
        if cell is None:
            self.report.error("row.amount", f"{unit} is empty", self.where(unit), limit=limit)
            return None
        if isinstance(cell, bool | dt.date | dt.time | dt.timedelta):
            date = "the spreadsheet took a number for a date: format the cell as a number, and write it again"
            do = None if isinstance(cell, bool) else date
            self.report.error("sheet.cell", f"{unit} is {_kind(cell)}", self.where(unit), limit=limit, do=do)
            return None
        found = read_amount(cell, unit)
        if isinstance(found, Amount) and found.kind == "to-ph" and not (found.up_to and 0 < found.up_to <= 100):
            found = 'a "to pH" row says up to how much'
        if isinstance(found, str):
            self.report.error("row.amount", f"{unit}: {found}", self.where(unit), limit=limit)
            return None
        return found


def _kind(cell: Cell) -> str:
    if isinstance(cell, bool):
        return "true or false"
    return f"a date or time ({shown(cell)})" if not isinstance(cell, str | Decimal) else shown(cell)
