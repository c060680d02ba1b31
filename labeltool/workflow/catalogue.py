"""Stocks and artworks shown: their measures, what fits what, and their pictures."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from labeltool.errors import InputError
from labeltool.output.png import rasterise_page, write_png
from labeltool.stock.model import Stock
from labeltool.typeset.artwork import Artwork, carries
from labeltool.workflow import layouts
from labeltool.workflow.codes import home
from labeltool.workflow.design import Design, design, find_artworks, pictures
from labeltool.workflow.sample import sample_text
from labeltool.workflow.setting import Setting


def workshop_or_none(setting: Setting) -> Path | None:
    """The workshop whose own layouts come first, or None outside one."""
    return home(setting)


def stock_document(item: Stock) -> dict[str, Any]:
    """A stock as a JSON object, in the words of its file."""
    return {
        "name": item.name, "title": item.title, "kind": item.kind, "page": list(item.page_mm),
        "label": list(item.label_mm), "shape": item.shape, "corner": item.corner_mm, "grid": [item.columns, item.rows],
        "origin": list(item.origin_mm), "pitch": list(item.pitch_mm), "gap": item.gap_mm, "safe": item.safe_mm,
        "face": item.face, "print": item.medium, "dpi": item.dpi, "per-page": item.per_page,
    } | ({"marks": item.marks, "overlap": item.overlap_mm} if item.marks != "none" else {})


def artworks(workshop: Path | None, names: Sequence[str] = ()) -> tuple[Artwork, ...]:
    """All artworks, or those named. Raises InputError with every fault."""
    return find_artworks(names or tuple(layouts.artwork_tables(workshop)), workshop)


def artwork_document(item: Artwork) -> dict[str, Any]:
    """An artwork as a JSON object: name, title, the blocks it carries."""
    return {"name": item.name, "title": item.title, "carries": sorted(carries(item))}


def fits(item: Stock, workshop: Path | None) -> tuple[str, ...]:
    """The artworks that hold the sample label on this stock."""
    return tuple(art.name for art in artworks(workshop) if _holds(art, item))


def _holds(art: Artwork, item: Stock) -> bool:
    try:
        design(sample_text(), item, (art,), None)
    except InputError:
        return False
    return True


def picture_stock(item: Stock, target: Path) -> None:
    """Draw a page of the stock, labels as outlines, to a PNG file."""
    from labeltool.output.pictures import stock_page

    write_png(rasterise_page(stock_page(item), 0, 100), target)


def picture_artwork(art: Artwork, stock_name: str, workshop: Path | None, target: Path) -> None:
    """Draw an artwork with sample words on a stock to a PNG file. Raises InputError where it does not fit."""
    from labeltool.output.pictures import label_page

    found: Design = design(sample_text(), layouts.stock(stock_name, workshop), (art,), None)
    write_png(rasterise_page(label_page(found.frames[0], pictures(found.artworks)), 0, 300), target)


