"""What a print's row keeps of its read-back, and how it is told."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from labeltool.readback.model import ReadBack

VERIFIED = "verified"  # in a print's extra
DECODERS = ("zxing-cpp", "zbar")
CHECKED = ("symbols", "words", "places", "letter heights", "fonts", "margins", "nothing else on the page")


def verified(result: ReadBack) -> dict[str, Any]:
    """The row's entry for a read-back that found nothing wrong: how many labels, by what, and which things."""
    symbols = sum(item.decoded.zxing is not None for item in result.labels)
    return {"labels": len(result.labels), "symbols": symbols, "checked": list(CHECKED), "by": readers()}


def readers() -> dict[str, str]:
    """The decoders and the rasteriser, with their versions."""
    from labeltool.raster import RASTER
    from labeltool.readback import zbar, zxing

    return {"zxing-cpp": zxing.version(), "zbar": zbar.version(), "pdfium": RASTER}


def told_proof(extra: Mapping[str, Any] | None) -> str:
    """In words, whether a print was read back before it went on record, and by what; "" where the row is older."""
    if VERIFIED not in (extra or {}):
        return ""
    kept = (extra or {})[VERIFIED]
    if not kept:
        return "not read back"
    return "read back by " + ", ".join(f"{name} {kept['by'][name]}" for name in DECODERS if name in kept["by"])
