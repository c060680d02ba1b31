import struct
import zlib
from io import BytesIO

import pytest
from label_frames import A4, ROLL, label, laid, written
from PIL import Image

from labeltool.errors import InputError, MachineError
from labeltool.output.pictures import label_page, stock_page
from labeltool.output.png import dots_png_bytes, png_bytes, rasterise_page, write_dots, write_png, write_preview
from labeltool.raster import Grey
from labeltool.workflow.layouts import stock

PDF = written(laid([label(dpi=203, width_mm=57, height_mm=32)], ROLL))


def picture(data):
    return Image.open(BytesIO(data))


def test_grey_picture_has_the_pixels_of_the_raster():
    grey = rasterise_page(PDF, 0, 203)
    read = picture(png_bytes(grey))
    assert read.size == (grey.width, grey.height) == (456, 256)
    assert read.tobytes() == bytes(grey.pixels)
    assert read.info["dpi"] == pytest.approx((203, 203), abs=0.1)


def test_dots_are_black_where_half_or_more_is_inked():
    grey = Grey(10, 1, 203, memoryview(bytes([0, 127, 128, 255, 0, 0, 0, 0, 0, 255])))
    assert picture(dots_png_bytes(grey)).tobytes() == bytes([0b00110000, 0b01000000])


def test_modules_are_whole_dots_on_the_printers_grid():
    grey = rasterise_page(PDF, 0, 203)
    symbol = label(dpi=203, width_mm=57, height_mm=32).symbols[0]
    left, top = round(grey.to_pixels(symbol.x_mm)), round(grey.to_pixels(symbol.y_mm))
    for line, row in enumerate(symbol.rows):
        for step in range(3):
            pixels = grey.row(top + 3 * line + step, left, left + 75)
            assert all(pixel <= 2 or pixel >= 253 for pixel in pixels)
            assert [pixel < 128 for pixel in pixels] == [cell == "1" for cell in row for _ in range(3)]


def test_preview_is_the_first_page_at_300_dpi(tmp_path):
    write_preview(written(laid([label()])), tmp_path / "page.png")
    with Image.open(tmp_path / "page.png") as read:
        assert read.size == (2480, 3508)
        assert 0 < sum(read.histogram()[:128]) / (2480 * 3508) < 0.1
    assert [path.name for path in tmp_path.iterdir()] == ["page.png"]


def test_dots_file_is_one_bit_a_pixel(tmp_path):
    write_dots(PDF, tmp_path / "dots.png", dpi=203)
    with Image.open(tmp_path / "dots.png") as read:
        assert (read.mode, read.size) == ("1", (456, 256))


def test_png_is_well_formed():
    data = png_bytes(Grey(2, 1, 300, memoryview(b"\x00\xff")))
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at = 8
    names = []
    while at < len(data):
        length, name = struct.unpack(">I4s", data[at:at + 8])
        body = data[at + 4:at + 8 + length]
        assert struct.unpack(">I", data[at + 8 + length:at + 12 + length])[0] == zlib.crc32(body)
        names.append(name)
        at += 12 + length
    assert names == [b"IHDR", b"pHYs", b"IDAT", b"IEND"]


@pytest.mark.parametrize("name", ["page.jpg", "page", "missing/page.png", "folder.png"])
def test_target_that_cannot_be_is_refused_and_nothing_is_left(tmp_path, name):
    (tmp_path / "folder.png").mkdir()
    with pytest.raises(InputError):
        write_preview(PDF, tmp_path / name)
    assert [path.name for path in tmp_path.iterdir()] == ["folder.png"]


def test_failing_disk_is_a_machine_error_and_leaves_nothing(tmp_path, monkeypatch):
    def full(*_args, **_options):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("labeltool.output.png.os.fdopen", full)
    with pytest.raises(MachineError) as caught:
        write_png(Grey(1, 1, 300, memoryview(b"\x00")), tmp_path / "page.png")
    assert "No space left" in caught.value.findings[0].text
    assert list(tmp_path.iterdir()) == []


def test_page_that_is_not_there_is_refused():
    with pytest.raises(InputError):
        rasterise_page(PDF, 1, 203)


@pytest.mark.parametrize("name", [A4, ROLL, "a4-4x6-round-40", "a4-3x7-oval-60x34"])
def test_picture_of_a_stock_shows_the_edge_of_every_label(name):
    item = stock(name, None)
    grey = rasterise_page(stock_page(item), 0, 150)
    middle = item.origin_mm[1] + item.label_mm[1] / 2
    row = grey.row(int(grey.to_pixels(middle)), 0, grey.width)
    for column in range(item.columns):
        left = item.origin_mm[0] + column * item.pitch_mm[0]
        for edge in (left, left + item.label_mm[0]):
            at = round(grey.to_pixels(edge))
            assert min(row[max(0, at - 2):at + 3]) < 200


def test_picture_of_a_label_has_air_around_it():
    grey = rasterise_page(label_page(label()), 0, 150)
    assert grey.to_mm(grey.width) == pytest.approx(69.5, abs=0.2)
    assert min(grey.row(5, 0, grey.width)) == 255
