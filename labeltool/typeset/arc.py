"""The name along the upper edge of a round label: every glyph on its own tangent, the middle of the arc on top."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from labeltool.typeset.metrics import FontSet
from labeltool.typeset.paras import Para, Piece
from labeltool.typeset.region import Rect, Region

WIDEST_DEG = 170.0  # of the circle that a name may take
LOWER = 0.38  # of the radius left inside, by which the words inside stand below the middle: the arc is heavy
TINY_MM = 1e-4
AIR = 0.5  # between the arc and the words inside it, ems of the running size


@dataclass(frozen=True, slots=True)
class Arc:
    """A paragraph on a circle: the radius of its baseline and the centre, mm."""

    para: Para
    size_mm: float
    radius_mm: float
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Glyph:
    """One character on an arc: where its origin lies, mm, and how far it is turned clockwise about it, degrees."""

    char: str
    piece: Piece
    x_mm: float
    y_mm: float
    angle_deg: float


def bend(para: Para, size_mm: float, running_mm: float, region: Region) -> tuple[Arc, Region] | None:
    """The paragraph along the inside of a round region, and the round region left inside it; None where it is too long.
    """
    outer = region.width / 2 - region.inset
    radius = outer - para.reach[0] * size_mm
    inner = radius - para.reach[1] * size_mm - AIR * running_mm
    if inner <= 0 or math.degrees(para.width * size_mm / radius) > WIDEST_DEG:
        return None
    arc = Arc(para, size_mm, radius, region.width / 2, region.height / 2)
    return arc, replace(region, inset=region.width / 2 - inner)


def glyphs(arc: Arc) -> Iterator[Glyph]:
    """The characters of an arc that have ink, each turned about the middle of its own advance."""
    edges, size = arc.para.body.edges, arc.size_mm
    middle = (edges[-1] - arc.para.spacing) / 2
    pieces = [piece for piece in arc.para.pieces for _ in piece.text]
    for index, (char, piece) in enumerate(zip(arc.para.text, pieces, strict=True)):
        if char.isspace():
            continue
        half = (edges[index + 1] - edges[index] - arc.para.spacing) / 2
        angle = (edges[index] + half - middle) * size / arc.radius_mm
        sin, cos = math.sin(angle), math.cos(angle)
        x, y = arc.x_mm + arc.radius_mm * sin, arc.y_mm - arc.radius_mm * cos
        yield Glyph(char, piece, x - half * size * cos, y - half * size * sin, math.degrees(angle))


def glyph_rects(arc: Arc, fonts: FontSet) -> list[Rect]:
    """The upright rectangles around the ink of each glyph, mm."""
    found = []
    for glyph in glyphs(arc):
        font, turn = fonts.of(glyph.piece.weight), math.radians(glyph.angle_deg)
        left, bottom, right, top = (font.em(value) * arc.size_mm for value in font.bounds[glyph.char])
        sin, cos = math.sin(turn), math.cos(turn)
        corners = [(x * cos + y * sin, x * sin - y * cos) for x in (left, right) for y in (bottom, top)]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        found.append(Rect(glyph.x_mm + min(xs), glyph.y_mm + min(ys), glyph.x_mm + max(xs), glyph.y_mm + max(ys)))
    return _apart(found)


def _apart(rects: list[Rect]) -> list[Rect]:
    """The same area in rectangles that do not overlap."""
    found: list[Rect] = []
    for rect in rects:
        rest = [rect]
        for other in found:
            rest = [piece for one in rest for piece in _without(one, other)]
        found += rest
    return found


def _without(rect: Rect, other: Rect) -> list[Rect]:
    """What is left of a rectangle outside another one."""
    if not rect.meets(other):
        return [rect]
    top, bottom = max(rect.top, other.top), min(rect.bottom, other.bottom)
    pieces = (
        replace(rect, bottom=top), replace(rect, top=bottom),
        Rect(rect.left, top, other.left, bottom), Rect(other.right, top, rect.right, bottom),
    )
    return [piece for piece in pieces if piece.width > TINY_MM and piece.height > TINY_MM]
