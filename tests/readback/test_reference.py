from dataclasses import replace

import pytest
from label_frames import FONTS, label, laid, written

from labeltool.raster import Grey, Pdf
from labeltool.readback.against import drawing_faults
from labeltool.readback.model import expect
from labeltool.readback.read import read_back
from labeltool.readback.reference import differences, drawn_anew

SHEETS = laid([label()] * 2)
EXPECTED = expect(SHEETS, ["260503A31"], FONTS)


def grey(*rows: str) -> Grey:
    """Pixels from digits: 0 black to 9 white."""
    pixels = bytes(255 * int(tone) // 9 for row in rows for tone in row)
    return Grey(len(rows[0]), len(rows), 25.4, memoryview(pixels))


WHITE = grey("9" * 8, *["9" * 8] * 6, "9" * 8)


def with_dot(x: int, y: int, tone: str = "0") -> Grey:
    rows = ["9" * 8 for _ in range(8)]
    rows[y] = rows[y][:x] + tone + rows[y][x + 1:]
    return grey(*rows)


def test_page_drawn_anew_is_the_page():
    found = Pdf(written(SHEETS)).look(0, 300).grey
    assert bytes(drawn_anew(EXPECTED.pages[0], FONTS, 300).pixels) == bytes(found.pixels)


def test_surplus_and_lacking_ink_are_told_with_their_places():
    assert differences(with_dot(3, 4), WHITE).surplus == ((3.0, 4.0, 4.0, 5.0),)
    assert differences(with_dot(3, 4), WHITE).lacking == ()
    assert differences(WHITE, with_dot(6, 1)).lacking == ((6.0, 1.0, 7.0, 2.0),)


@pytest.mark.parametrize(("x", "y", "alike"), [(3, 4, True), (4, 5, True), (2, 3, True), (5, 4, False), (3, 6, False)])
def test_a_pixel_to_any_side_is_no_difference_and_two_are(x, y, alike):
    found = differences(with_dot(x, y), with_dot(3, 4))
    assert (found.surplus == found.lacking == ()) is alike


@pytest.mark.parametrize(("tone", "surplus"), [("9", False), ("8", True), ("5", True)])
def test_a_faint_tint_is_surplus(tone, surplus):
    assert bool(differences(with_dot(3, 3, tone), WHITE).surplus) is surplus


@pytest.mark.parametrize(("tone", "lacking"), [("0", False), ("3", False), ("4", True), ("7", True)])
def test_pale_ink_is_lacking(tone, lacking):
    assert bool(differences(with_dot(3, 3, tone), with_dot(3, 3)).lacking) is lacking


def test_faults_name_the_label_and_its_blocks():
    bare = replace(label(), items=tuple(item for item in label().items if item.block != "opening"))
    drawn = Pdf(written(laid([label(), label()]))).look(0, 300).grey
    found = Pdf(written(laid([label(), bare]))).look(0, 300).grey
    assert list(drawing_faults(found, drawn, EXPECTED.pages[0].labels)) == [
        (2, "readback.ink", "ink is missing in opening")]
    (number, rule, text), = drawing_faults(drawn, found, EXPECTED.pages[0].labels)
    assert (number, rule) == (2, "readback.stray-ink") and text.endswith("mm of the label")


def test_read_back_with_fonts_passes_the_page_and_its_moved_copy():
    assert read_back(written(SHEETS), EXPECTED).matches
    away = [replace(sheet, placed=tuple(replace(item, x_mm=item.x_mm + 0.2, y_mm=item.y_mm - 0.1)
                                        for item in sheet.placed)) for sheet in SHEETS]
    assert read_back(written(away), EXPECTED).matches
