"""What is written: pages with placed frames."""

from __future__ import annotations

from dataclasses import dataclass

from labeltool.typeset.frame import Frame

CREATOR = "labeltool"
DRAFT_WORD = "draft"


@dataclass(frozen=True, slots=True)
class Placed:
    """A frame with its top left corner at (x, y) on the page, mm, y downwards."""

    frame: Frame
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page: its size in mm and the labels on it."""

    width_mm: float
    height_mm: float
    placed: tuple[Placed, ...]
