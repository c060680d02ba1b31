"""How tall a label's letters are on the raster, against the least that each block may have."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from statistics import median

from labeltool.raster import Area, Char, Grey, Pdf
from labeltool.readback.ink import DARK, label_rect
from labeltool.readback.model import ExpectedLabel
from labeltool.readback.words import MM_PER_POINT, WordFault, spans

FLAT = {"x": "xzvwu", "figure": "1247"}  # letters that end level at the height, and digits that end level at theirs
STEMS = {"x": "nmr", "figure": ""}        # of these the left stem: where a size has none of the others
STEM_SHARE = 0.4
FINE_DPI, MOST_PIXELS = 1200.0, 20_000_000
ROUNDING_MM = 0.02  # a pixel at 1200 dpi


@dataclass(slots=True)
class Heights:
    """Measures each frame once, where it first lies."""

    known: dict[int, tuple[WordFault, ...]] = field(default_factory=dict)

    def faults(self, pdf: Pdf, page: int, label: ExpectedLabel, chars: Sequence[Char]) -> tuple[WordFault, ...]:
        """What is wrong with the heights of a label's letters."""
        key = id(label.frame)
        if key not in self.known:
            self.known[key] = tuple(height_faults(pdf, page, label, chars))
        return self.known[key]


def height_faults(pdf: Pdf, page: int, label: ExpectedLabel, chars: Sequence[Char]) -> Iterator[WordFault]:
    """The blocks set smaller than they may be; `chars` are those of the label's runs."""
    asked = [least for least in label.least if least.measure in FLAT]
    if not asked:
        return
    found = measured(pdf, page, label, chars)
    for least in asked:
        height = found.get((least.block, least.measure))
        if height is not None and height < least.height_mm - ROUNDING_MM:
            what = "x-height" if least.measure == "x" else "figures"
            yield WordFault("readback.height", f"the {least.block} measures {height:.2f} mm ({what}) on paper,"
                            f" and may not be under {least.height_mm:.2f} mm")


def measured(pdf: Pdf, page: int, label: ExpectedLabel, chars: Sequence[Char]) -> dict[tuple[str, str], float]:
    """The height of the smallest letters of each (block, measure), mm: of each size the median; blocks without
    letters that can be measured are left out."""
    grey, left, top = _part(pdf, page, label)
    heights: dict[tuple[str, str, float], list[float]] = {}
    by_stems: dict[tuple[str, str, float], list[float]] = {}
    for run, char, right in spans(label, chars):
        for measure in FLAT:
            for table, share, found in ((FLAT, 1.0, heights), (STEMS, STEM_SHARE, by_stems)):
                if char.text in table[measure]:
                    x0, x1 = char.x_mm - left, char.x_mm - left + share * (right - char.x_mm)
                    height = _height(grey, x0, x1, char.y_mm - top, run.size_pt * MM_PER_POINT)
                    found.setdefault((run.block, measure, run.size_pt), []).append(height)
    smallest: dict[tuple[str, str], float] = {}
    for (block, measure, _), values in (by_stems | heights).items():
        height = median(values)
        smallest[block, measure] = min(height, smallest.get((block, measure), height))
    return smallest


def _part(pdf: Pdf, page: int, label: ExpectedLabel) -> tuple[Grey, float, float]:
    """The label as fine as it may be, and where its corner lies, mm."""
    rect = label_rect(label)
    across, down = ((rect[2] - rect[0]) / 25.4, (rect[3] - rect[1]) / 25.4)
    dpi = min(FINE_DPI, math.sqrt(MOST_PIXELS / (across * down)))
    area: Area = (math.floor(rect[0] / 25.4 * dpi), math.floor(rect[1] / 25.4 * dpi),
                  math.ceil(rect[2] / 25.4 * dpi), math.ceil(rect[3] / 25.4 * dpi))
    grey = pdf.part(page, dpi, area)
    return grey, grey.to_mm(area[0]), grey.to_mm(area[1])


def _height(grey: Grey, left: float, right: float, base: float, size: float) -> float:
    """From the baseline to where a letter's ink ends upwards, mm; 0 where it has none."""
    x0, x1 = (min(grey.width, max(0, round(grey.to_pixels(side)))) for side in (left, right))
    foot = grey.to_pixels(base)
    y = min(grey.height, round(foot - 0.1 * grey.to_pixels(size)))
    while y > 0 and min(grey.row(y - 1, x0, x1), default=255) < DARK:
        y -= 1
    return max(0.0, grey.to_mm(foot - y))
