"""The model of a print against the same worked out by brute force with scipy: dots, dilation, Gaussian, mean."""

import math
import random

import numpy
import pytest
from scipy import ndimage

from labeltool.readback.quality.press import Dots, Press, printed

FINE = 0.0025  # mm, side of a brute-force pixel


def brute(dots, press, pixel_mm):
    """Supersampled: every dot as a square, grown by a rectangle, blurred; then the mean over each pixel."""
    each = round(dots.dot_mm / FINE)
    ink = numpy.kron(numpy.array([[int(cell) for cell in row] for row in dots.rows]), numpy.ones((each, each)))
    across, down = (round(abs(gain) / FINE) for gain in press.gain_mm)
    grow = ndimage.grey_dilation if press.gain_mm[0] >= 0 else ndimage.grey_erosion
    ink = grow(ink, size=(2 * down + 1, 2 * across + 1))
    soft = ndimage.gaussian_filter(ink.astype(float), press.edge_mm / FINE, mode="nearest")
    step = round(pixel_mm / FINE)
    high, wide = soft.shape[0] // step, soft.shape[1] // step
    mean = soft[:high * step, :wide * step].reshape(high, step, wide, step).mean(axis=(1, 3))
    return 255 * (press.paper - (press.paper - press.ink) * mean)


def pattern(seed, side=14):
    chance = random.Random(seed)
    edge = ["0" * (side + 6)] * 3
    rows = ["000" + "".join(chance.choice("01") for _ in range(side)) + "000" for _ in range(side)]
    return Dots((*edge, *rows, *edge), 0.12)


@pytest.mark.parametrize("gain", [(0.0, 0.0), (0.02, 0.02), (0.01, 0.03), (-0.02, -0.02), (-0.01, -0.03)])
@pytest.mark.parametrize("edge", [0.015, 0.03])
def test_a_print_is_what_brute_force_makes_of_it(gain, edge):
    press = Press(gain, edge, 0.85, 0.05)
    dots = pattern(7)
    pixel = 0.03
    made = printed(dots, press, pixel)
    mine = numpy.frombuffer(made.pixels, numpy.uint8).reshape(made.height, made.width).astype(float)
    away = numpy.abs(mine - brute(dots, press, pixel))
    assert mine.shape == (80, 80)
    assert away.mean() < 1.0 and numpy.percentile(away, 99) < 6 and away.max() < 12  # of 255


def test_a_lone_edge_is_the_normal_distribution():
    press = Press((0.0, 0.0), 0.03, 1.0, 0.0)
    dots = Dots(("0" * 20 + "1" * 20,) * 20, 0.1)
    made = printed(dots, press, 0.01)
    sigma = math.hypot(0.03, 0.01 / math.sqrt(12))
    for x in range(180, 220):
        wanted = 255 * (0.5 - math.erf((x + 0.5 - 200) * 0.01 / sigma / math.sqrt(2)) / 2)
        assert abs(made.pixels[100 * made.width + x] - wanted) <= 0.51


@pytest.mark.parametrize("gain", [-0.03, 0.0, 0.02, 0.05])
def test_the_ink_of_a_square_is_its_area_with_the_gain(gain):
    rows = ("0" * 30,) * 10 + ("0" * 10 + "1" * 10 + "0" * 10,) * 10 + ("0" * 30,) * 10
    made = printed(Dots(rows, 0.1), Press((gain, gain), 0.02, 1.0, 0.0), 0.02)
    ink = sum(255 - value for value in made.pixels) / 255 * 0.02 ** 2
    assert ink == pytest.approx((1 + 2 * gain) ** 2, rel=0.01)
