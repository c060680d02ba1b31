"""CSV from a spreadsheet: cells parted by comma, semicolon or tab, as the first row tells."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from labeltool.finding import Where
from labeltool.formula.files import Data, text_of
from labeltool.formula.grid import Cell, Grid, header_columns
from labeltool.formula.report import Report

DELIMITERS = (",", ";", "\t")


def read_csv(data: Data, report: Report) -> Grid | None:
    """The cells of a CSV file with the line of each row, or None with the fault reported."""
    text = text_of(data, report)
    if text is None:
        return None
    if not text.strip():
        report.error("file.empty", f"{data.name} is empty", Where(data.name))
        return None
    rows: list[tuple[int, tuple[Cell, ...]]] = []
    line = 1
    try:
        for line, cells in _rows(text, delimiter_of(text)):
            rows.append((line, tuple(cells)))
    except csv.Error as error:
        last = rows[-1][0] + 1 if rows else line
        report.error("sheet.syntax", f"no valid CSV in the row that begins here: {error}", Where(data.name, last),
                     do="close every quote; write a quote inside quotes twice")
        return None
    return Grid(data.name, tuple(rows))


def delimiter_of(text: str) -> str:
    """What parts the cells: the mark that makes most known column names of the first row that is not blank."""
    first = next(line for line in io.StringIO(text, newline="") if line.strip())
    return max(DELIMITERS, key=lambda mark: _known(first, mark))


def _known(line: str, delimiter: str) -> int:
    try:
        cells = next(csv.reader([line], delimiter=delimiter), [])
    except csv.Error:
        return 0
    return len(header_columns(tuple(cells)))


def _rows(text: str, delimiter: str) -> Iterator[tuple[int, list[str]]]:
    """Each record with the line on which it begins."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    line = 1
    for cells in reader:
        yield line, cells
        line = reader.line_num + 1
