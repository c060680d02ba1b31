"""The rows of a spreadsheet as drafts of a formula's rows."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from labeltool.finding import Where
from labeltool.formula.components import known_purpose
from labeltool.formula.drafts import Amount, Draft, Unit, read_amount
from labeltool.formula.grid import COLUMNS, Cell, Grid, blank, header_columns, letters
from labeltool.formula.model import INLINE
from labeltool.formula.quantities import plain, shown
from labeltool.formula.report import Report
from labeltool.formula.values import control_in, fold

_ERROR = re.compile(r"#(?:DIV/0!|N/A|NAME\?|NULL!|NUM!|REF!|VALUE!|SPILL!|CALC!|BLOCKED!|NO RESULT)")


@dataclass(frozen=True, slots=True)
class SheetRows:
    """A sheet read: drafts, and for each whether its percent was written with a % sign."""

    drafts: tuple[Draft, ...]
    signed: tuple[bool, ...]


def read_grid(grid: Grid, report: Report) -> SheetRows | None:
    """The rows of a sheet, or None with the fault of its first row reported."""
    rows = grid.filled()
    first, header = next(rows, (1, ()))
    columns = _columns(grid, first, header, report)
    if columns is None:
        return None
    drafts: list[Draft] = []
    signed: list[bool] = []
    unnamed: set[int] = set()
    for line, (row, cells) in enumerate(rows, 1):
        reader = _RowReader(grid, row, cells, columns, report)
        drafts.append(reader.draft(line, header))
        signed.append("%" in str(reader.value("percent") or ""))
        unnamed.update(reader.unnamed(header))
    if unnamed:
        names = ", ".join(letters(at) for at in sorted(unnamed)[:20])
        report.note("sheet.ignored", f"columns without a name are not read: {names}", grid.where(first))
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
    _without_an_empty_amount(grid, row, columns, report)
    if ("percent" in columns) == ("grams" in columns):
        found = "columns percent and grams" if "percent" in columns else "no column is named percent or grams"
        report.error("formula.mixed" if "percent" in columns else "sheet.header", found, grid.where(row),
                     limit="one of percent and grams")
    return None if report.failed_since(count) else columns


def _without_an_empty_amount(grid: Grid, row: int, columns: dict[str, int], report: Report) -> None:
    """Where percent and grams both have a column and one holds nothing below its name, that one is left out."""
    amounts = [name for name in ("percent", "grams") if name in columns]
    empty = [name for name in amounts if not any(
        at > row and columns[name] < len(cells) and not blank(cells[columns[name]]) for at, cells in grid.filled())]
    if len(amounts) == 2 and len(empty) == 1:
        report.note("sheet.ignored", f"the column {empty[0]} is empty: not read", grid.where(row, columns[empty[0]]))
        del columns[empty[0]]


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

    def sound(self, column: str) -> Cell | None:
        """The cell of a column; an error of the spreadsheet in it is reported, and None."""
        cell = self.value(column)
        if not isinstance(cell, str) or not _ERROR.fullmatch(cell.strip()):
            return cell
        self.report.error("sheet.error", f"{column} holds {cell.strip()}", self.where(column), limit="text or a number",
                          do="put its formula right in the spreadsheet, and save again")
        return None

    def text(self, column: str) -> str | None:
        cell = self.sound(column)
        if cell is None or isinstance(cell, str | Decimal):
            text = fold(str(plain(cell) if isinstance(cell, Decimal) else cell or ""))
            if odd := control_in(text):
                self.report.error("value.control", f"{column} holds the control character {odd}", self.where(column))
                return None
            return text or None
        self.report.error("sheet.cell", f"{column} is {_kind(cell)}", self.where(column), limit="text")
        return None

    def unnamed(self, header: tuple[Cell, ...]) -> Iterator[int]:
        """The columns without a name in which this row holds something."""
        return (at for at, cell in enumerate(self.cells)
                if not blank(cell) and (at >= len(header) or blank(header[at])))

    def draft(self, line: int, header: tuple[Cell, ...]) -> Draft:
        count = self.report.count
        if not self.grid.cells:
            self._no_cells_beyond(header)
        material, inci = self.text("material"), self.text("inci")
        unit: Unit = "percent" if "percent" in self.columns else "grams"
        amount = self._amount(unit)
        if not self.report.failed_since(count):
            self._substance(material, inci, amount)
        phase, why = self.text("phase") or "", self.text("purpose")
        purpose = known_purpose(why, self.where("purpose"), self.report) if why else None
        sound = amount if not self.report.failed_since(count) else None
        return Draft(line, self.where(), sound, unit, material, inci, phase, None, purpose)

    def _no_cells_beyond(self, header: tuple[Cell, ...]) -> None:
        """In CSV, more cells than names come from a decimal comma that parts a cell."""
        named = max(at for at, cell in enumerate(header, 1) if not blank(cell))
        filled = max(at for at, cell in enumerate(self.cells, 1) if not blank(cell))
        if filled > named:
            self.report.error("sheet.cells", f"{filled} cells, and {named} columns are named", self.where(),
                              do="a number with a decimal comma needs quotes here, or semicolons between the cells")

    def _substance(self, material: str | None, inci: str | None, amount: Amount | None) -> None:
        if material and inci:
            self.report.error("row.both", "the row gives material and inci", self.where("inci"), limit="one of them")
        elif material and material.startswith(INLINE):
            self.report.error("row.nothing", f"{shown(material)} is no material's key", self.where("material"),
                              do="write the name into a column inci")
        elif not material and not inci:
            total = amount is not None and amount.kind == "amount" and amount.value in (1, 100)
            self.report.error("row.nothing", "the row names neither material nor inci", self.where(),
                              do="delete the row, if it is the sum" if total else "name one, or delete the row")

    def _amount(self, unit: Unit) -> Amount | None:
        count = self.report.count
        cell = self.sound(unit)
        if self.report.failed_since(count):
            return None
        found, do = _read(cell, unit)
        if isinstance(found, str):
            rule = "sheet.cell" if isinstance(cell, bool | dt.date | dt.time | dt.timedelta) else "row.amount"
            limit = 'a number, "qs", or "to pH 0.3" (up to how much)' if unit == "percent" else "a number of grams"
            self.report.error(rule, f"{unit}: {found}", self.where(unit), limit=limit, do=do)
            return None
        return found


def _read(cell: Cell | None, unit: Unit) -> tuple[Amount | str, str | None]:
    """The amount in a cell; or what is wrong, and what to do."""
    if cell is None:
        return "the cell is empty", None
    if isinstance(cell, bool):
        return "true or false is no amount", None
    if isinstance(cell, dt.date | dt.time | dt.timedelta):
        return _kind(cell), "the spreadsheet took a number for a date: format the cell as a number, and write it again"
    found = read_amount(cell, unit)
    if isinstance(found, Amount) and found.kind == "to-ph" and not (found.up_to and 0 < found.up_to <= 100):
        return 'a "to pH" row says up to how much', None
    return found, None


def _kind(cell: Cell) -> str:
    if isinstance(cell, bool):
        return "true or false"
    return f"a date or time ({shown(cell)})" if not isinstance(cell, str | Decimal) else shown(cell)
