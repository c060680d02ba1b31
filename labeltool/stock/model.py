"""Stock: what labels are made of. Lengths in mm, origin at the page's top left, y downwards."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

LATER = {"left-out": True}  # the record holds these only where they say something
Shape = Literal["rectangle", "round", "oval"]
Medium = Literal["laser", "inkjet", "thermal-transfer", "direct-thermal"]


@dataclass(frozen=True, slots=True)
class Stock:
    """One label stock. A roll's `page_mm` is computed: one row across, as long as one label; the gap is not printed.

    `marks`: "cut" where labels are cut out by hand, along marks; such a label is a band, and its ends lie `overlap_mm`
    over one another.
    """

    name: str
    title: str
    kind: Literal["sheet", "roll"]
    page_mm: tuple[float, float]
    label_mm: tuple[float, float]
    shape: Shape
    corner_mm: float
    columns: int
    rows: int
    origin_mm: tuple[float, float]
    pitch_mm: tuple[float, float]
    gap_mm: float
    safe_mm: float
    face: str
    medium: Medium
    dpi: int
    marks: Literal["none", "cut"] = field(default="none", metadata=LATER)
    overlap_mm: float = field(default=0.0, metadata=LATER)

    @property
    def per_page(self) -> int:
        """Labels on one page."""
        return self.columns * self.rows


@dataclass(frozen=True, slots=True)
class Place:
    """Where one label lies: page (from 0), place on it (from 1, row by row), left and top edge in mm."""

    page: int
    place: int
    x_mm: float
    y_mm: float
