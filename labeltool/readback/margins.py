"""What must stay white: a label's margin along its edge, and the quiet zone of its symbols."""

from __future__ import annotations

import math
from collections.abc import Iterator

from labeltool.raster import Grey
from labeltool.readback.ink import FAINT, darkest, label_rect, shape_rect
from labeltool.readback.model import ExpectedLabel
from labeltool.readback.words import WordFault
from labeltool.typeset.frame import Modules

QUIET_MODULES = 4  # ISO/IEC 18004
AIR_MM = 0.12


def margin_faults(grey: Grey, label: ExpectedLabel) -> Iterator[WordFault]:
    """Ink nearer to the label's edge than its stock allows."""
    if label.safe_mm <= 0:
        return
    left, top, right, bottom = (grey.to_pixels(side) for side in label_rect(label))
    for y in range(max(0, math.ceil(top)), min(grey.height, math.floor(bottom))):
        inner = _inner(label, grey.to_mm(y + 0.5) - label.y_mm)
        low, high = (inner[0] - AIR_MM, inner[1] + AIR_MM) if inner else (label.frame.width_mm, label.frame.width_mm)
        for start, end in ((math.ceil(left), left + grey.to_pixels(low)), (left + grey.to_pixels(high), right)):
            row = grey.row(y, max(0, math.ceil(start)), max(0, min(grey.width, math.floor(end))))
            if row and min(row) < FAINT:
                yield WordFault("readback.safe-edge", "ink lies nearer to the label's edge than"
                                f" {label.safe_mm:g} mm, {grey.to_mm(y) - label.y_mm:.1f} mm from its top")
                return


def _inner(label: ExpectedLabel, y: float) -> tuple[float, float] | None:
    """From where to where a line across the label may be inked, mm from its left edge; None where nowhere."""
    width, height, safe = label.frame.width_mm, label.frame.height_mm, label.safe_mm
    if label.frame.shape != "rectangle":
        across, down = width / 2 - safe, height / 2 - safe
        share = 1 - ((y - height / 2) / (down + AIR_MM)) ** 2 if down > 0 else -1.0
        return (width / 2 - across * math.sqrt(share), width / 2 + across * math.sqrt(share)) if share > 0 else None
    edge = min(y, height - y)
    if edge < safe - AIR_MM:
        return None
    turn = max(0.0, label.frame.corner_mm - safe)
    up = max(0.0, turn - max(0.0, edge - safe))
    cut = turn - math.sqrt(max(0.0, turn ** 2 - up ** 2))
    return safe + cut, width - safe - cut


def quiet_faults(grey: Grey, label: ExpectedLabel, item: Modules) -> Iterator[WordFault]:
    """Ink within four modules of a symbol."""
    left, top, right, bottom = shape_rect(label, item)
    zone, air = QUIET_MODULES * item.module_mm, AIR_MM
    strips = (
        (left - zone, top - zone, right + zone, top - air), (left - zone, bottom + air, right + zone, bottom + zone),
        (left - zone, top, left - air, bottom), (right + air, top, right + zone, bottom),
    )
    if min(darkest(grey, strip) for strip in strips) < FAINT:
        yield WordFault("readback.quiet-zone", "ink lies in the quiet zone of the symbol")
