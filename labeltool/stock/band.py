"""Paper bands: labels cut from the sheet, as long as the girth of what they go round and the overlap."""

from __future__ import annotations

from dataclasses import replace

from labeltool.finding import Finding
from labeltool.stock.model import Stock

MARK_MM, HAIR_MM = 4.0, 0.1
CUT = "cut"


def banded(stock: Stock, girth_mm: float | None) -> Stock | Finding:
    """The stock with labels of the band's length; any other stock, and a band for an unknown girth, as it is.

    A Finding says why the band is longer than the paper that the stock has for it.
    """
    if stock.marks != CUT or girth_mm is None:
        return stock
    length = round(girth_mm + stock.overlap_mm, 2)
    most, height = stock.label_mm
    if length > most + 1e-9:
        return Finding(
            "stock.band", "error",
            f"the band is {length:g} mm long: a girth of {girth_mm:.1f} mm and an overlap of {stock.overlap_mm:g} mm",
            limit=f"{most:g} mm, the longest that {stock.name} has", do="take longer paper, or a shorter overlap",
        )
    return replace(stock, label_mm=(length, height))


def marks_of(width_mm: float, height_mm: float) -> tuple[tuple[float, float, float, float], ...]:
    """The cut marks of a label: at each corner two hairlines along its edges, (x, y, width, height) in mm."""
    right, bottom = width_mm - MARK_MM, height_mm - MARK_MM
    across = [(x, y, MARK_MM, HAIR_MM) for x in (0.0, right) for y in (0.0, height_mm - HAIR_MM)]
    down = [(x, y, HAIR_MM, MARK_MM) for x in (0.0, width_mm - HAIR_MM) for y in (0.0, bottom)]
    return (*across, *down)
