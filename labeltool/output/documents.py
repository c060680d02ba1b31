"""Documents on paper: headings, facts, tables with boxes to fill in, set as pages that the PDF writer takes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from labeltool.output.model import Placed, Sheet
from labeltool.typeset.frame import Frame, Item, Rule, TextRun, Weight
from labeltool.typeset.metrics import FontSet

BODY_PT, SMALL_PT = 9.5, 8.0
LINE_MM, THIN_MM, PAD_MM = 0.25, 0.1, 1.2
DPI = 600


@dataclass(frozen=True, slots=True)
class Paper:
    """A page's size and the white on all its sides, mm, and the size of its headings."""

    width_mm: float = 210.0
    height_mm: float = 297.0
    margin_mm: float = 18.0
    title_pt: float = 17.0
    heading_pt: float = 11.0

    @property
    def room_mm(self) -> float:
        """The width that text may take."""
        return self.width_mm - 2 * self.margin_mm


A4 = Paper()
A5 = Paper(148.0, 210.0, 12.0, 14.0, 10.5)
A6 = Paper(105.0, 148.0, 8.0, 12.5, 9.5)


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table. `box`: its cells have frames, to be filled in by hand."""

    title: str
    width_mm: float
    align: Literal["left", "right"] = "left"
    box: bool = False


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading inside the document; it stays with what follows."""

    text: str


@dataclass(frozen=True, slots=True)
class Facts:
    """(name, value) pairs, one below the other."""

    pairs: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph."""

    text: str


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells; the head is repeated on every page. `height_mm`: the least height of a row."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    height_mm: float = 5.2


@dataclass(frozen=True, slots=True)
class Signatures:
    """Lines to sign on, side by side."""

    names: tuple[str, ...]


Block = Heading | Facts | Words | Table | Signatures


@dataclass(frozen=True, slots=True)
class Document:
    """A document: its title, a line below it, its blocks, and what stands at the foot of each page."""

    title: str
    subtitle: str
    blocks: tuple[Block, ...]
    foot: str = ""


def document_sheets(document: Document, fonts: FontSet) -> tuple[Sheet, ...]:
    """The pages of a document on A4, one a sheet."""
    return tuple(Sheet(A4.width_mm, A4.height_mm, (Placed(frame, 0, 0),)) for frame in document_pages(document, fonts))


def document_pages(document: Document, fonts: FontSet, paper: Paper = A4) -> tuple[Frame, ...]:
    """The pages of a document. A character that the face lacks stands as its code point: nothing is left out."""
    desk = _Desk(fonts, paper, paper.margin_mm)
    desk.line(document.title, "semibold", paper.title_pt, paper.title_pt * 0.48)
    if document.subtitle:
        desk.line(document.subtitle, "regular", BODY_PT, 5.0)
    desk.y += 2.5
    for place, block in enumerate(document.blocks):
        following = document.blocks[place + 1] if place + 1 < len(document.blocks) else None
        _block(desk, block, following)
    total = len(desk.pages)
    for number, items in enumerate(desk.pages, 1):
        if document.foot or total > 1:
            _foot(desk, items, document.foot, f"page {number} of {total}")
    used = tuple((weight, fonts.of(weight).sha256) for weight in ("regular", "medium", "semibold"))
    return tuple(_frame(items, used, paper) for items in desk.pages)


def _frame(items: Sequence[Item], fonts: tuple[tuple[str, str], ...], paper: Paper) -> Frame:
    return Frame(paper.width_mm, paper.height_mm, "rectangle", 0, "document", tuple(items), (), 0, fonts, (), DPI)


@dataclass(slots=True)
class _Desk:
    """Pages being filled from the top; `y` is the top of what comes next, mm."""

    fonts: FontSet
    paper: Paper
    y: float
    pages: list[list[Item]] = field(default_factory=lambda: [[]])

    def room(self, height_mm: float) -> None:
        """Begin a new page where `height_mm` more do not fit."""
        if self.y + height_mm > self.paper.height_mm - self.paper.margin_mm and self.pages[-1]:
            self.pages.append([])
            self.y = self.paper.margin_mm

    def line(self, text: str, weight: Weight, size_pt: float, step_mm: float) -> None:
        """Lines of text over the whole width."""
        for part in self.wrapped(text, weight, size_pt, self.paper.room_mm):
            self.room(step_mm)
            self.text(self.paper.margin_mm, self.y + step_mm * 0.72, part, weight, size_pt)
            self.y += step_mm

    def text(self, x_mm: float, y_mm: float, text: str, weight: Weight, size_pt: float) -> None:
        """A run on its baseline."""
        if text.strip():
            self.pages[-1].append(TextRun(x_mm, y_mm, text, weight, size_pt, "document"))

    def rule(self, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> None:
        """A filled rectangle."""
        self.pages[-1].append(Rule(x_mm, y_mm, width_mm, height_mm, "document"))

    def box(self, x_mm: float, y_mm: float, width_mm: float, height_mm: float) -> None:
        """A frame of thin lines."""
        for top in (y_mm, y_mm + height_mm - LINE_MM):
            self.rule(x_mm, top, width_mm, LINE_MM)
        for left in (x_mm, x_mm + width_mm - LINE_MM):
            self.rule(left, y_mm, LINE_MM, height_mm)

    def width(self, text: str, weight: Weight, size_pt: float) -> float:
        """How wide a text is set, mm."""
        return self.fonts.of(weight).width(text) * size_pt * 25.4 / 72

    def wrapped(self, text: str, weight: Weight, size_pt: float, room_mm: float) -> list[str]:
        """A text in lines that fit; a word that is too long is broken where it must be."""
        lines: list[str] = []
        for paragraph in self.printable(text, weight).split("\n"):
            lines += _lines(paragraph.split(), lambda part: self.width(part, weight, size_pt) <= room_mm)
        return lines

    def printable(self, text: str, weight: Weight) -> str:
        """The text with code points for what the face lacks."""
        font = self.fonts.of(weight)
        return "".join(char if char == "\n" or font.has(char) else " " if char.isspace() else f"[U+{ord(char):04X}]"
                       for char in text)


def _lines(words: Sequence[str], fits: Callable[[str], bool]) -> list[str]:
    lines, line = [], ""
    for word in words:
        joined = f"{line} {word}" if line else word
        if fits(joined):
            line = joined
            continue
        if line:
            lines.append(line)
        line = word
        while not fits(line) and len(line) > 1:
            cut = next((size for size in range(len(line) - 1, 1, -1) if fits(line[:size])), 1)
            lines.append(line[:cut])
            line = line[cut:]
    return [*lines, line] if line or not lines else lines


def _block(desk: _Desk, block: Block, following: Block | None) -> None:
    if isinstance(block, Heading):
        desk.y += 2.5
        desk.room(30.0 if isinstance(following, Table) else 16.0)
        desk.line(block.text, "semibold", desk.paper.heading_pt, 6.0)
    elif isinstance(block, Words):
        desk.line(block.text, "regular", BODY_PT, 4.4)
        desk.y += 1.2
    elif isinstance(block, Facts):
        _facts(desk, block)
    elif isinstance(block, Table):
        _table(desk, block)
    else:
        _signatures(desk, block)


def _facts(desk: _Desk, block: Facts) -> None:
    names = max((desk.width(desk.printable(name, "medium"), "medium", BODY_PT) for name, _ in block.pairs), default=0)
    left = desk.paper.margin_mm + min(60.0, names + 5.0)
    for name, value in block.pairs:
        lines = desk.wrapped(value, "regular", BODY_PT, desk.paper.margin_mm + desk.paper.room_mm - left) or [""]
        desk.room(4.6)
        desk.text(desk.paper.margin_mm, desk.y + 3.4, desk.printable(name, "medium"), "medium", BODY_PT)
        for line in lines:
            desk.room(4.6)
            desk.text(left, desk.y + 3.4, line, "regular", BODY_PT)
            desk.y += 4.6
    desk.y += 1.2


def _table(desk: _Desk, block: Table) -> None:
    places = list(_places(block.columns, desk.paper.margin_mm))
    _head(desk, block, places)
    for row in block.rows:
        cells = [desk.wrapped(cell, "regular", BODY_PT, column.width_mm - 2 * PAD_MM) if cell else []
                 for cell, column in zip(row, block.columns, strict=True)]
        height = max(block.height_mm, *(1.4 + 4.0 * len(cell) for cell in cells))
        before = len(desk.pages)
        desk.room(height)
        if len(desk.pages) > before:
            _head(desk, block, places)
        _row(desk, block, places, cells, height)
    desk.y += 2.0


def _places(columns: Sequence[Column], left: float) -> Iterator[float]:
    for column in columns:
        yield left
        left += column.width_mm


def _head(desk: _Desk, block: Table, places: Sequence[float]) -> None:
    if any(column.title for column in block.columns):
        desk.room(4.8 + block.height_mm)
        for column, left in zip(block.columns, places, strict=True):
            _cell(desk, column, left, desk.y + 3.4, column.title, "medium", SMALL_PT)
        desk.y += 4.8
    desk.rule(desk.paper.margin_mm, desk.y - LINE_MM / 2, sum(column.width_mm for column in block.columns), LINE_MM)


def _row(desk: _Desk, block: Table, places: Sequence[float], cells: Sequence[Sequence[str]], height: float) -> None:
    base = desk.y + (height - 4.0 * max(1, *(len(cell) for cell in cells))) / 2 + 3.1
    for column, left, lines in zip(block.columns, places, cells, strict=True):
        if column.box:
            desk.box(left + 0.6, desk.y + 0.6, column.width_mm - 1.2, height - 1.0)
        for place, line in enumerate(lines):
            _cell(desk, column, left, base + 4.0 * place, line, "regular", BODY_PT)
    desk.y += height
    for column, left in zip(block.columns, places, strict=True):
        if not column.box:
            desk.rule(left, desk.y - THIN_MM / 2, column.width_mm, THIN_MM)


def _cell(desk: _Desk, column: Column, left: float, y_mm: float, text: str, weight: Weight, size_pt: float) -> None:
    shown = desk.printable(text, weight)
    x_mm = left + PAD_MM + (0.8 if column.box else 0)
    if column.align == "right":
        x_mm = left + column.width_mm - PAD_MM - desk.width(shown, weight, size_pt)
    desk.text(x_mm, y_mm, shown, weight, size_pt)


def _signatures(desk: _Desk, block: Signatures) -> None:
    desk.room(16.0)
    each = desk.paper.room_mm / len(block.names)
    for place, name in enumerate(block.names):
        left = desk.paper.margin_mm + each * place
        desk.rule(left, desk.y + 10.0, each - 8.0, LINE_MM)
        desk.text(left, desk.y + 13.6, desk.printable(name, "regular"), "regular", SMALL_PT)
    desk.y += 16.0


def _foot(desk: _Desk, items: list[Item], foot: str, number: str) -> None:
    base = desk.paper.height_mm - min(10.0, desk.paper.margin_mm * 0.6)
    right = desk.paper.margin_mm + desk.paper.room_mm - desk.width(number, "regular", SMALL_PT)
    shown = desk.wrapped(foot, "regular", SMALL_PT, desk.paper.room_mm - 30.0)[:1]
    for x_mm, text in ((desk.paper.margin_mm, shown[0] if shown else ""), (right, number)):
        if text:
            items.append(TextRun(x_mm, base, text, "regular", SMALL_PT, "document"))
