"""Pictures by pixels: a PNG on white, black alone, and the edges of labels under a page."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image

from labeltool.errors import InputError
from labeltool.output.images import in_greys, with_edges
from labeltool.output.pictures import edge_page
from labeltool.output.png import rasterise_page
from labeltool.raster import Grey
from labeltool.workflow.layouts import stock


def png(*tones: tuple[int, int]) -> bytes:
    """One row of pixels, each a (tone, opacity)."""
    picture = Image.new("LA", (len(tones), 1))
    picture.putdata(list(tones))
    target = BytesIO()
    picture.save(target, "PNG")
    return target.getvalue()


def test_what_is_seen_through_is_white_and_greys_stay():
    data = png((0, 255), (0, 0), (120, 255), (0, 128), (200, 255))
    assert list(in_greys(data).pixels) == [0, 255, 120, 127, 200]
    assert list(in_greys(data, black_alone=True).pixels) == [0, 255, 0, 0, 255]


def test_what_is_no_png_is_refused_with_its_name():
    whole = png((0, 255), (9, 9))
    for data in (b"", b"GIF89a", whole[:40], whole[:-20] + b"x" * 20):
        with pytest.raises(InputError, match=r"otter\.png"):
            in_greys(data, file="otter.png")


def test_edges_stand_in_grey_under_the_page_and_never_pale_its_ink():
    on = stock("a4-2x4-99.1x67.7", None)
    edges = rasterise_page(edge_page(on), 0, 100)
    blank = Grey(edges.width, edges.height, 100, memoryview(b"\xff" * (edges.width * edges.height)))
    found = with_edges(blank, edges)
    assert 120 < min(found.pixels) < 230
    assert sum(value < 255 for value in found.pixels) < 0.05 * len(found.pixels)
    dark = Grey(edges.width, edges.height, 100, memoryview(bytes(edges.width * edges.height)))
    assert set(with_edges(dark, edges).pixels) == {0}
