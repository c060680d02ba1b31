"""Where ink lies on a raster: none outside a label's boxes, some wherever the label draws."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from labeltool.raster import Char, Grey
from labeltool.readback.model import ExpectedLabel
from labeltool.readback.words import MM_PER_POINT, spans
from labeltool.typeset.frame import Modules, Outline, Picture, Rule, TextRun

AIR_MM = 0.15
DARK, FAINT = 128, 200
_LIGHT = bytes(range(DARK, 256))
Rect = tuple[float, float, float, float]  # left, top, right, bottom, mm


@dataclass(frozen=True, slots=True)
class Bare:
    """A raster whose expected ink was taken away."""

    grey: Grey
    rows: tuple[bytearray, ...]

    @classmethod
    def of(cls, grey: Grey) -> Bare:
        """A copy of a raster to take ink away from."""
        return cls(grey, tuple(bytearray(grey.row(y, 0, grey.width)) for y in range(grey.height)))

    def take(self, rect: Rect) -> None:
        """Make a rectangle white."""
        left, top, right, bottom = pixels(self.grey, rect, AIR_MM)
        blank = b"\xff" * (right - left)
        for y in range(top, bottom):
            self.rows[y][left:right] = blank

    def stray(self) -> Rect | None:
        """The rectangle around all ink that is left, mm; None where there is none."""
        lines = [y for y, row in enumerate(self.rows) if row.translate(None, _LIGHT)]
        if not lines:
            return None
        spans = [[x for x, value in enumerate(self.rows[y]) if value < DARK] for y in lines]
        left, right = min(span[0] for span in spans), max(span[-1] for span in spans) + 1
        return self.grey.to_mm(left), self.grey.to_mm(lines[0]), self.grey.to_mm(right), self.grey.to_mm(lines[-1] + 1)


def pixels(grey: Grey, rect: Rect, air_mm: float = 0.0) -> tuple[int, int, int, int]:
    """A rectangle in whole pixels within the raster, grown by some air."""
    left, top, right, bottom = (grey.to_pixels(side) for side in rect)
    air = grey.to_pixels(air_mm)
    return (
        min(grey.width, max(0, math.floor(left - air))), min(grey.height, max(0, math.floor(top - air))),
        min(grey.width, max(0, math.ceil(right + air))), min(grey.height, max(0, math.ceil(bottom + air))),
    )


def darkest(grey: Grey, rect: Rect) -> int:
    """The darkest pixel of a rectangle; 255 where it is empty."""
    left, top, right, bottom = pixels(grey, rect)
    if right <= left:
        return 255
    return min((min(grey.row(y, left, right)) for y in range(top, bottom)), default=255)


def inked(grey: Grey, rect: Rect) -> bool:
    """Whether any pixel of a rectangle has ink, faint ink too; looks no further than the first row that has."""
    left, top, right, bottom = pixels(grey, rect)
    return right > left and any(min(grey.row(y, left, right)) <= FAINT for y in range(top, bottom))


def label_rect(label: ExpectedLabel) -> Rect:
    """The rectangle of a label on its page."""
    return label.x_mm, label.y_mm, label.x_mm + label.frame.width_mm, label.y_mm + label.frame.height_mm


def inked_rects(label: ExpectedLabel) -> Iterator[Rect]:
    """Where a label may have ink: its boxes and its shapes."""
    for box in label.frame.boxes:
        yield _at(label, box.x_mm, box.y_mm, box.width_mm, box.height_mm)
    for item in label.frame.items:
        if not isinstance(item, TextRun):
            yield shape_rect(label, item)


def shape_rect(label: ExpectedLabel, item: Rule | Outline | Modules | Picture) -> Rect:
    """The rectangle around a shape."""
    if isinstance(item, Rule | Picture):
        return _at(label, item.x_mm, item.y_mm, item.width_mm, item.height_mm)
    if isinstance(item, Modules):
        side = item.module_mm * len(item.rows)
        return _at(label, item.x_mm, item.y_mm, side, side)
    xs = [float(number) for command in item.path for number in command[1::2]]
    ys = [float(number) for command in item.path for number in command[2::2]]
    return _at(label, min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def char_rects(label: ExpectedLabel, chars: Sequence[Char]) -> Iterator[tuple[TextRun, Rect]]:
    """A rectangle in which each character has ink, for upright runs; `chars` are those of the runs in order."""
    for run, char, right in spans(label, chars):
        size_mm = run.size_pt * MM_PER_POINT
        if right > char.x_mm:
            yield run, (char.x_mm, char.y_mm - 0.8 * size_mm, right, char.y_mm + 0.25 * size_mm)


def ink_faults(grey: Grey, label: ExpectedLabel, chars: Sequence[Char]) -> Iterator[str]:
    """The blocks of a label of which something is not inked. `chars`: the label's own, or none where they differ."""
    faults: dict[str, None] = {}
    for item in label.frame.items:
        if isinstance(item, Rule | Outline | Picture) and not inked(grey, shape_rect(label, item)):
            faults[item.block] = None
    if chars:
        faults |= dict.fromkeys(run.block for run, rect in char_rects(label, chars) if not inked(grey, rect))
    yield from faults


def wrong_modules(grey: Grey, label: ExpectedLabel, item: Modules) -> int:
    """How many modules of a symbol have the wrong colour at their centre."""
    left, top = grey.to_pixels(label.x_mm + item.x_mm), grey.to_pixels(label.y_mm + item.y_mm)
    step = grey.to_pixels(item.module_mm)
    columns = [int(left + step * (index + 0.5)) for index in range(len(item.rows))]
    if columns[-1] >= grey.width or min(left, top) < 0:
        return len(item.rows) ** 2
    wrong = 0
    for line, cells in enumerate(item.rows):
        y = int(top + step * (line + 0.5))
        if y >= grey.height:
            return len(item.rows) ** 2
        base = y * grey.width
        wrong += sum((grey.pixels[base + x] < DARK) != (cell == "1") for x, cell in zip(columns, cells, strict=True))
    return wrong


def _at(label: ExpectedLabel, x: float, y: float, width: float, height: float) -> Rect:
    return label.x_mm + x, label.y_mm + y, label.x_mm + x + width, label.y_mm + y + height


