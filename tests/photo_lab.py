"""Photos and scans of printed pages, simulated: seen at an angle, turned, blurred, noisy, in uneven or little light.

Pixels are shares of light until `as_camera` writes them as cameras and scanners do (sRGB).
"""

from __future__ import annotations

import random
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageFilter

from labeltool.raster import Pdf

MM = 1 / 25.4


def page(pdf: bytes | Path, dpi: float = 300, number: int = 0) -> Image.Image:
    """A page as a flat picture."""
    data = pdf.read_bytes() if isinstance(pdf, Path) else pdf
    grey = Pdf(data).grey(number, dpi)
    return Image.frombytes("L", (grey.width, grey.height), bytes(grey.pixels))


def cut(picture: Image.Image, dpi: float, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> Image.Image:
    """A part of a page, mm."""
    box = tuple(round(side * MM * dpi) for side in (x_mm, y_mm, x_mm + width_mm, y_mm + height_mm))
    return picture.crop(box)


def saved(picture: Image.Image, kind: str = "PNG", **options) -> bytes:
    """The picture as a file."""
    target = BytesIO()
    picture.save(target, kind, **options)
    return target.getvalue()


def as_camera(picture: Image.Image) -> Image.Image:
    """Light as a picture file holds it (IEC 61966-2-1)."""
    def tone(value: int) -> int:
        share = value / 255
        return round(255 * (12.92 * share if share <= 0.0031308 else 1.055 * share ** (1 / 2.4) - 0.055))
    return picture.point([tone(value) for value in range(256)])


def on_table(picture: Image.Image, air: float = 0.3, tone: int = 90) -> Image.Image:
    """The picture lying on a darker ground."""
    wide, tall = (round(side * (1 + air)) for side in picture.size)
    ground = Image.new("L", (wide, tall), tone)
    ground.paste(picture, ((wide - picture.width) // 2, (tall - picture.height) // 2))
    return ground


def _coefficients(target, source):
    """The eight numbers of a projection that takes target corners to source corners, by elimination."""
    rows = []
    for (x, y), (u, v) in zip(target, source, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, v])
    for index in range(8):
        pivot = max(range(index, 8), key=lambda line: abs(rows[line][index]))
        rows[index], rows[pivot] = rows[pivot], rows[index]
        for line in range(8):
            if line != index:
                share = rows[line][index] / rows[index][index]
                rows[line] = [a - share * b for a, b in zip(rows[line], rows[index], strict=True)]
    return [rows[index][8] / rows[index][index] for index in range(8)]


def at_an_angle(picture: Image.Image, slant: float = 0.2, tone: int = 90) -> Image.Image:
    """Seen from below: the far side is narrower by `slant`, the height shorter by half of it."""
    wide, tall = picture.size
    inset, short = wide * slant / 2, tall * slant / 2
    target = [(inset, short), (wide - inset, short), (wide, tall), (0, tall)]
    source = [(0, 0), (wide, 0), (wide, tall), (0, tall)]
    return picture.transform(picture.size, Image.Transform.PERSPECTIVE, _coefficients(target, source),
                             Image.Resampling.BICUBIC, fillcolor=tone)


def turned(picture: Image.Image, degrees: float, tone: int = 90) -> Image.Image:
    """Turned clockwise."""
    return picture.rotate(-degrees, Image.Resampling.BICUBIC, expand=True, fillcolor=tone)


def blurred(picture: Image.Image, sigma: float) -> Image.Image:
    """Out of focus."""
    return picture.filter(ImageFilter.GaussianBlur(sigma))


def noisy(picture: Image.Image, sigma: float, seed: int = 15415) -> Image.Image:
    """With the grain of a small sensor."""
    chance = random.Random(seed)
    grain = [chance.gauss(0, sigma) for _ in range(5003)]
    pixels = picture.tobytes()
    shifts = (grain[(index * 7 + index // 977) % 5003] for index in range(len(pixels)))
    return Image.frombytes("L", picture.size, bytes(
        min(255, max(0, round(value + shift))) for value, shift in zip(pixels, shifts, strict=True)))


def in_light(picture: Image.Image, left: float, right: float) -> Image.Image:
    """Light that falls off from one side to the other, as shares of full light."""
    wide, tall = picture.size
    row = bytes(round(255 * (left + (right - left) * x / wide)) for x in range(wide))
    light = Image.frombytes("L", (wide, 1), row).resize((wide, tall))
    black = Image.new("L", picture.size, 0)
    return Image.composite(picture, black, light)


def grown(picture: Image.Image, pixels: int) -> Image.Image:
    """Ink that has spread."""
    return picture.filter(ImageFilter.MinFilter(2 * pixels + 1))
