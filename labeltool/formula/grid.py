"""A spreadsheet's cells, from CSV or XLSX alike, and how their places are called."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from labeltool.finding import Where
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
