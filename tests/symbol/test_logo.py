"""Logos: plain shapes come out as they were drawn, all else is refused with what would help."""

from __future__ import annotations

import math
import struct
import zlib
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.finding import Finding
from labeltool.symbol.logo import MOST_BYTES, Logo, read_logo
from labeltool.symbol.pen import bezier
from labeltool.symbol.svg import box_of
from labeltool.symbol.svgpath import arc_curves

NS = 'xmlns="http://www.w3.org/2000/svg"'


def svg(inside: str, more: str = "") -> bytes:
    return f"<svg {NS} {more}>{inside}</svg>".encode()


def logo(inside: str) -> Logo:
    found = read_logo("mine.svg", svg(inside), 8)
    assert isinstance(found, Logo), found
    return found


def png(width: int, height: int) -> bytes:
    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    rows = zlib.compress(b"".join(b"\0" + b"\0" * width for _ in range(min(height, 50))))
    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def covered(found: Logo, x: float, y: float) -> bool:
    """Whether a point (in heights) is inked: by even-odd over flattened contours of each shape."""
    return any(_odd(shape, x, y) for shape in found.shapes)


def _odd(shape, x, y) -> bool:
    crossings, at, begun = 0, (0.0, 0.0), (0.0, 0.0)
    for name, *values in shape:
        if name == "M":
            at = begun = (values[0], values[1])
            continue
        points = [begun] if name == "Z" else _flat(at, values)
        for to in points:
            if (at[1] > y) != (to[1] > y) and x < at[0] + (y - at[1]) / (to[1] - at[1]) * (to[0] - at[0]):
                crossings += 1
            at = to
    return crossings % 2 == 1


def _flat(start, values):
    if len(values) == 2:
        return [tuple(values)]
    points = [start, *zip(values[0::2], values[1::2], strict=True)]
    found = []
    for step in range(1, 33):
        t = step / 32
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t ** 3)
        found.append(tuple(sum(w * p[axis] for w, p in zip(weights, points, strict=True)) for axis in (0, 1)))
    return found


def test_a_rectangle_fills_its_box():
    found = logo('<rect x="10" y="20" width="40" height="20"/>')
    assert found.width == pytest.approx(2) and box_of(found.shapes[0]) == pytest.approx((0, 0, 2, 1))
    assert covered(found, 1, 0.5) and not covered(found, 2.1, 0.5)


def test_a_ring_keeps_its_hole_by_either_rule():
    ways = ("M0 0H100V100H0Z M25 25V75H75V25Z", "M0 0h100v100h-100z m25 25h50v50h-50z")
    for data, rule in zip(ways, ("nonzero", "evenodd"), strict=True):
        found = logo(f'<path fill-rule="{rule}" d="{data}"/>')
        assert covered(found, 0.1, 0.5) and not covered(found, 0.5, 0.5), rule


def test_of_contours_that_turn_one_way_each_is_filled():
    found = logo('<path d="M0 0H100V100H0Z M25 25H75V75H25Z M60 60H120V90H60Z"/>')
    for at in ((0.1, 0.5), (0.5, 0.5), (0.7, 0.7), (1.1, 0.7)):
        assert covered(found, *at), at


def test_arcs_curves_and_transforms():
    circle = logo('<path d="M0 50A50 50 0 0 1 100 50A50 50 0 0 1 0 50Z"/>')
    same = logo('<g transform="translate(7,8) scale(2)"><circle r="25"/></g>')
    turned = logo('<path transform="rotate(90 3 4)" d="m0 50a50,50 0 01100 0 50 50 0 01-100 0"/>')
    for found in (circle, same, turned):
        assert found.width == pytest.approx(1, abs=0.001)
        for x, y, inside in ((0.5, 0.02, True), (0.16, 0.16, True), (0.13, 0.13, False), (0.86, 0.86, False)):
            assert covered(found, x, y) == inside, (x, y)
    wave = logo('<path d="M0 10Q10 0 20 10T40 10V20H0ZM0 0h1v1h-1z"/>')
    assert covered(wave, 0.5, 0.4) and not covered(wave, 1.5, 0.55)


@given(st.floats(5, 60), st.floats(5, 60), st.floats(0, 180), st.booleans(), st.booleans(), st.floats(-40, 40))
def test_an_arc_ends_where_it_should_and_lies_on_one_ellipse(rx, ry, tilt, large, sweep, reach):
    """Made upright and round, all its points are as far from one centre as its radii, grown together, say."""
    start, end = (0.0, 0.0), (reach, 30.0)
    points, at = [start], start
    for first, second, to in arc_curves(start, end, (rx, ry), math.radians(tilt), large, sweep):
        points += [bezier(at, first, second, to, step / 8) for step in range(1, 9)]
        at = to
    assert at == pytest.approx(end, abs=1e-6)
    cos, sin = math.cos(math.radians(tilt)), math.sin(math.radians(tilt))
    unit = [((x * cos + y * sin) / rx, (y * cos - x * sin) / ry) for x, y in points]
    (ax, ay), (bx, by) = unit[0], unit[-1]
    half = math.hypot(bx - ax, by - ay) / 2
    radius = max(1.0, half)
    off = math.sqrt(max(0.0, radius * radius - half * half)) / (2 * half)
    ways = [((ax + bx) / 2 + way * off * (ay - by), (ay + by) / 2 + way * off * (bx - ax)) for way in (1, -1)]
    assert any(all(abs(math.hypot(x - cx, y - cy) - radius) < 0.001 * radius for x, y in unit) for cx, cy in ways)
    turned = sum(math.hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in pairwise(unit)) / radius
    assert half > 0.99 or (turned > math.pi) == large


REFUSED = [
    ("<script>alert(1)</script>", "script"), ("<text>Otter</text>", "text"), ('<image width="3"/>', "image"),
    ('<a href="https://otters.example"><rect width="9" height="9"/></a>', "element"), ('<use href="#a"/>', "use"),
    ('<rect width="9" height="9" onclick="x()"/>', "onclick"), ("<style>rect{fill:red}</style>", "style"),
    ('<rect width="9" height="9" fill="red"/>', "red"), ('<rect width="9" height="9" fill="url(#a)"/>', "url"),
    ('<rect width="9" height="9" fill="none"/>', "no filled shape"), ("", "no filled shape"),
    ('<path d="M0 0L9 9" stroke="black"/>', "stroke"), ('<rect width="9" height="9" opacity="0.5"/>', "light"),
    ('<rect width="9" height="9" filter="url(#f)"/>', "filter"), ('<path d="M0 0L"/>', "too few"),
    ('<path d="M0 0X9"/>', "cannot be read"), ('<rect width="9mm" height="9"/>', "cannot be read"),
    ('<rect width="9" height="9" transform="skewX(9)"/>', "skewX"), ('<rect width="900" height="1"/>', "thin"),
    ("<g>" * 60 + "</g>" * 60, "deep"), ('<rect width="nan" height="9"/>', "no number"),
    ('<svg><rect width="9" height="9"/></svg>', "svg element"), ('<foreignObject/>', "foreignObject"),
]


@pytest.mark.parametrize(("inside", "said"), REFUSED)
def test_what_is_no_plain_black_shape_is_refused(inside, said):
    found = read_logo("mine.svg", svg(inside), 8)
    assert isinstance(found, Finding) and found.rule == "artwork.logo"
    assert said in found.text and found.do and found.limit and found.where.file == "mine.svg"


@pytest.mark.parametrize("data", [
    b"<!DOCTYPE svg><svg/>", b'<!DOCTYPE x [<!ENTITY a "b">]><svg>&a;</svg>', "<svg/>".encode("utf-16"), b"", b"GIF89a",
    b"<html/>", b"%PDF-1.7 ...", b"x" * (MOST_BYTES + 1), png(4000, 4000), png(3, 900), b"\x89PNG\r\n\x1a\n",
])
def test_other_files_are_refused(data):
    assert isinstance(read_logo("mine.svg", data, 8), Finding)


@given(st.binary(max_size=300), st.booleans())
def test_no_bytes_break_it(data, wrapped):
    read_logo("x", svg(data.decode("latin-1")) if wrapped else data, 8)


@given(st.text("MmLlHhVvCcSsQqTtAaZz0123456789 .,-e", max_size=60))
def test_no_path_data_breaks_it(data):
    read_logo("x", svg(f'<path d="{data}"/>'), 8)


def test_a_png_is_known_by_its_hash_and_shape():
    found = read_logo("mine.png", png(100, 50), 6)
    assert isinstance(found, Logo) and found.width == 2 and len(found.sha256) == 64 and found.height_mm == 6
