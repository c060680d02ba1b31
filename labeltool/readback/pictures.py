"""Scans, photos and screenshots as grey pixels. The only pillow import."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Any

import PIL
from PIL import Image, ImageFilter, ImageOps

from labeltool.errors import InputError, input_error
from labeltool.raster import Grey

PILLOW = str(PIL.__version__)
MOST_PIXELS = 120_000_000
LEAST_DPI, MOST_DPI = 100, 4800  # below stand the 72 and 96 that programs write where they know nothing
OTHERS = {b"GIF8": "GIF", b"BM": "BMP", b"II*\x00": "TIFF", b"MM\x00*": "TIFF"}
_WHITE = 255

Image.MAX_IMAGE_PIXELS = None  # the bound is this module's own, and told in its own words


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture as light and dark: `grey` by the eye's measure, `red` as a scanner's red light sees it.

    `dpi` is None where the picture does not say how large it is on paper. `kind`: "PNG" or "JPEG".
    """

    grey: Grey
    red: Grey
    dpi: float | None
    kind: str
    camera: bool


def kind_of(data: bytes) -> str | None:
    """What kind of picture a file is, by its first bytes; None where it is none that is known."""
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "PNG"
    if data.startswith(b"\xff\xd8\xff"):
        return "JPEG"
    if data[4:8] == b"ftyp" and data[8:12] in (b"heic", b"heix", b"mif1", b"avif", b"heif"):
        return "HEIC"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "WebP"
    return next((name for mark, name in OTHERS.items() if data.startswith(mark)), None)


def read_picture(data: bytes) -> Photo:
    """A PNG or JPEG turned the right way up, on white where it is transparent.

    Raises InputError for another kind, a picture over 120 million pixels, or one that is damaged.
    """
    kind = kind_of(data)
    if kind not in ("PNG", "JPEG"):
        raise input_error("picture.kind", f"the picture is a {kind}", limit="PNG or JPEG",
                          do="save it as PNG or JPEG; many phones do so when a picture is shared")
    try:
        with Image.open(BytesIO(data), formats=("PNG", "JPEG", "MPO")) as opened:
            return _photo(opened, kind)
    except InputError:
        raise
    except (OSError, SyntaxError, ValueError, EOFError, TypeError, KeyError, IndexError, OverflowError) as error:
        raise input_error("picture.broken", f"the picture cannot be read: {error}"[:160],
                          do="save it anew, or take it again") from error


def _photo(opened: Any, kind: str) -> Photo:
    width, height = opened.size
    if width * height > MOST_PIXELS:
        raise input_error("picture.size", f"the picture has {width} x {height} pixels",
                          limit=f"{MOST_PIXELS:,} pixels", do="make it smaller, or cut out the labels")
    exif = opened.getexif()
    dpi = _dpi(opened.info.get("dpi"))
    picture = _on_white(ImageOps.exif_transpose(opened))
    red = picture.getchannel(0) if picture.mode == "RGB" else picture
    return Photo(_grey(picture.convert("L"), dpi), _grey(red, dpi), dpi, kind, bool(exif.get(0x0110)))


def _dpi(said: Any) -> float | None:
    """The resolution that a picture states, where it is one that scanners have and both directions agree."""
    try:
        across, down = (float(number) for number in said)
    except (TypeError, ValueError, ZeroDivisionError):
        return None
    return across if abs(across - down) < 0.5 and LEAST_DPI <= across <= MOST_DPI else None


def _on_white(picture: Any) -> Any:
    """The picture as L or RGB."""
    if picture.mode.startswith("I"):
        return picture.point(lambda value: value / 257).convert("L") if picture.mode != "I" else _deep(picture)
    if picture.mode in ("LA", "PA", "RGBA") or "transparency" in picture.info:
        clear = picture.convert("RGBA")
        ground = Image.new("RGBA", clear.size, (_WHITE, _WHITE, _WHITE, _WHITE))
        return Image.alpha_composite(ground, clear).convert("RGB")
    return picture.convert("L" if picture.mode in ("1", "L") else "RGB")


def _deep(picture: Any) -> Any:
    """Sixteen bits a pixel as eight."""
    return picture.point(lambda value: value * (1 / 257)).convert("L")


def _grey(picture: Any, dpi: float | None) -> Grey:
    return Grey(picture.width, picture.height, dpi or 0.0, memoryview(picture.tobytes()))


def _image(grey: Grey) -> Any:
    return Image.frombytes("L", (grey.width, grey.height), bytes(grey.pixels))


def stretched(grey: Grey) -> Grey:
    """The picture with its darkest part black and its lightest white: for dark or pale photos."""
    return _grey(ImageOps.autocontrast(_image(grey), cutoff=1), grey.dpi)


def softened(grey: Grey, radius: float) -> Grey:
    """The picture blurred: for noise and for the dots of a screen."""
    return _grey(_image(grey).filter(ImageFilter.GaussianBlur(radius)), grey.dpi)


def turned_over(grey: Grey) -> Grey:
    """Light for dark."""
    return _grey(ImageOps.invert(_image(grey)), grey.dpi)


def scaled(grey: Grey, factor: float) -> Grey:
    """The picture so many times as large."""
    part = _image(grey)
    size = (max(1, round(part.width * factor)), max(1, round(part.height * factor)))
    return _grey(part.resize(size, Image.Resampling.BICUBIC), grey.dpi * factor)
