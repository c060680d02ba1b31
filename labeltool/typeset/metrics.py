"""What the fitting needs to know of the fonts: advances, heights and bounds, per weight, in font units."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from labeltool.finding import Finding, Where
from labeltool.typeset.frame import Weight

THIN_SPACES = {"\u2009": 180, "\u202f": 180, "\u200a": 100}  # thousandths of an em; gaps: the face has no such glyphs
HEIGHTS = ("x_height", "cap_height", "figure_height", "figure_step", "ascender", "descender", "stem")
Bounds = tuple[int, int, int, int]  # left, bottom, right, top; y upwards from the baseline


@dataclass(frozen=True, slots=True, eq=False)
class FontMetrics:
    """One weight of the face. Heights are flat (without overshoot); `stem` is the width of the capital I.

    `figure_height` is the height of the lowest digit; `figure_step` the width on which tabular figures stand.
    """

    weight: Weight
    sha256: str
    units_per_em: int
    x_height: int
    cap_height: int
    figure_height: int
    figure_step: int
    ascender: int
    descender: int
    stem: int
    advances: Mapping[str, int]
    bounds: Mapping[str, Bounds]

    def has(self, char: str) -> bool:
        """Whether the face can print a character (thin spaces count: they are gaps)."""
        return char in self.advances or char in THIN_SPACES

    def em(self, units: float) -> float:
        """Font units as ems."""
        return units / self.units_per_em

    def advance(self, char: str, tabular: bool = False) -> float:
        """The step from a character to the next, ems. Raises KeyError for one that the face lacks."""
        if tabular and "0" <= char <= "9":
            return self.figure_step / self.units_per_em
        if char in THIN_SPACES:
            return THIN_SPACES[char] / 1000
        return self.advances[char] / self.units_per_em

    def overhang(self, char: str) -> float:
        """How far the ink of a character reaches out of its advance to the right, ems."""
        return max(0, self.bounds[char][2] - self.advances[char]) / self.units_per_em if char in self.bounds else 0.0

    def width(self, text: str) -> float:
        """The sum of advances of a text, ems."""
        return sum(self.advance(char) for char in text)

    def reach(self, text: str) -> tuple[float, float]:
        """How far the ink of a text rises above the baseline and falls below it, ems, both positive."""
        boxes = [self.bounds[char] for char in text if char in self.bounds]
        top = max((box[3] for box in boxes), default=0)
        bottom = min((box[1] for box in boxes), default=0)
        return max(0, top) / self.units_per_em, max(0, -bottom) / self.units_per_em


@dataclass(frozen=True, slots=True, eq=False)
class FontSet:
    """The three weights of the shipped face."""

    regular: FontMetrics
    medium: FontMetrics
    semibold: FontMetrics

    def of(self, weight: Weight) -> FontMetrics:
        """The metrics of a weight."""
        found: FontMetrics = getattr(self, weight)
        return found


def font_set(table: Mapping[str, Any]) -> FontSet:
    """The fonts of a metrics table as tools/metrics.py writes it."""
    return FontSet(*(_metrics(weight, table[weight]) for weight in ("regular", "medium", "semibold")))


def _metrics(weight: Weight, row: Mapping[str, Any]) -> FontMetrics:
    chars = [chr(code) for code in row["codes"]]
    flat = row["bounds"]
    bounds = zip(chars, zip(flat[0::4], flat[1::4], flat[2::4], flat[3::4], strict=True), strict=True)
    heights = {key: row[key] for key in ("sha256", "units_per_em", *HEIGHTS)}
    return FontMetrics(weight, advances=dict(zip(chars, row["advances"], strict=True)), bounds=dict(bounds), **heights)


def missing_glyphs(texts: Iterable[tuple[str, str]], fonts: FontSet) -> tuple[Finding, ...]:
    """An error for every character that cannot be set, once a block; `texts` are (block, text) pairs.

    Refused are characters without a glyph, loose combining marks and invisible format characters. Nothing is replaced.
    """
    found: dict[tuple[str, str], Finding] = {}
    for block, text in texts:
        for char in text:
            if char != "\n" and (block, char) not in found and _unset(char, fonts):
                found[block, char] = _complaint(char, block, text)
    return tuple(found.values())


def _unset(char: str, fonts: FontSet) -> bool:
    loose = unicodedata.category(char) in ("Mn", "Me", "Cf", "Cc", "Zl", "Zp")
    return loose or not all(font.has(char) for font in (fonts.regular, fonts.medium, fonts.semibold))


def _complaint(char: str, block: str, text: str) -> Finding:
    name = unicodedata.name(char, "a character without a name")
    return Finding(
        "typeset.glyph", "error", f"{block}: U+{ord(char):04X} ({name}) cannot be set, in {_excerpt(text, char)!r}",
        Where(block=block), limit="characters that the label's typeface has a glyph for", do=_cure(char),
    )


def _excerpt(text: str, char: str) -> str:
    at = text.index(char)
    return text[max(0, at - 12):at + 13]


def _cure(char: str) -> str:
    if unicodedata.category(char) in ("Mn", "Me"):
        return "write the letter and its accent as one character"
    if unicodedata.category(char) in ("Cf", "Cc", "Zl", "Zp"):
        return "delete it: it is invisible"
    return "write it in other letters"
