"""A maker's logo as a value: black shapes of an SVG, or a PNG known by its hash."""

from __future__ import annotations

import hashlib
import struct
from dataclasses import dataclass

from labeltool.finding import Finding, Where
from labeltool.symbol.pen import Path
from labeltool.symbol.svg import Refused, box_of, svg_shapes

MOST_BYTES, MOST_PIXELS = 1_000_000, 4_000_000
PNG = b"\x89PNG\r\n\x1a\n"
THINNEST = 0.02  # height by width, and width by height


@dataclass(frozen=True, slots=True)
class Logo:
    """`width`: for a height of 1. `shapes` in units of the height, y downwards; else `data`, a PNG, and its hash."""

    width: float
    height_mm: float
    shapes: tuple[Path, ...] = ()
    data: bytes = b""
    sha256: str = ""


def read_logo(file: str, data: bytes, height_mm: float) -> Logo | Finding:
    """The logo in a file's bytes, or why it is none."""
    if len(data) > MOST_BYTES:
        return _fault(file, f"{len(data):,} bytes", f"{MOST_BYTES:,} bytes", "simplify it, or use fewer pixels")
    if data.startswith(b"%PDF"):
        return _fault(file, "a PDF", "SVG or PNG", "save the logo as SVG of plain shapes, or as PNG")
    if data.startswith(PNG):
        return _picture(file, data, height_mm)
    try:
        shapes = svg_shapes(data)
    except Refused as error:
        return _fault(file, str(error), "SVG of plain black shapes, or PNG", error.do)
    boxes = [box_of(shape) for shape in shapes]
    left, top = min(box[0] for box in boxes), min(box[1] for box in boxes)
    width, height = max(box[2] for box in boxes) - left, max(box[3] for box in boxes) - top
    if min(width, height) <= THINNEST * max(width, height):
        return _fault(file, "a drawing as thin as a line", "a height and a width", "draw shapes")
    unit = tuple(_unit(shape, left, top, height) for shape in shapes)
    return Logo(width / height, height_mm, unit)


def _unit(shape: Path, left: float, top: float, height: float) -> Path:
    return tuple(
        (command[0], *(round((float(value) - (top if index % 2 else left)) / height, 5)
                       for index, value in enumerate(command[1:]))) for command in shape
    )


def _picture(file: str, data: bytes, height_mm: float) -> Logo | Finding:
    """A PNG by its header; whether its pixels can be read shows when it is drawn."""
    if len(data) < 33 or data[12:16] != b"IHDR":
        return _fault(file, "a PNG without a header", "a whole PNG", "save it again")
    width, height = struct.unpack(">II", data[16:24])
    if not width or not height or width * height > MOST_PIXELS:
        return _fault(file, f"{width:,} × {height:,} pixels", f"{MOST_PIXELS:,} pixels", "scale it down")
    if min(width, height) <= THINNEST * max(width, height):
        return _fault(file, "a picture as thin as a line", "a height and a width", "crop it")
    return Logo(width / height, height_mm, (), data, hashlib.sha256(data).hexdigest())


def _fault(file: str, what: str, limit: str, do: str) -> Finding:
    return Finding("artwork.logo", "error", f"the logo {file} is or holds {what}", Where(file), limit=limit, do=do)
