"""A box around every block's ink, split where one rectangle would reach over another block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import reduce

from labeltool.typeset.arc import Arc, glyph_rects
from labeltool.typeset.bed import Spot
from labeltool.typeset.frame import Box
from labeltool.typeset.metrics import FontSet
from labeltool.typeset.region import Rect
from labeltool.typeset.setter import Line, Placed, Standing


def boxes(placed: Sequence[Placed], spots: Sequence[Spot], fonts: FontSet) -> tuple[Box, ...]:
    """The boxes of a label in reading order: as few a block as keep clear of each other, then those of the symbols."""
    groups = [(item, inks_of(item, fonts)) for item in placed]
    inks = [(block_of(item), rect) for item, rects in groups for rect in rects]
    others = [spot.quiet for spot in spots]
    found: list[tuple[str, Rect]] = []
    for item, rects in groups:
        block = block_of(item)
        if isinstance(item, Arc):
            whole = reduce(_union, rects)
            found += [(block, rect) for rect in (rects if _hits(whole, block, inks, others) else [whole])]
            continue
        joined = _union(found[-1][1], rects[0]) if found and found[-1][0] == block else None
        if joined is not None and not _hits(joined, block, inks, others):
            found[-1] = (block, joined)
        else:
            found.append((block, rects[0]))
    return tuple(_box(block, rect) for block, rect in _parted(found)) + tuple(_box("qr", rect) for rect in others)


def _parted(found: list[tuple[str, Rect]]) -> list[tuple[str, Rect]]:
    """The boxes with the sliver shared where an accent reaches up between descenders, so that none overlaps."""
    rects = [rect for _, rect in found]
    for index, one in enumerate(rects):
        for later in range(index + 1, len(rects)):
            two = rects[later]
            if one.meets(two):
                middle = (max(one.top, two.top) + min(one.bottom, two.bottom)) / 2
                above, below = (index, later) if one.top <= two.top else (later, index)
                rects[above] = replace(rects[above], bottom=middle)
                rects[below] = replace(rects[below], top=middle)
                one = rects[index]
    return [(block, rect) for (block, _), rect in zip(found, rects, strict=True)]


def block_of(item: Placed) -> str:
    """The name of the block that a line or sign belongs to."""
    return item.sign.sign.block if isinstance(item, Standing) else item.para.block


def inks_of(item: Placed, fonts: FontSet) -> list[Rect]:
    """The rectangles of what is placed: one, or one a glyph on an arc, mm."""
    return glyph_rects(item, fonts) if isinstance(item, Arc) else [ink(item, fonts)]


def ink(item: Line | Standing, fonts: FontSet) -> Rect:
    """The rectangle of a line's ink (advance widths across) or of a sign, mm."""
    if isinstance(item, Standing):
        shape = item.sign
        width = shape.outline.width * shape.height_mm
        return Rect(item.x_mm, item.y_mm - shape.height_mm, item.x_mm + width, item.y_mm)
    up, down = line_reach(item, fonts)
    edges = item.para.body.edges
    over = item.para.body.over[item.last - 1] if item.last else 0.0
    width = (edges[item.last] - edges[item.first] - item.para.spacing + over) * item.size_mm
    return Rect(item.x_mm, item.y_mm - up, item.x_mm + width, item.y_mm + down)


def line_reach(line: Line, fonts: FontSet) -> tuple[float, float]:
    """How far a line's own letters rise and fall, mm."""
    at, up, down = 0, 0.0, 0.0
    for piece in line.para.pieces:
        part = piece.text[max(0, line.first - at):max(0, line.last - at)]
        top, bottom = fonts.of(piece.weight).reach(part)
        up, down, at = max(up, top), max(down, bottom), at + len(piece.text)
    return up * line.size_mm, down * line.size_mm


def _hits(rect: Rect, block: str, inks: Sequence[tuple[str, Rect]], others: Sequence[Rect]) -> bool:
    return any(rect.meets(other) for name, other in inks if name != block) or any(rect.meets(other) for other in others)


def _union(one: Rect, two: Rect) -> Rect:
    return Rect(min(one.left, two.left), min(one.top, two.top), max(one.right, two.right), max(one.bottom, two.bottom))


def _box(block: str, rect: Rect) -> Box:
    return Box(block, round(rect.left, 4), round(rect.top, 4), round(rect.width, 4), round(rect.height, 4))
