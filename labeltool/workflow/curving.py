"""Symbols that go round a cylinder: of which diameter, and whether phones can read them there."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from labeltool import tables
from labeltool.coding.link import shorter
from labeltool.finding import Finding
from labeltool.formula.model import Container
from labeltool.stock.model import Stock
from labeltool.stock.onto import ELSEWHERE
from labeltool.symbol.curve import least_diameter_mm, widest_mm
from labeltool.typeset.frame import Frame, Modules

KEY = "diameters"  # in a print's extra


def diameter_of(container: Container | None, stock: Stock, artwork: str) -> float | None:
    """The diameter that a label goes round, mm; None for a flat place, lid or bottom, and where it is not known."""
    if container is None or container.shape != "cylinder" or container.diameter_mm is None:
        return None
    return None if stock.shape == "round" or artwork in ELSEWHERE else float(container.diameter_mm)


def widest_symbol_mm(container: Container | None, stock: Stock, artwork: str, version: int) -> float | None:
    """How wide the symbol may be on this container; None where nothing limits it."""
    diameter = diameter_of(container, stock, artwork)
    return None if diameter is None else widest_mm(version, diameter, tables.toml("symbol", "curved"))


def curve(frames: Sequence[Frame], diameters: Sequence[float | None]) -> tuple[Finding, ...]:
    """A warning for each symbol that is wider on its cylinder than phones read."""
    pairs = zip(frames, diameters, strict=True)
    return tuple(item for frame, diameter in pairs if diameter for item in _of(frame, diameter))


def _of(frame: Frame, diameter_mm: float) -> Iterator[Finding]:
    table = tables.toml("symbol", "curved")
    for item in frame.symbols:
        width = len(item.rows) * item.module_mm
        widest = widest_mm(item.version, diameter_mm, table)
        if width > widest + 1e-6:
            least = least_diameter_mm(item.version, width, table)
            yield Finding(
                "container.curve", "warning",
                f"the symbol is {width:.1f} mm wide round a container of {diameter_mm:g} mm: "
                "its sides turn away, and many phones will not read it",
                limit=f"{widest:.1f} mm for version {item.version} here; this symbol from {math.ceil(least)} mm on",
                confidence="practice", do=_cure(item),
            )


def _cure(item: Modules) -> str:
    smaller = shorter(item.payload, item.version)
    place = "put the code on a flat place (box, lid, bottom), or on a larger container"
    return f"{place}; {smaller}" if smaller else place
