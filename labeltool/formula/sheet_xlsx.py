"""XLSX from a spreadsheet: the first sheet that is not hidden, numbers as shown to 15 digits."""

from __future__ import annotations

import datetime as dt
import io
from decimal import Decimal
from typing import Any

from python_calamine import CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

from labeltool.finding import Where
from labeltool.formula.files import Data
from labeltool.formula.grid import Cell, Grid
from labeltool.formula.report import Report
from labeltool.formula.workbook import Refused, measured


def read_xlsx(data: Data, report: Report) -> Grid | None:
    """The cells of the first visible sheet, or None with the fault reported."""
    where = Where(data.name)
    if not data.content:
        report.error("file.empty", f"{data.name} is empty", where)
        return None
    try:
        rows, others = _read(measured(data.content))
    except Refused as fault:
        size = fault.rule == "file.unpacked"
        report.error(fault.rule, f"{data.name}: {fault}", where, limit="50 MB unpacked" if size else None,
                     do="save it again as .xlsx, without a password" if fault.rule == "sheet.unreadable" else None)
        return None
    if others:
        report.note("sheet.others", f"only the first sheet of {data.name} is read", where)
    if not rows:
        report.error("file.empty", f"the first sheet of {data.name} is empty", where)
        return None
    return Grid(data.name, tuple(enumerate((tuple(_cell(cell) for cell in row) for row in rows), 1)), cells=True)


def _read(content: bytes) -> tuple[list[list[Any]], bool]:
    """The first visible sheet's rows from A1 on, and whether there are other sheets with anything in them."""
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(content))
        names = [sheet.name for sheet in book.sheets_metadata
                 if sheet.visible == SheetVisibleEnum.Visible and sheet.typ == SheetTypeEnum.WorkSheet]
        if not names:
            raise Refused("sheet.unreadable", "it has no sheet to read")
        rows = book.get_sheet_by_name(names[0]).to_python(skip_empty_area=False)
        return rows, any(book.get_sheet_by_name(name).height for name in names[1:])
    except (Refused, KeyboardInterrupt, SystemExit, MemoryError):
        raise
    except BaseException as error:
        # A panic of the library's compiled part is no Exception.
        raise Refused("sheet.unreadable", f"no readable XLSX: {str(error)[:200]}") from None


def _cell(value: Any) -> Cell:
    if isinstance(value, str | bool | dt.date | dt.time | dt.timedelta):
        return value
    return Decimal(f"{value:.15g}")
