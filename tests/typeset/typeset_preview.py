"""Draws Frames as PNG, to look at while working on artworks; the product prints by labeltool.output."""

from __future__ import annotations

from io import BytesIO

from PIL import Image, ImageChops, ImageDraw, ImageFont

from labeltool import tables
from labeltool.typeset.frame import Frame, Modules, Outline, Rule, TextRun

OVER = 4  # drawn so many times larger, then reduced


def draw(frame: Frame, dpi: int = 300, boxes: bool = False, edge: bool = True) -> Image.Image:
    """A frame as a grey picture at true size for `dpi`; `edge`: the label's edge as a thin line."""
    scale = dpi * OVER / 25.4
    size = (round(frame.width_mm * scale), round(frame.height_mm * scale))
    image = Image.new("L", size, 255)
    pen = ImageDraw.Draw(image)
    for item in frame.items:
        if isinstance(item, TextRun):
            _text(image, pen, item, scale)
        elif isinstance(item, Rule):
            pen.rectangle(_corners(item.x_mm, item.y_mm, item.width_mm, item.height_mm, scale), fill=0)
        elif isinstance(item, Modules):
            _modules(pen, item, scale)
        else:
            _outline(image, item, scale)
    for box in frame.boxes if boxes else ():
        pen.rectangle(_corners(box.x_mm, box.y_mm, box.width_mm, box.height_mm, scale), outline=150, width=OVER)
    if edge:
        _edge(pen, frame, size, scale)
    return image.resize((size[0] // OVER, size[1] // OVER), Image.Resampling.BOX)


def _corners(x: float, y: float, width: float, height: float, scale: float) -> tuple[float, float, float, float]:
    return x * scale, y * scale, (x + width) * scale - 1, (y + height) * scale - 1


def _text(image: Image.Image, pen: ImageDraw.ImageDraw, run: TextRun, scale: float) -> None:
    pixels = run.size_pt / 72 * 25.4 * scale
    font = ImageFont.truetype(BytesIO(tables.font_bytes(run.weight)), pixels, layout_engine=ImageFont.Layout.BASIC)
    metrics = tables.fonts().of(run.weight)
    x = run.x_mm * scale
    for char in run.text:
        if run.angle_deg:
            _turned(image, run, char, font, x, scale)
        else:
            pen.text((x, run.y_mm * scale), char, font=font, fill=0, anchor="ls")
        x += metrics.advance(char) * pixels + run.spacing_pt / 72 * 25.4 * scale


def _turned(
    image: Image.Image, run: TextRun, char: str, font: ImageFont.FreeTypeFont, x: float, scale: float,
) -> None:
    side = int(font.size * 4)
    mask = Image.new("L", (side, side), 0)
    ImageDraw.Draw(mask).text((side / 2, side / 2), char, font=font, fill=255, anchor="ls")
    mask = mask.rotate(-run.angle_deg, resample=Image.Resampling.BICUBIC, center=(side / 2, side / 2))
    image.paste(0, (round(x - side / 2), round(run.y_mm * scale - side / 2)), mask)


def _modules(pen: ImageDraw.ImageDraw, item: Modules, scale: float) -> None:
    for row, line in enumerate(item.rows):
        for column, dark in enumerate(line):
            if dark == "1":
                x, y = item.x_mm + column * item.module_mm, item.y_mm + row * item.module_mm
                pen.rectangle(_corners(x, y, item.module_mm, item.module_mm, scale), fill=0)


def _outline(image: Image.Image, item: Outline, scale: float) -> None:
    mask = Image.new("1", image.size, 0)
    for contour in _contours(item):
        one = Image.new("1", image.size, 0)
        ImageDraw.Draw(one).polygon([(x * scale, y * scale) for x, y in contour], fill=1)
        mask = ImageChops.logical_xor(mask, one)
    image.paste(0, (0, 0), mask)


def _contours(item: Outline) -> list[list[tuple[float, float]]]:
    found: list[list[tuple[float, float]]] = []
    for name, *values in item.path:
        numbers = [float(value) for value in values]
        points = list(zip(numbers[0::2], numbers[1::2], strict=True))
        if name == "M":
            found.append([points[0]])
        elif name == "L":
            found[-1].append(points[0])
        elif name == "C":
            found[-1] += _curve(found[-1][-1], points[0], points[1], points[2])
    return found


def _curve(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float],
           steps: int = 16) -> list[tuple[float, float]]:
    found = []
    for step in range(1, steps + 1):
        t = step / steps
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        found.append((sum(w * p[0] for w, p in zip(weights, (a, b, c, d), strict=True)),
                      sum(w * p[1] for w, p in zip(weights, (a, b, c, d), strict=True))))
    return found


def _edge(pen: ImageDraw.ImageDraw, frame: Frame, size: tuple[int, int], scale: float) -> None:
    box = (0, 0, size[0] - 1, size[1] - 1)
    if frame.shape == "rectangle":
        pen.rounded_rectangle(box, frame.corner_mm * scale, outline=170, width=OVER)
    else:
        pen.ellipse(box, outline=170, width=OVER)
