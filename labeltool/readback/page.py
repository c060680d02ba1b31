"""One page of a PDF against what should be on it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from labeltool.raster import Char, Grey, Pdf
from labeltool.readback import zxing
from labeltool.readback.against import drawing_faults
from labeltool.readback.align import aligned
from labeltool.readback.file import page_faults
from labeltool.readback.heights import Heights
from labeltool.readback.ink import Bare, Rect, char_rects, ink_faults, inked, inked_rects, label_rect
from labeltool.readback.margins import margin_faults
from labeltool.readback.model import Decoded, ExpectedLabel, ExpectedPage, FoundSymbol
from labeltool.readback.reference import drawn_anew
from labeltool.readback.symbols import RESOLUTIONS, Decoders, middle
from labeltool.readback.words import WordFault, squash, word_faults

SIZE_MM = 0.1


class Fault(NamedTuple):
    """A fault of a page (`label` 0) or of one of its labels, counted from 1."""

    label: int
    rule: str
    text: str


@dataclass(frozen=True, slots=True)
class PageReading:
    """A page as read: of each label what was decoded and whether it is as expected; and all faults."""

    labels: tuple[tuple[Decoded, bool], ...]
    faults: tuple[Fault, ...]


@dataclass(slots=True)
class Rasters:
    """The rasters of one page, each made once."""

    pdf: Pdf
    page: int
    made: dict[float, Grey] = field(default_factory=dict)

    def __call__(self, dpi: float) -> Grey:
        """The page at a resolution."""
        if dpi not in self.made:
            self.made[dpi] = self.pdf.grey(self.page, dpi)
        return self.made[dpi]


@dataclass(frozen=True, slots=True)
class Tools:
    """What the pages of a file are read with. With `fonts` they are drawn anew and compared."""

    fonts: Mapping[str, bytes] = field(default_factory=dict)
    decoders: Decoders = field(default_factory=Decoders)
    heights: Heights = field(default_factory=Heights)


def read_page(pdf: Pdf, page: int, expected: ExpectedPage, tools: Tools) -> PageReading:
    """Read page number `page` (from 0)."""
    look = pdf.look(page, RESOLUTIONS[0])
    grey = look.grey
    rasters = Rasters(pdf, page, {RESOLUTIONS[0]: grey})
    chars, loose = _sorted_chars(pdf.chars(page), expected.labels)
    faults = [Fault(0, rule, text) for rule, text in (*_size_faults(pdf.size_mm(page), expected),
                                                      *page_faults(pdf, page))]
    if look.coloured:
        faults.append(Fault(0, "readback.colour", "the page is not in black alone"))
    placed = aligned(expected.labels, chars)
    read = [_read_label(label, own, rasters, tools) for label, own in zip(placed, chars, strict=True)]
    for number, (_, found) in enumerate(read, 1):
        faults += [Fault(number, fault.rule, fault.text) for fault in found]
    faults += [Fault(0, rule, text) for rule, text in _extra_faults(grey, expected, loose)]
    anew = drawn_anew(replace(expected, labels=placed), tools.fonts, RESOLUTIONS[0]) if tools.fonts else None
    if anew is not None and (anew.width, anew.height) == (grey.width, grey.height):
        known = {number for number, (_, found) in enumerate(read, 1) if found}
        faults += [Fault(*told) for told in drawing_faults(grey, anew, placed) if told[0] not in known]
    else:
        faults += _stray(grey, placed, chars, [found for _, found in read])
    wrong = {fault.label for fault in faults}
    labels = tuple((decoded, number not in wrong) for number, (decoded, _) in enumerate(read, 1))
    return PageReading(labels, tuple(faults))


def _stray(grey: Grey, labels: Sequence[ExpectedLabel], chars: Sequence[Sequence[Char]],
           found: Sequence[Sequence[WordFault]]) -> Iterator[Fault]:
    """Ink outside all that the labels draw."""
    bare = Bare.of(grey)
    for label, own, faults in zip(labels, chars, found, strict=True):
        _take(bare, label, own, words=not any(fault.rule.endswith(("text", "moved")) for fault in faults))
    stray = bare.stray()
    if stray is not None:
        yield Fault(0, "readback.stray-ink", f"ink where none should be, from {stray[0]:.1f}, {stray[1]:.1f}"
                    f" to {stray[2]:.1f}, {stray[3]:.1f} mm")


def _read_label(label: ExpectedLabel, chars: Sequence[Char], rasters: Rasters,
                tools: Tools) -> tuple[Decoded, tuple[WordFault, ...]]:
    grey = rasters(RESOLUTIONS[0])
    if not chars and label.frame.items and not inked(grey, label_rect(label)):
        return Decoded(), (WordFault("readback.missing", "the label is missing"),)
    words = tuple(word_faults(label, chars)) or tools.heights.faults(rasters.pdf, rasters.page, label, chars)
    decoded, symbols = tools.decoders.read(label, rasters)
    faint = () if tools.fonts else tuple(ink_faults(grey, label, () if words else chars))
    ink = (WordFault("readback.ink", f"ink is missing in {', '.join(faint)}"),) if faint else ()
    margins = () if tools.fonts else tuple(margin_faults(grey, label))
    return decoded, (*symbols, *words, *ink, *margins)


def _take(bare: Bare, label: ExpectedLabel, chars: Sequence[Char], *, words: bool) -> None:
    """Take away the ink that belongs to a label."""
    for rect in inked_rects(label):
        bare.take(rect)
    if words:
        for _, rect in char_rects(label, chars):
            bare.take(rect)


def _sorted_chars(chars: Sequence[Char], labels: Sequence[ExpectedLabel]) -> tuple[list[list[Char]], list[Char]]:
    """The characters by the label they stand on, and those that stand on none."""
    rects = [label_rect(label) for label in labels]
    own: list[list[Char]] = [[] for _ in labels]
    loose: list[Char] = []
    last = 0
    for char in chars:
        if not (rects and _within(char, rects[last])):
            last = next((index for index, rect in enumerate(rects) if _within(char, rect)), -1)
        if last < 0:
            loose.append(char)
            last = 0
        else:
            own[last].append(char)
    return own, loose


def _within(char: Char, rect: Rect) -> bool:
    return rect[0] <= char.x_mm <= rect[2] and rect[1] <= char.y_mm <= rect[3]


def _size_faults(size: tuple[float, float], expected: ExpectedPage) -> Iterator[tuple[str, str]]:
    wanted = (expected.width_mm, expected.height_mm)
    if any(abs(found - right) > SIZE_MM for found, right in zip(size, wanted, strict=True)):
        yield ("readback.page-size", f"the page measures {size[0]:.1f} x {size[1]:.1f} mm"
               f" instead of {wanted[0]:.1f} x {wanted[1]:.1f} mm")


def _extra_faults(grey: Grey, expected: ExpectedPage, loose: Sequence[Char]) -> Iterator[tuple[str, str]]:
    """What should not be on the page: symbols, words."""
    for symbol in unexpected(symbols_of(grey), expected):
        yield ("readback.extra-symbol", "a symbol that should not be there, at"
               f" {symbol.x_mm:.0f}, {symbol.y_mm:.0f} mm: {symbol.payload!a}")
    if loose:
        text = squash("".join(char.text for char in loose))[:40]
        yield ("readback.extra-text", "words that should not be there, at"
               f" {loose[0].x_mm:.0f}, {loose[0].y_mm:.0f} mm: {text!a}")


def symbols_of(grey: Grey) -> tuple[FoundSymbol, ...]:
    """All symbols of a page."""
    return tuple(_found(seen, grey) for seen in zxing.find(grey))


def _found(seen: zxing.Seen, grey: Grey) -> FoundSymbol:
    x, y = middle(seen.corners, grey)
    side = grey.to_mm(math.dist(seen.corners[0], seen.corners[1]))
    return FoundSymbol(seen.payload, x - side / 2, y - side / 2, side)


def unexpected(found: Sequence[FoundSymbol], expected: ExpectedPage) -> list[FoundSymbol]:
    """The symbols whose middle lies on none that should be there."""
    places = [(label.x_mm + item.x_mm, label.y_mm + item.y_mm, item.module_mm * len(item.rows))
              for label in expected.labels for item in label.frame.symbols]

    def known(symbol: FoundSymbol) -> bool:
        x, y = symbol.x_mm + symbol.side_mm / 2, symbol.y_mm + symbol.side_mm / 2
        return any(left <= x <= left + side and top <= y <= top + side for left, top, side in places)

    return [symbol for symbol in found if not known(symbol)]
