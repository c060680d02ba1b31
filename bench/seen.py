"""Printed symbols as a phone sees them: on a cylinder, from near, tilted, blurred, noisy; for grade_matrix.py."""

import math
from dataclasses import dataclass

import numpy
from scipy import ndimage

from labeltool.raster import Grey
from labeltool.readback import zbar, zxing


@dataclass(frozen=True)
class Camera:
    """A phone: pixels a module in the middle, distance, angles, its blur (sigma) in pixels, and its noise of 255."""

    pixels: float = 5.0
    distance_mm: float = 150.0
    tilt_deg: float = 8.0  # about the axis across: looking from above
    turn_deg: float = 6.0  # round the container: the symbol is not quite in front
    roll_deg: float = 4.0  # in the picture
    blur: float = 0.8
    noise: float = 3.0
    seed: int = 1


def shot(picture, pixel_mm, module_mm, diameter_mm, camera):
    """The grey pixels of a photo (sRGB) of a print; `diameter_mm` None: flat. Returns (height, width) of bytes."""
    light = numpy.frombuffer(picture.pixels, numpy.uint8).reshape(picture.height, picture.width) / 255.0
    side_mm = max(picture.height, picture.width) * pixel_mm
    scale = camera.pixels / module_mm  # pixels a mm at the front
    half = int(side_mm * scale * 0.62) + 4
    across, up = numpy.meshgrid(numpy.arange(-half, half + 1.0), numpy.arange(-half, half + 1.0))
    round_mm, high_mm, shade = _surface(across / scale, up / scale, diameter_mm, camera)
    columns = (round_mm / pixel_mm + picture.width / 2 - 0.5)
    rows = (high_mm / pixel_mm + picture.height / 2 - 0.5)
    seen = ndimage.map_coordinates(light, [rows, columns], order=1, mode="nearest")
    seen = numpy.where(numpy.isnan(shade), 0.25, seen * numpy.nan_to_num(shade))
    seen = ndimage.gaussian_filter(seen, camera.blur)
    srgb = numpy.where(seen <= 0.0031308, 12.92 * seen, 1.055 * numpy.maximum(seen, 1e-9) ** (1 / 2.4) - 0.055)
    noise = numpy.random.default_rng(camera.seed).normal(0, camera.noise, seen.shape)
    return numpy.clip(numpy.round(srgb * 255 + noise), 0, 255).astype(numpy.uint8)


def _surface(x_mm, y_mm, diameter_mm, camera):
    """Where each ray meets the surface: mm round and along it from the middle; the light there, nan for none."""
    roll, tilt, turn = (math.radians(angle) for angle in (camera.roll_deg, camera.tilt_deg, camera.turn_deg))
    x, y = x_mm * math.cos(roll) - y_mm * math.sin(roll), x_mm * math.sin(roll) + y_mm * math.cos(roll)
    # the eye lies before the front point; rays go through the plane that touches it
    eye = numpy.array([0.0, -math.sin(tilt), math.cos(tilt)]) * camera.distance_mm
    toward_y, toward_z = math.cos(tilt), math.sin(tilt)
    aside = 0.0 if diameter_mm is None else -diameter_mm / 2 * math.sin(turn)  # where the symbol's middle is seen
    px, py, pz = x + aside, y * toward_y, y * toward_z
    dx, dy, dz = px - eye[0], py - eye[1], pz - eye[2]
    if diameter_mm is None:
        far = -eye[2] / dz
        return eye[0] + far * dx, eye[1] + far * dy, numpy.ones_like(dx)
    radius = diameter_mm / 2
    a, b = dx * dx + dz * dz, eye[0] * dx + (eye[2] + radius) * dz
    root = b * b - a * (eye[0] ** 2 + (eye[2] + radius) ** 2 - radius ** 2)
    far = numpy.where(root > 0, (-b - numpy.sqrt(numpy.maximum(root, 0))) / a, numpy.nan)
    sx, sz = eye[0] + far * dx, eye[2] + far * dz + radius
    angle = numpy.arctan2(sx, sz)
    return (angle + turn) * radius, eye[1] + far * dy, 0.35 + 0.65 * numpy.cos(angle)


def read(pixels):
    """What zxing and zbar read in a photo."""
    height, width = pixels.shape
    grey = Grey(width, height, 300.0, memoryview(numpy.ascontiguousarray(pixels)).cast("B"))
    found = zxing.find(grey)
    return (found[0].payload if found else None), zbar.read(grey, (0, 0, width, height))
