"""Predicted grades of the labels on the pages of a PDF."""

from dataclasses import replace

import pytest
from drawn_symbols import RULES
from label_frames import A4, ROLL, label, laid, written

from labeltool import tables
from labeltool.output.pdf import Placed, Sheet
from labeltool.raster import Pdf
from labeltool.readback.grade import Forecast
from labeltool.readback.model import expect
from labeltool.readback.quality.press import press_of
from labeltool.symbol.qr import matrix

TABLE = tables.toml("readback", "presses")


def forecast(sheets, *, data=None, dpi=600, medium="laser", face="white", behind=None):
    press = press_of(TABLE, medium, face, behind)
    return Forecast(dpi, press, RULES).labels(data or written(sheets), expect(sheets))


def test_each_label_has_the_grade_of_its_symbol():
    found = forecast(laid([label()] * 24))
    assert len(found) == 24 and {(item.value, item.letter) for item in found} == {(4.0, "A")}
    assert len({id(item) for item in found}) <= 4  # equal dots are graded once; some edges lie between two dots


def test_a_label_without_symbol_has_no_grade():
    found = forecast(laid([label(), label(symbol=False), label()]))
    assert [item is None for item in found] == [False, True, False]


def test_a_roll_at_its_dots():
    found = forecast(laid([label(width_mm=57, height_mm=32, dpi=203)], ROLL), dpi=203, medium="direct-thermal")
    assert found[0].letter == "A" and found[0].growth[1] > found[0].growth[0] > 0.05


def test_a_page_or_label_that_is_not_there_has_no_grade():
    sheets = laid([label()] * 30)
    found = forecast(sheets, data=written(sheets[:1]))
    assert [item is None for item in found] == [False] * 24 + [True] * 6
    gone = (replace(sheets[0], placed=sheets[0].placed[1:]), *sheets[1:])
    assert forecast(sheets, data=written(gone))[0] is None


def test_the_file_s_own_dots_count_and_not_what_should_be_there():
    frame = label()
    other = replace(frame.symbols[0], rows=matrix("HTTPS://OTTERSHOLT.EXAMPLE/B/260503B28").rows)
    tampered = replace(frame, items=(*frame.items[:-1], other))
    sheets = laid([frame] * 2)
    found = forecast(sheets, data=written((replace(sheets[0], placed=(
        sheets[0].placed[0], replace(sheets[0].placed[1], frame=tampered))),)))
    assert found[0].value == 4.0 and found[1].value == 0.0
    assert "unused-error-correction" in found[1].limits


@pytest.mark.parametrize("shift", [(0.04, 0.0), (0.25, -0.2), (-0.3, 0.3)])
def test_a_page_that_was_moved_a_little_keeps_its_grades(shift):
    sheets = laid([label()] * 3)
    moved = [Placed(item.frame, item.x_mm + shift[0], item.y_mm + shift[1]) for item in sheets[0].placed]
    found = forecast(sheets, data=written((Sheet(210, 297, tuple(moved)),)))
    assert [item.value for item in found] == [4.0] * 3


def test_a_module_that_is_no_whole_number_of_dots_is_uneven():
    frame = label(dpi=203)
    odd = replace(frame.symbols[0], module_mm=2.5 * 25.4 / 203)
    found, = forecast(laid([replace(frame, items=(*frame.items[:-1], odd))]), dpi=203, medium="thermal-transfer")
    even, = forecast(laid([frame]), dpi=203, medium="thermal-transfer")
    assert found.of("grid-non-uniformity").value > 0.1 > even.of("grid-non-uniformity").value


@pytest.mark.parametrize(("face", "behind", "least", "most"), [
    ("white", None, 4.0, 4.0), ("kraft", None, 2.0, 2.9), ("clear", 1.0, 4.0, 4.0), ("clear", 0.5, 1.5, 2.4),
    ("clear", 0.05, 0.0, 0.0), ("clear", None, 0.0, 0.0),
])
def test_the_face_decides_the_contrast(face, behind, least, most):
    found, = forecast(laid([label()]), face=face, behind=behind)
    assert least <= found.value <= most
    assert found.limits in ((), ("symbol-contrast",))


def test_a_coloured_face_counts_by_its_red_light():
    red, blue = (press_of(TABLE, "laser", "#c04040", face_red=share) for share in (0.53, 0.05))
    assert red.paper > 0.4 > 0.1 > blue.paper >= blue.ink


@pytest.mark.parametrize(("medium", "dpi", "dots"), [
    ("laser", 600, 9), ("laser", 600, 8), ("inkjet", 600, 8), ("thermal-transfer", 203, 3),
    ("thermal-transfer", 300, 4), ("direct-thermal", 203, 3), ("direct-thermal", 203, 4), ("direct-thermal", 300, 4),
])
def test_modules_that_labels_are_set_with_are_predicted_a_on_white(medium, dpi, dots):
    frame = label(dpi=dpi)
    module_mm = dots * 25.4 / dpi
    symbol = replace(frame.symbols[0], module_mm=module_mm, x_mm=round(40 / module_mm) * module_mm, y_mm=12 * module_mm)
    bare = replace(frame, items=(symbol,), boxes=(), words=())
    found, = forecast(laid([bare], A4), dpi=dpi, medium=medium)
    assert found.letter == "A"


def test_more_gain_and_smaller_modules_never_help():
    grades = []
    for gain in (0.0, 0.03, 0.06, 0.09, 0.12):
        press = replace(press_of(TABLE, "laser", "white"), gain_mm=(gain, gain))
        found, = Forecast(300, press, RULES).labels(written(laid([label(dpi=300)])), expect(laid([label(dpi=300)])))
        grades.append(found.value)
    assert grades == sorted(grades, reverse=True) and grades[0] == 4.0 and grades[-1] < 2


def test_a_part_of_a_page_is_the_page_s():
    pdf = Pdf(written(laid([label()] * 3)))
    whole, part = pdf.grey(0, 300), pdf.part(0, 300, (200, 100, 800, 500))
    other = whole.part((200, 100, 800, 500))
    assert (part.width, part.height, len(part.pixels)) == (600, 400, len(other))
    assert sum(abs(one - two) > 8 for one, two in zip(part.pixels, other, strict=True)) < 0.002 * len(other)
    beyond = pdf.part(0, 300, (-20, -30, 5, 1))
    assert set(bytes(beyond.pixels)) == {255}
