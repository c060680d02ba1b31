"""Makes labeltool/data/font_metrics.json from the shipped font files: `python tools/metrics.py` after a font change."""

from __future__ import annotations

import json
from io import BytesIO
from pathlib import Path
from typing import Any

from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from labeltool import tables

TARGET = Path(__file__).resolve().parent.parent / "labeltool" / "data" / "font_metrics.json"


def measure(weight: str) -> dict[str, Any]:
    """The metrics of one weight: font units, parallel lists by code point; blank glyphs have bounds 0, 0, 0, 0."""
    font = TTFont(BytesIO(tables.font_bytes(weight)))
    glyphs, advances, names = font.getGlyphSet(), font["hmtx"], font.getBestCmap()
    codes = sorted(names)
    boxes = [_bounds(glyphs, names[code]) for code in codes]
    stem = _bounds(glyphs, names[ord("I")])
    return {
        "sha256": tables.font_sha256(weight),
        "units_per_em": font["head"].unitsPerEm,
        "x_height": _bounds(glyphs, names[ord("x")])[3],
        "cap_height": _bounds(glyphs, names[ord("H")])[3],
        "figure_height": min(_bounds(glyphs, names[ord(digit)])[3] for digit in "0123456789"),
        "figure_step": advances[names[0x2007]][0],
        "ascender": font["hhea"].ascent,
        "descender": font["hhea"].descent,
        "stem": stem[2] - stem[0],
        "codes": codes,
        "advances": [advances[names[code]][0] for code in codes],
        "bounds": [value for box in boxes for value in box],
    }


def _bounds(glyphs: Any, name: str) -> tuple[int, int, int, int]:
    pen = BoundsPen(glyphs)
    glyphs[name].draw(pen)
    left, bottom, right, top = pen.bounds or (0, 0, 0, 0)
    return round(left), round(bottom), round(right), round(top)


def main() -> None:
    """Write the table."""
    table = {weight: measure(weight) for weight in tables.FONT_FILES}
    TARGET.write_text(json.dumps(table, separators=(",", ":")) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
