"""Symbols as values: a QR matrix, and drawn symbols as outlines in a unit box."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class QrMatrix:
    """A QR Code Model 2 symbol: rows of "0"/"1" (1 = dark) without quiet zone."""

    payload: str
    rows: tuple[str, ...]
    version: int
    level: str
    mask: int

    @property
    def size(self) -> int:
        """Modules a side, without the quiet zone."""
        return len(self.rows)


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawn symbol: commands ("M", x, y) … ("Z",) with y downwards, in units of its own height.

    `width` is the width for a height of 1; contours are filled even-odd. `label_box` (x, y, width, height), in the same
    units, is where words such as the months of the open jar stand; None where there are none.
    """

    name: str
    width: float
    path: tuple[tuple[str | float, ...], ...]
    label_box: tuple[float, float, float, float] | None = None
