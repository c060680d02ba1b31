"""Small labels for tests of writing and reading back."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO

from labeltool import tables
from labeltool.output.pdf import Placed, Sheet, write_pdf
from labeltool.stock.places import places
from labeltool.symbol.icons import drawn
from labeltool.symbol.qr import matrix
from labeltool.typeset.frame import Box, Frame, Modules, Outline, Rule, TextRun
from labeltool.workflow.layouts import stock

WEIGHTS = ("regular", "medium", "semibold")
FONTS = {tables.font_sha256(weight): tables.font_bytes(weight) for weight in WEIGHTS}
LINK = "HTTPS://OTTERSHOLT.EXAMPLE/B/{code}"
A4 = "a4-3x8-63.5x33.9"
ROLL = "roll-57x32-203dpi"


def icon(name: str, x_mm: float, y_mm: float, height_mm: float, block: str) -> Outline:
    """A drawn symbol placed on a label."""
    path = tuple(
        (command[0], *((x_mm, y_mm)[index % 2] + number * height_mm for index, number in enumerate(command[1:])))
        for command in drawn(name, 0.05).path
    )
    return Outline(path, block)


def label(code: str = "260503A31", *, name: str = "Oat Milk Hand Lotion", width_mm: float = 63.5,
          height_mm: float = 33.9, dpi: int = 600, symbol: bool = True) -> Frame:
    """A label with a name, a heading run in, broken and turned lines, a rule, a jar and a symbol."""
    qr = matrix(LINK.format(code=code))
    module_mm = 3 * 25.4 / 203 if dpi == 203 else 10 * 25.4 / 600
    x_mm = round((width_mm - 6.0 - 25 * module_mm) / (25.4 / dpi)) * 25.4 / dpi
    y_mm = round(15.0 / (25.4 / dpi)) * 25.4 / dpi
    items = (
        TextRun(3, 6.2, name, "semibold", 10, "name"),
        TextRun(3, 9.8, "Ingredients:", "semibold", 5, "ingredients"),
        TextRun(12.3, 9.8, "Aqua, Glycerin, 1,2-Hexanediol,", "regular", 5, "ingredients"),
        TextRun(3, 12, "Hydroxyethylcellulose, CI 77491/", "regular", 5, "ingredients"),
        TextRun(3, 14.2, "CI 77492", "regular", 5, "ingredients"),
        TextRun(3, 18, "OTTER", "medium", 6, "brand", 0.5),
        TextRun(30, 19, "Turned", "medium", 5, "origin", 0, 90),
        TextRun(14, 29, f"Batch {code}", "semibold", 5, "code"),
        Rule(3, 20, 20, 0.1, "name"),
        icon("open-jar", 4, 22, 6, "opening"),
    )
    boxes = (
        Box("name", 2.8, 2, 42, 5.2), Box("ingredients", 2.8, 7.4, 48, 7.4), Box("brand", 2.8, 15.9, 12, 2.4),
        Box("origin", 28.5, 18.8, 3, 7.5), Box("code", 13.8, 27, 20, 2.6), Box("opening", 3.9, 21.9, 5.6, 6.2),
    )
    modules = Modules(x_mm, y_mm, module_mm, qr.rows, qr.payload, qr.version, qr.level, qr.mask)
    side = 33 * module_mm
    return Frame(
        width_mm, height_mm, "rectangle", 1.5, "back", (*items, modules) if symbol else items,
        (*boxes, Box("qr", x_mm - 4 * module_mm, y_mm - 4 * module_mm, side, side)) if symbol else boxes, 0.93,
        tuple((weight, tables.font_sha256(weight)) for weight in WEIGHTS),
        (("name", name),
         ("ingredients", "Ingredients: Aqua, Glycerin, 1,2-Hexanediol, Hydroxyethylcellulose, CI 77491/CI 77492"),
         ("brand", "OTTER"), ("origin", "Turned"), ("code", f"Batch {code}")), dpi,
    )


def laid(frames: Sequence[Frame], stock_name: str = A4, skip: int = 0) -> tuple[Sheet, ...]:
    """The frames on pages of a built-in stock, in order."""
    item = stock(stock_name, None)
    pages: dict[int, list[Placed]] = {}
    for frame, place in zip(frames, places(item, len(frames), skip=skip), strict=True):
        pages.setdefault(place.page, []).append(Placed(frame, place.x_mm, place.y_mm))
    return tuple(Sheet(*item.page_mm, tuple(found)) for found in pages.values())


def written(sheets: Sequence[Sheet], *, title: str = "Labels", author: str = "Maker", draft: bool = False) -> bytes:
    """The pages as a PDF."""
    target = BytesIO()
    write_pdf(sheets, target, fonts=FONTS, title=title, author=author, draft=draft)
    return target.getvalue()
