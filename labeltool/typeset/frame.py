"""Frame: a finished label as placed items. Millimetres from the label's top left corner, y downwards.

A Frame is all that printing needs: it names fonts by SHA-256, holds every text run with its baseline, every filled
outline and every symbol module. Text is drawn by plain advances (no kerning, no ligatures).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Weight = Literal["regular", "medium", "semibold"]


@dataclass(frozen=True, slots=True)
class TextRun:
    """A run of one font and size on one baseline; `angle_deg` turns it clockwise about (x, y)."""

    x_mm: float
    y_mm: float  # baseline
    text: str
    weight: Weight
    size_pt: float
    block: str
    spacing_pt: float = 0.0
    angle_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Outline:
    """Filled closed contours (even-odd), each a tuple of points and curve controls in mm.

    `path`: SVG-like commands, ("M", x, y), ("L", x, y), ("C", x1, y1, x2, y2, x, y), ("Z",).
    """

    path: tuple[tuple[str | float, ...], ...]
    block: str


@dataclass(frozen=True, slots=True)
class Rule:
    """A filled rectangle, mm."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    block: str


@dataclass(frozen=True, slots=True)
class Modules:
    """A QR symbol: rows of "0"/"1"; (x, y) is the corner of the first module, the quiet zone lies outside it."""

    x_mm: float
    y_mm: float
    module_mm: float
    rows: tuple[str, ...]
    payload: str
    version: int
    level: str
    mask: int
    block: str = "qr"


@dataclass(frozen=True, slots=True)
class Picture:
    """A PNG kept by its SHA-256, drawn in greys, or where not `grey` in black alone, mm."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    sha256: str
    grey: bool
    block: str = "logo"


Item = TextRun | Outline | Rule | Modules | Picture


@dataclass(frozen=True, slots=True)
class Box:
    """The ink-and-clearance rectangle of a block, mm; boxes of one Frame never overlap."""

    block: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Frame:
    """One label: size, shape, items in drawing order, block boxes, and what was found while fitting.

    `x_height_mm`: flat x-height of the running text. `fonts`: (weight, sha256 of the font file) pairs.
    `words`: (block, text) pairs exactly as printed, to compare with LabelText and with what is read back.
    """

    width_mm: float
    height_mm: float
    shape: Literal["rectangle", "round", "oval"]
    corner_mm: float
    artwork: str
    items: tuple[Item, ...]
    boxes: tuple[Box, ...]
    x_height_mm: float
    fonts: tuple[tuple[str, str], ...]
    words: tuple[tuple[str, str], ...]
    dpi: int

    @property
    def files(self) -> tuple[str, ...]:
        """The SHA-256 of every font and picture that the label is drawn with."""
        pictures = (item.sha256 for item in self.items if isinstance(item, Picture))
        return tuple(dict.fromkeys((*(sha256 for _, sha256 in self.fonts), *pictures)))

    @property
    def symbols(self) -> tuple[Modules, ...]:
        """The QR symbols of the label."""
        return tuple(item for item in self.items if isinstance(item, Modules))
