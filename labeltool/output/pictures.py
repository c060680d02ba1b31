"""Pictures of stocks and single labels, as PDFs to rasterise: fine lines for the label's edge and safe edge."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from io import BytesIO

from labeltool import tables
from labeltool.output.model import Placed, Sheet
from labeltool.output.pdf import write_pdf
from labeltool.stock.model import Shape, Stock
from labeltool.stock.places import places
from labeltool.symbol.pen import Path, Pen
from labeltool.typeset.frame import Frame, Outline, TextRun

EDGE_MM, SAFE_MM, AIR_MM = 0.25, 0.1, 3.0


def stock_page(stock: Stock) -> bytes:
    """One page of a stock, in its true size: every label's edge, safe edge and number."""
    width, height = stock.label_mm
    sheet = Sheet(*stock.page_mm, tuple(
        Placed(_numbered(stock, place.place), place.x_mm, place.y_mm) for place in places(stock, stock.per_page)
    ))
    edge = Frame(width, height, stock.shape, stock.corner_mm, "stock", _edges(stock), (), 0, (), (), stock.dpi)
    edges = tuple(Placed(edge, item.x_mm, item.y_mm) for item in sheet.placed)
    return _written(Sheet(sheet.width_mm, sheet.height_mm, edges + sheet.placed), stock.title)


def edge_page(stock: Stock) -> bytes:
    """One page of a stock with its labels' edges and nothing else."""
    width, height = stock.label_mm
    ring = (_ring(stock.shape, width, height, stock.corner_mm, 0, SAFE_MM),)
    edge = Frame(width, height, stock.shape, stock.corner_mm, "stock", ring, (), 0, (), (), stock.dpi)
    placed = tuple(Placed(edge, item.x_mm, item.y_mm) for item in places(stock, stock.per_page))
    return _written(Sheet(*stock.page_mm, placed), stock.title)


def label_page(frame: Frame, pictures: Mapping[str, bytes] | None = None) -> bytes:
    """One label with its edge, on a page 3 mm larger on all sides. The frame's fonts are the shipped ones; `pictures`
    by SHA-256."""
    ring = _ring(frame.shape, frame.width_mm, frame.height_mm, frame.corner_mm, 0, EDGE_MM / 2)
    edge = replace(frame, artwork="edge", items=(ring,), boxes=(), fonts=(), words=())
    placed = (Placed(edge, AIR_MM, AIR_MM), Placed(frame, AIR_MM, AIR_MM))
    return _written(Sheet(frame.width_mm + 2 * AIR_MM, frame.height_mm + 2 * AIR_MM, placed), frame.artwork, pictures)


def _written(sheet: Sheet, title: str, pictures: Mapping[str, bytes] | None = None) -> bytes:
    target = BytesIO()
    fonts = {tables.font_sha256(weight): tables.font_bytes(weight) for weight in tables.FONT_FILES}
    write_pdf([sheet], target, fonts={**fonts, **(pictures or {})}, title=title, author="")
    return target.getvalue()


def _numbered(stock: Stock, place: int) -> Frame:
    width, height = stock.label_mm
    size_mm = min(5.0, height / 2.5)
    run = TextRun(width / 2 - size_mm * 0.25 * len(str(place)), height / 2 + size_mm * 0.34, str(place), "regular",
                  size_mm * 72 / 25.4, "place")
    fonts = (("regular", tables.font_sha256("regular")),)
    return Frame(width, height, stock.shape, stock.corner_mm, "place", (run,), (), 0, fonts,
                 (("place", str(place)),), stock.dpi)


def _edges(stock: Stock) -> tuple[Outline, ...]:
    width, height = stock.label_mm
    return (
        _ring(stock.shape, width, height, stock.corner_mm, 0, EDGE_MM / 2),
        _ring(stock.shape, width, height, stock.corner_mm, stock.safe_mm, SAFE_MM),
    )


def _ring(shape: Shape, width: float, height: float, corner: float, inset: float, thickness: float) -> Outline:
    """A closed line of a thickness along the label's edge, moved inwards."""
    outer = _edge(shape, width, height, corner, inset)
    return Outline(outer + _edge(shape, width, height, corner, inset + thickness), "edge")


def _edge(shape: Shape, width: float, height: float, corner: float, inset: float) -> Path:
    if shape != "rectangle":
        return Pen().arc((width / 2, height / 2), (width / 2 - inset, height / 2 - inset), 0, 360).close().path()
    turn = max(0.0, corner - inset)
    right, foot = width - inset, height - inset
    if not turn:
        return Pen().polygon([(inset, inset), (right, inset), (right, foot), (inset, foot)]).path()
    pen = Pen().arc((right - turn, inset + turn), (turn, turn), 270, 360)
    pen.arc((right - turn, foot - turn), (turn, turn), 0, 90).arc((inset + turn, foot - turn), (turn, turn), 90, 180)
    return pen.arc((inset + turn, inset + turn), (turn, turn), 180, 270).close().path()
