"""Pages as PNG files: grey previews, and one bit a dot for thermal printers."""

from __future__ import annotations

import os
import struct
import tempfile
import zlib
from pathlib import Path

from labeltool.errors import input_error, machine_error
from labeltool.raster import Grey, Pdf

PREVIEW_DPI = 300
_LIGHT = bytes(ord("1") if value >= 128 else ord("0") for value in range(256))


def rasterise_page(pdf: bytes, page: int, dpi: float) -> Grey:
    """A page (from 0) of a PDF as grey pixels. Raises InputError where it has no such page."""
    return Pdf(pdf).grey(page, dpi)


def png_bytes(raster: Grey) -> bytes:
    """The picture as an 8 bit grey PNG that knows its resolution."""
    rows = b"".join(b"\x00" + raster.row(y, 0, raster.width) for y in range(raster.height))
    return _png(raster, 8, rows)


def dots_png_bytes(raster: Grey) -> bytes:
    """The picture as a PNG of one bit a dot: black where at least half of the dot is inked."""
    rows = b"".join(b"\x00" + _packed(raster.row(y, 0, raster.width)) for y in range(raster.height))
    return _png(raster, 1, rows)


def write_png(raster: Grey, target: Path) -> None:
    """Write a grey PNG in one go. Raises InputError for a target that cannot be, MachineError where the disk fails."""
    _write(png_bytes(raster), target)


def write_preview(pdf: bytes, target: Path, *, page: int = 0, dpi: float = PREVIEW_DPI) -> None:
    """Write a page of a PDF as a grey PNG at 300 dpi."""
    write_png(rasterise_page(pdf, page, dpi), target)


def write_dots(pdf: bytes, target: Path, *, page: int = 0, dpi: float = 203) -> None:
    """Write a page of a PDF as a PNG of one bit a printer dot."""
    _write(dots_png_bytes(rasterise_page(pdf, page, dpi)), target)


def _packed(row: bytes) -> bytes:
    """Eight pixels a byte, the leftmost highest; 1 is white."""
    bits = row.translate(_LIGHT) + b"1" * (-len(row) % 8)
    return int(bits, 2).to_bytes(len(bits) // 8, "big")


def _png(raster: Grey, depth: int, rows: bytes) -> bytes:
    header = struct.pack(">IIBBBBB", raster.width, raster.height, depth, 0, 0, 0, 0)
    metre = round(raster.dpi / 0.0254)
    return b"\x89PNG\r\n\x1a\n" + b"".join((
        _chunk(b"IHDR", header), _chunk(b"pHYs", struct.pack(">IIB", metre, metre, 1)),
        _chunk(b"IDAT", zlib.compress(rows, 6)), _chunk(b"IEND", b""),
    ))


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def check_picture(target: Path) -> None:
    """Raise InputError for a target that is no PNG name, or lies in no folder."""
    if target.suffix.lower() != ".png":
        raise input_error("output.picture", f"{target.name} is no PNG name", do="end the name with .png")
    if not target.parent.is_dir() or target.is_dir():
        raise input_error("output.picture", f"{target} cannot be written", do="name a file in a folder that exists")


def _write(data: bytes, target: Path) -> None:
    check_picture(target)
    try:
        handle, name = tempfile.mkstemp(prefix=".labeltool-", suffix=".tmp", dir=target.parent)
        temporary = Path(name)
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(data)
            temporary.replace(target)
        finally:
            temporary.unlink(missing_ok=True)
    except OSError as error:
        raise machine_error("output.disk", f"{target} cannot be written: {error.strerror or error}",
                            do="make room, or choose another folder") from error
