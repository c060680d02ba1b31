"""Pictures by pixels: a maker's PNG in greys on white or in black alone, and label edges under a page."""

from __future__ import annotations

import re
from dataclasses import replace

from labeltool.errors import InputError, input_error
from labeltool.finding import Where
from labeltool.raster import Grey
from labeltool.readback.pictures import read_picture

EDGE_TONE = 0.35  # of black
_BLACK = bytes(255 * (value >= 128) for value in range(256))
_PALE = bytes(round(255 - EDGE_TONE * (255 - value)) for value in range(256))
_INKED = re.compile(rb"[^\xff]+")


def in_greys(data: bytes, *, black_alone: bool = False, file: str = "the logo") -> Grey:
    """The picture of a PNG on white. Raises InputError where its pixels cannot be read."""
    try:
        grey = read_picture(data).grey
    except InputError as error:
        said = error.findings[0]
        raise input_error("artwork.logo", f"the logo {file}: {said.text}", where=Where(file),
                          limit="a whole PNG", do=said.do) from error
    return replace(grey, pixels=memoryview(bytes(grey.pixels).translate(_BLACK))) if black_alone else grey


def with_edges(page: Grey, edges: Grey) -> Grey:
    """A page with the edges of its labels in grey under it; both rasters are of one size."""
    pixels, pale = bytearray(page.pixels), bytes(edges.pixels).translate(_PALE)
    for run in _INKED.finditer(pale):
        for index in range(run.start(), run.end()):
            pixels[index] = min(pixels[index], pale[index])
    return replace(page, pixels=memoryview(bytes(pixels)))
