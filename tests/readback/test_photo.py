"""Simulated photos and scans: read by both decoders, and measured as far as they allow."""

import pytest
from label_frames import label, laid, written
from photo_lab import (
    as_camera,
    at_an_angle,
    blurred,
    cut,
    grown,
    in_light,
    noisy,
    on_table,
    page,
    saved,
    turned,
)
from PIL import Image

from labeltool.readback.grade import known_symbol
from labeltool.readback.measure import is_blank, measured
from labeltool.readback.photo import symbols_in
from labeltool.readback.pictures import read_picture
from labeltool.workflow.grading import rules

CODES = ("260503A31", "260503B28", "260503C25")
FRAMES = [label(code) for code in CODES]
PDF = written(laid(FRAMES))
PAYLOADS = [frame.symbols[0].payload for frame in FRAMES]
ITEM = FRAMES[0].symbols[0]
SIDE_MM = len(ITEM.rows) * ITEM.module_mm
FINE = cut(page(PDF, 600), 600, 7.25, 12.9, 63.5, 33.9)
USUAL = cut(page(PDF, 400), 400, 7.25, 12.9, 63.5, 33.9)


def seen(picture, kind="JPEG", **options):
    return symbols_in(read_picture(saved(as_camera(picture), kind, **options)))


def sizes(picture, kind="PNG", **options):
    photo = read_picture(saved(as_camera(picture), kind, **options))
    return measured(photo, symbols_in(photo)[0], known_symbol(ITEM), rules())


PHOTOS = {
    "flat": USUAL,
    "on a table": on_table(USUAL),
    "at an angle": at_an_angle(on_table(USUAL), 0.25),
    "turned": turned(on_table(USUAL), 33),
    "upside down": turned(on_table(USUAL), 180),
    "out of focus": blurred(on_table(USUAL), 1.8),
    "noisy": noisy(on_table(USUAL), 14),
    "in falling light": in_light(on_table(USUAL), 1.0, 0.2),
    "dark": noisy(in_light(on_table(USUAL), 0.1, 0.06), 1),
    "all at once": noisy(in_light(blurred(turned(at_an_angle(on_table(USUAL), 0.15), 12), 1.2), 0.9, 0.4), 5),
}


@pytest.mark.parametrize("name", PHOTOS)
def test_photo_is_read_by_both_decoders(name):
    found = seen(PHOTOS[name], quality=85)
    assert [(item.zxing, item.zbar) for item in found] == [(PAYLOADS[0], PAYLOADS[0])]


def test_all_labels_of_a_scan_are_read_in_their_order():
    whole = page(PDF, 200).crop((0, 0, 1654, 500))
    assert [item.payload for item in seen(whole, "PNG")] == PAYLOADS
    assert [item.payload for item in seen(turned(whole, 180, 255), "PNG")] == PAYLOADS[::-1]


def test_turn_and_slant_are_told():
    assert seen(on_table(USUAL))[0].turn_deg == pytest.approx(0, abs=1)
    assert seen(turned(on_table(USUAL), 90))[0].turn_deg == pytest.approx(90, abs=1)
    assert seen(on_table(USUAL))[0].slant < 0.02 < seen(at_an_angle(on_table(USUAL), 0.35))[0].slant


def test_light_on_dark_is_read_and_told():
    found = seen(Image.eval(USUAL, lambda value: 255 - value), "PNG")
    assert [(item.payload, item.negative) for item in found] == [(PAYLOADS[0], True)]
    assert not seen(USUAL)[0].negative


def test_screenshot_of_two_pixels_a_module_is_read():
    found = seen(cut(page(PDF, 120), 120, 7.25, 12.9, 63.5, 33.9), "PNG")
    assert [item.zxing for item in found] == [PAYLOADS[0]]


def test_picture_without_a_code_has_none():
    assert seen(cut(page(PDF, 300), 300, 9, 14, 30, 12)) == ()
    assert is_blank(read_picture(saved(Image.new("L", (50, 50), 200))).grey)
    assert not is_blank(read_picture(saved(USUAL)).grey)


def test_size_is_told_where_the_picture_states_its_resolution():
    assert sizes(USUAL).side_mm is None
    assert sizes(USUAL, dpi=(400, 400)).side_mm == pytest.approx(SIDE_MM, rel=0.015)
    smaller = USUAL.resize([round(side * 0.95) for side in USUAL.size], Image.Resampling.BICUBIC)
    assert sizes(smaller, dpi=(400, 400)).side_mm == pytest.approx(0.95 * SIDE_MM, rel=0.015)


def test_spread_ink_is_measured_as_growth():
    pixels_a_module = ITEM.module_mm / 25.4 * 600
    assert max(map(abs, sizes(FINE).growth)) < 0.06
    wider = sizes(grown(FINE, 1)).growth
    assert wider == pytest.approx((2 / pixels_a_module,) * 2, abs=0.06)
    assert min(sizes(grown(FINE, 2)).growth) > max(wider)


def test_contrast_is_measured_against_the_labels_own_white_whatever_the_light():
    full, dim = sizes(FINE).contrast, sizes(in_light(FINE, 0.3, 0.3)).contrast
    assert full == pytest.approx(0.8, abs=0.03) and dim == pytest.approx(full, abs=0.05)
    pale = FINE.point(lambda value: 120 + value * 135 // 255)
    assert sizes(pale).contrast == pytest.approx(0.8 * (1 - 120 / 255), abs=0.04)


def test_red_code_has_no_contrast_in_red_light():
    red = Image.merge("RGB", (FINE.point(lambda value: 235 if value < 128 else 255), FINE, FINE))
    photo = read_picture(saved(red))
    found = measured(photo, symbols_in(photo)[0], known_symbol(ITEM), rules())
    assert found.contrast < 0.2 and found.grade.value == 0


def test_coarse_picture_is_not_measured_and_a_slanted_one_not_graded():
    coarse = sizes(cut(page(PDF, 150), 150, 7.25, 12.9, 63.5, 33.9))
    assert coarse.contrast is None and coarse.module_px < 3.5
    slanted = sizes(at_an_angle(on_table(FINE), 0.5))
    assert slanted.grade is None and slanted.contrast is not None
    assert sizes(FINE).grade.value >= 3


def test_damaged_module_lowers_the_grade():
    spotted = FINE.copy()
    centre = [round((place + SIDE_MM / 2) / 25.4 * 600) for place in (ITEM.x_mm, ITEM.y_mm)]
    spotted.paste(0, (centre[0] - 30, centre[1] - 30, centre[0] + 30, centre[1] + 30))
    assert sizes(spotted).grade.value < sizes(FINE).grade.value
