"""Predicted grades: of symbols in pictures, and of those on the pages of a PDF as a printer would make them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from labeltool.raster import Area, Grey, Pdf
from labeltool.readback.alike import first_likes
from labeltool.readback.model import Expected, ExpectedLabel
from labeltool.readback.quality.container import Cylinder
from labeltool.readback.quality.grading import grade
from labeltool.readback.quality.model import Grade, Known, Picture, Point, Standard
from labeltool.readback.quality.predict import Seat, predicted
from labeltool.readback.quality.press import INCH_MM, Dots, Press
from labeltool.symbol.qr import blocks
from labeltool.typeset.frame import Modules

QUIET = 4
MARGIN = QUIET + 1  # modules of the page looked at around a symbol: one more for a page that was moved
FULLY = 128
_DIGITS = bytes(ord("1") if value < FULLY else ord("0") for value in range(256))


def _straight(value: int) -> int:
    share = value / 255
    return round(255 * (share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4))


_LIGHT = bytes(_straight(value) for value in range(256))


def grade_image(pixels: bytes, width: int, height: int, corners: Sequence[Point], known: Known, rules: Standard, *,
                camera: bool = True) -> Grade:
    """The grade of a symbol in grey pixels, row by row.

    `corners`: of its dark square in pixels, from the first module's clockwise; a module or so of error is found out.
    `camera`: the pixels are those of a picture file (sRGB), and are made straight first. A photo's light is not known,
    so its contrast is a share of what the picture holds, not a reflectance.
    """
    return grade(Picture(pixels.translate(_LIGHT) if camera else pixels, width, height), corners, known, rules)


def known_symbol(item: Modules) -> Known:
    """What a symbol of a frame should be."""
    return Known(item.rows, item.version, item.level, blocks(item.version, item.level))


@dataclass(slots=True)
class Forecast:
    """Predicts grades from pages; equal symbols once."""

    dpi: int
    press: Press
    rules: Standard
    view_deg: float = 0.0  # how far from square a container is looked at
    done: dict[tuple[object, ...], Grade] = field(default_factory=dict)

    def labels(self, data: bytes, expected: Expected) -> tuple[Grade | None, ...]:
        """The grade of each expected label's first symbol, in order; None where it has none, or none is there."""
        pdf = Pdf(data)
        likes = first_likes(data, pdf.page_count)
        pages: dict[tuple[int, int], tuple[Grade | None, ...]] = {}
        found: list[Grade | None] = []
        for number, (page, kind) in enumerate(zip(expected.pages, expected.kinds(), strict=True)):
            if number >= pdf.page_count:
                found += [None] * len(page.labels)
                continue
            key = (likes[number], kind)
            if key not in pages:
                pages[key] = tuple(self._label(pdf, number, label) for label in page.labels)
            found += pages[key]
        return tuple(found)

    def _label(self, pdf: Pdf, page: int, label: ExpectedLabel) -> Grade | None:
        for item in label.frame.symbols[:1]:
            area = self._area(label, item)
            return self.symbol(pdf.part(page, self.dpi, area), item, area, label)
        return None

    def _area(self, label: ExpectedLabel, item: Modules) -> Area:
        dot = INCH_MM / self.dpi
        left, top = (label.x_mm + item.x_mm) / dot, (label.y_mm + item.y_mm) / dot
        side, margin = len(item.rows) * item.module_mm / dot, MARGIN * item.module_mm / dot
        return round(left - margin), round(top - margin), round(left + side + margin), round(top + side + margin)

    def symbol(self, grey: Grey, item: Modules, area: Area, label: ExpectedLabel) -> Grade | None:
        """The grade of a symbol from the dots of its part of the page; None where nothing is inked."""
        rows = tuple(_dots(grey))
        if not any("1" in row for row in rows):
            return None
        rows, seat = _trimmed(rows, self._seat(rows, item, area, label), len(item.rows))
        key = (rows, seat, item.rows, label.diameter_mm)
        if key not in self.done:
            dots = Dots(rows, INCH_MM / self.dpi)
            self.done[key] = predicted(dots, seat, known_symbol(item), self.press, self.rules,
                                       Cylinder(label.diameter_mm, self.view_deg) if label.diameter_mm else None)
        return self.done[key]

    def _seat(self, rows: tuple[str, ...], item: Modules, area: Area, label: ExpectedLabel) -> Seat:
        """The symbol by its ink where that is as large as it should be, else where it was set."""
        dot = INCH_MM / self.dpi
        side = round(len(item.rows) * item.module_mm / dot)
        inked = [index for index, row in enumerate(rows) if "1" in row]
        left, right = min(row.find("1") for row in rows if "1" in row), max(row.rfind("1") for row in rows) + 1
        top, bottom = inked[0], inked[-1] + 1
        if abs(right - left - side) <= 1 and abs(bottom - top - side) <= 1:
            return Seat(left, top, side)
        across, down = (round(place / dot) for place in (label.x_mm + item.x_mm, label.y_mm + item.y_mm))
        return Seat(across - area[0], down - area[1], side)


def _trimmed(rows: tuple[str, ...], seat: Seat, modules: int) -> tuple[tuple[str, ...], Seat]:
    """The dots of the symbol and its quiet zone alone, so that equal symbols are told by equal dots."""
    quiet = round(QUIET * seat.side / modules)
    left, top = max(0, round(seat.left) - quiet), max(0, round(seat.top) - quiet)
    right, bottom = round(seat.left + seat.side) + quiet, round(seat.top + seat.side) + quiet
    return tuple(row[left:right] for row in rows[top:bottom]), Seat(seat.left - left, seat.top - top, seat.side)


def _dots(grey: Grey) -> Iterator[str]:
    """The rows as "0"/"1": inked where at least half of the dot is."""
    for y in range(grey.height):
        yield grey.row(y, 0, grey.width).translate(_DIGITS).decode("ascii")
