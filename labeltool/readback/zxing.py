"""QR symbols found by zxing-cpp. The only zxingcpp import."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import metadata
from typing import Any

import zxingcpp

from labeltool.raster import Area, Grey


@dataclass(frozen=True, slots=True)
class Seen:
    """A symbol: its text, and its four corners in pixels of the whole raster, from the first module clockwise."""

    payload: str
    corners: tuple[tuple[float, float], ...]


def version() -> str:
    """The library's version."""
    return metadata.version("zxing-cpp")


def find(grey: Grey, area: Area | None = None) -> tuple[Seen, ...]:
    """All QR Code Model 2 symbols of a raster, or of a part of it."""
    left, top, right, bottom = area or (0, 0, grey.width, grey.height)
    if right - left < 20 or bottom - top < 20:
        return ()
    part: Any = grey.part(area) if area else grey.pixels  # any buffer will do, numpy's or not
    view = zxingcpp.ImageView(part, right - left, bottom - top, zxingcpp.ImageFormat.Lum)
    formats: Any = zxingcpp.BarcodeFormat.QRCodeModel2
    found = zxingcpp.read_barcodes(
        view, formats=formats, text_mode=zxingcpp.TextMode.Plain, try_invert=False,
    )
    return tuple(Seen(item.text, _corners(item.position, left, top)) for item in found if item.valid)


def _corners(position: zxingcpp.Position, left: int, top: int) -> tuple[tuple[float, float], ...]:
    points = (position.top_left, position.top_right, position.bottom_right, position.bottom_left)
    return tuple((float(point.x + left), float(point.y + top)) for point in points)
