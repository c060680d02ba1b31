"""XLSX files for tests, written by another library than the one that reads them."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Sequence
from typing import Any

from openpyxl import Workbook

ROWS: list[list[Any]] = [["Phase", "Material", "Percent"], ["A", "water", 71.5], ["B", "rosemary-oil", 28.5]]


def xlsx(rows: Sequence[Sequence[Any]] = ROWS, change: Callable[[Workbook], None] | None = None) -> bytes:
    """A workbook of one sheet with these rows, changed before it is saved."""
    book = Workbook()
    for row in rows:
        book.active.append(list(row))
    if change:
        change(book)
    packed = io.BytesIO()
    book.save(packed)
    return packed.getvalue()


def edited(content: bytes, part: str, edit: Callable[[bytes], bytes]) -> bytes:
    """The workbook with one of its parts edited, or made where it has none of that name."""
    packed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            data = old.read(name)
            new.writestr(name, edit(data) if name == part else data)
        if part not in old.namelist():
            new.writestr(part, edit(b""))
    return packed.getvalue()
