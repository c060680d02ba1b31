import random
import struct
import zlib
from io import BytesIO

import pytest
from photo_lab import saved
from PIL import Image

from labeltool.errors import InputError
from labeltool.readback.pictures import kind_of, read_picture, scaled, turned_over

STEPS = Image.frombytes("L", (40, 20), bytes(range(0, 240, 6)) * 20)


def rule(data):
    with pytest.raises(InputError) as caught:
        read_picture(data)
    return caught.value.findings[0].rule


def tones(data):
    photo = read_picture(data)
    return bytes(photo.grey.pixels[:40])


@pytest.mark.parametrize("mode", ["L", "RGB", "RGBA", "P", "LA"])
def test_png_of_every_mode_gives_the_same_grey(mode):
    assert max(abs(a - b) for a, b in zip(tones(saved(STEPS.convert(mode))), STEPS.tobytes()[:40], strict=True)) <= 1


def test_sixteen_bits_and_one_bit_are_read():
    deep = Image.frombytes("I;16", (40, 20), b"".join(struct.pack("<H", value * 257) for value in STEPS.tobytes()))
    assert max(abs(a - b) for a, b in zip(tones(saved(deep)), STEPS.tobytes()[:40], strict=True)) <= 1
    assert set(tones(saved(STEPS.convert("1")))) == {0, 255}


@pytest.mark.parametrize("mode", ["L", "RGB", "CMYK"])
def test_jpeg_of_every_mode_gives_nearly_the_same_grey(mode):
    found = tones(saved(STEPS.convert(mode), "JPEG", quality=95))
    assert max(abs(a - b) for a, b in zip(found, STEPS.tobytes()[:40], strict=True)) <= 12


def test_what_is_transparent_is_white():
    clear = Image.new("RGBA", (30, 30), (0, 0, 0, 0))
    assert set(read_picture(saved(clear)).grey.pixels) == {255}


def test_red_ink_is_white_in_red_light_and_dark_to_the_eye():
    photo = read_picture(saved(Image.new("RGB", (30, 30), (230, 0, 0))))
    assert photo.red.pixels[0] == 230 and photo.grey.pixels[0] < 90


def test_picture_taken_on_its_side_is_turned_upright():
    exif = Image.Exif()
    exif[0x0112] = 6
    photo = read_picture(saved(STEPS, "JPEG", exif=exif))
    assert (photo.grey.width, photo.grey.height) == (20, 40)


@pytest.mark.parametrize(("dpi", "taken"), [((300, 300), 300), ((600, 600), 600), ((72, 72), None), ((96, 96), None),
                                            ((300, 600), None), ((30000, 30000), None)])
def test_only_a_scanners_resolution_is_believed(dpi, taken):
    assert read_picture(saved(STEPS, "JPEG", dpi=dpi)).dpi == taken
    assert read_picture(saved(STEPS)).dpi is None


def test_a_cameras_resolution_is_known_to_be_a_cameras():
    exif = Image.Exif()
    exif[0x0110] = "A camera"
    assert read_picture(saved(STEPS, "JPEG", dpi=(300, 300), exif=exif)).camera
    assert not read_picture(saved(STEPS, "JPEG", dpi=(300, 300))).camera


def big_png(width, height):
    """The head of a PNG of that size, without its pixels."""
    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


@pytest.mark.parametrize(("data", "told"), [
    (big_png(20_000, 20_000), "picture.size"), (big_png(2**31 - 1, 2**31 - 1), "picture.size"),
    (saved(STEPS)[:60], "picture.broken"), (saved(STEPS, "JPEG")[:300], "picture.broken"),
    (b"\xff\xd8\xff", "picture.broken"), (b"\x89PNG\r\n\x1a\n", "picture.broken"), (big_png(0, 10), "picture.broken"),
    (saved(STEPS, "GIF"), "picture.kind"), (saved(STEPS, "BMP"), "picture.kind"),
    (saved(STEPS, "TIFF"), "picture.kind"),
    (saved(STEPS, "WEBP"), "picture.kind"), (b"\0\0\0\x18ftypheic" + b"\0" * 40, "picture.kind"),
])
def test_picture_that_cannot_be_read_is_refused(data, told):
    assert rule(data) == told


def test_kinds_are_told_by_their_first_bytes():
    assert [kind_of(data) for data in (saved(STEPS), saved(STEPS, "JPEG"), b"%PDF-1.6", b"", b"II")] == [
        "PNG", "JPEG", None, None, None]


def test_scaling_and_turning_over():
    grey = read_picture(saved(STEPS)).grey
    twice = scaled(grey, 2)
    assert (twice.width, twice.height) == (80, 40)
    assert scaled(grey.cut((10, 5, 20, 15)), 3).width == 30
    assert [turned_over(grey).pixels[x] for x in (0, 5)] == [255, 225]


def test_damaged_pictures_are_read_or_refused_and_never_anything_else(samples):
    chance = random.Random(2026)
    whole = [saved(STEPS.convert("RGB")), saved(STEPS, "JPEG")]
    refused = 0
    for _ in range(samples(200)):
        data = bytearray(chance.choice(whole))
        for _ in range(chance.randint(1, 8)):
            data[chance.randrange(3, len(data))] = chance.randrange(256)
        try:
            read_picture(bytes(data[:chance.randint(4, 2 * len(data))]))
        except InputError:
            refused += 1
    assert refused > 0


def test_stream_of_bytes_is_left_as_it_was():
    data = saved(STEPS)
    read_picture(data)
    assert data == saved(STEPS) and Image.open(BytesIO(data)).size == (40, 20)
