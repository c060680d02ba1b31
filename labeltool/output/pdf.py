"""Frames as a PDF: vector text and symbols, fonts embedded, pages of exactly the stock's size.

Each distinct label is one form XObject, each distinct page one content stream; equal pages point at the same stream and
resources. That uses `Canvas._doc` and `PDFPage`, which reportlab half hides: the minor version is pinned, and a test
reads the file with two other readers.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any, BinaryIO

import reportlab
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfbase.ttfonts import TTFError, TTFont
from reportlab.pdfgen.canvas import Canvas

from labeltool.errors import InputError, machine_error
from labeltool.output import content
from labeltool.output.fonts import checked_bytes, font_of, missing_glyphs, used_fonts
from labeltool.output.model import CREATOR, DRAFT_WORD, Placed, Sheet
from labeltool.output.spaces import spaced_runs
from labeltool.typeset.frame import Frame, Modules, Outline, Picture, Rule, TextRun

__all__ = ["Placed", "Sheet", "write_pdf"]

REPORTLAB = str(reportlab.__version__)
WRITER = 1  # goes up by one whenever this tool writes the same frames as other bytes
DRAFT_GREY, DRAFT_SHARE = 0.85, 0.55


def write_pdf(sheets: Sequence[Sheet], target: BinaryIO, *, fonts: Mapping[str, bytes], title: str, author: str,
              draft: bool = False) -> None:
    """Write the pages. The same pages and fonts give the same bytes.

    `fonts`: font files and pictures by SHA-256, of which only those used are embedded. `draft` puts the word across
    each label. Raises InputError where a font lacks a character, MachineError where a font file is missing or damaged.
    """
    frames = _distinct(sheets)
    used = used_fonts(frames.frames, always_one=draft)
    names = {sha256: _register(sha256, checked_bytes(sha256, fonts)) for sha256 in used}
    _refuse_missing(frames.frames, names)
    writer = _Writer(_canvas(names, title, author), names, frames.index, draft, _pictures(frames.frames, fonts))
    for number, frame in enumerate(frames.frames):
        writer.form(number, frame)
    for sheet in sheets:
        writer.page(sheet)
    target.write(writer.canvas.getpdfdata())


@dataclass(frozen=True, slots=True)
class _Frames:
    """The distinct frames, and the number of each frame by identity."""

    frames: tuple[Frame, ...]
    index: dict[int, int]


def _distinct(sheets: Sequence[Sheet]) -> _Frames:
    by_value: dict[Frame, int] = {}
    by_id: dict[int, int] = {}
    for sheet in sheets:
        for placed in sheet.placed:
            if id(placed.frame) not in by_id:
                by_id[id(placed.frame)] = by_value.setdefault(placed.frame, len(by_value))
    return _Frames(tuple(by_value), by_id)


def _register(sha256: str, data: bytes) -> str:
    """The reportlab name of a font file, parsed once a process."""
    name = f"font-{sha256}"
    if name not in pdfmetrics.getRegisteredFontNames():
        try:
            pdfmetrics.registerFont(TTFont(name, BytesIO(data)))
        except (TTFError, ValueError, KeyError, IndexError) as error:
            raise machine_error("output.font", f"the font file {sha256[:12]} cannot be read: {error}",
                                do="run labeltool records check") from error
    return name


def _pictures(frames: Sequence[Frame], files: Mapping[str, bytes]) -> dict[tuple[str, bool], ImageReader]:
    """Each picture once, in greys or in black alone."""
    wanted = {(item.sha256, item.grey): None for frame in frames for item in frame.items if isinstance(item, Picture)}
    if not wanted:
        return {}
    from labeltool.output.images import in_greys
    from labeltool.output.png import png_bytes

    pixels = {key: in_greys(checked_bytes(key[0], files), black_alone=not key[1]) for key in wanted}
    return {key: ImageReader(BytesIO(png_bytes(grey))) for key, grey in pixels.items()}


def _refuse_missing(frames: Sequence[Frame], names: Mapping[str, str]) -> None:
    glyphs = {sha256: pdfmetrics.getFont(name).face.charToGlyph for sha256, name in names.items()}
    faults = [fault for frame in frames for fault in missing_glyphs(frame, glyphs)]
    if faults:
        raise InputError(faults)


def _canvas(names: Mapping[str, str], title: str, author: str) -> Canvas:
    canvas = Canvas(BytesIO(), pageCompression=1, invariant=1, initialFontName=next(iter(names.values()), None),
                    pdfVersion=(1, 6))
    canvas.setTitle(title)
    canvas.setAuthor(author)
    canvas.setCreator(CREATOR)
    canvas.setViewerPreference("PrintScaling", "None")
    return canvas


class _Like(pdfdoc.PDFObject):  # type: ignore[misc]
    """A page whose dictionary is that of its first like, formatted once."""

    def __init__(self, first: Any) -> None:
        self.first = first

    def format(self, document: Any) -> bytes:
        """The dictionary's bytes."""
        if not hasattr(self.first, "written"):
            self.first.written = self.first.format(document)
        written: bytes = self.first.written
        return written


@dataclass(slots=True)
class _Writer:
    """Draws forms and pages into one document."""

    canvas: Canvas
    names: Mapping[str, str]
    index: Mapping[int, int]
    draft: bool
    pictures: Mapping[tuple[str, bool], Any]
    pages: dict[Any, Any] = field(default_factory=dict)

    def form(self, number: int, frame: Frame) -> None:
        """One label as a form XObject, clipped to the label's rectangle."""
        canvas = self.canvas
        canvas.beginForm(f"label{number}", 0, 0, content.points(frame.width_mm), content.points(frame.height_mm))
        if self.draft:
            self._draft(frame)
        for item in frame.items:
            if isinstance(item, Outline):
                canvas._code.append(content.outline(item, frame.height_mm))
            elif isinstance(item, Rule):
                canvas._code.append(content.rule(item, frame.height_mm))
            elif isinstance(item, Modules):
                canvas._code.append(content.modules(item, frame.height_mm))
            elif isinstance(item, Picture):
                self._picture(frame, item)
        for run in spaced_runs(frame):
            self._text(frame, run)
        canvas.endForm()

    def _picture(self, frame: Frame, item: Picture) -> None:
        low = frame.height_mm - item.y_mm - item.height_mm
        place = map(content.points, (item.x_mm, low, item.width_mm, item.height_mm))
        self.canvas.drawImage(self.pictures[item.sha256, item.grey], *place)

    def page(self, sheet: Sheet) -> None:
        """One page that points at the stream of its first like."""
        key = (sheet.width_mm, sheet.height_mm,
               tuple((self.index[id(item.frame)], item.x_mm, item.y_mm) for item in sheet.placed))
        if key not in self.pages:
            self.pages[key] = self._first(sheet)
        self.canvas._doc.addPage(_Like(self.pages[key]))

    def _first(self, sheet: Sheet) -> Any:
        page = pdfdoc.PDFPage()
        page.pagewidth, page.pageheight = content.points(sheet.width_mm), content.points(sheet.height_mm)
        page.Contents, page.Resources = self._stream(sheet)
        return page

    def _stream(self, sheet: Sheet) -> tuple[Any, Any]:
        doc = self.canvas._doc
        numbers = [self.index[id(item.frame)] for item in sheet.placed]
        stream = pdfdoc.PDFStream(filters=[pdfdoc.PDFZCompress])
        stream.content = "\n".join(
            content.placement(f"L{number}", item.x_mm, item.y_mm, item.frame.height_mm, sheet.height_mm)
            for number, item in zip(numbers, sheet.placed, strict=True)
        ) + "\n"
        forms = {f"L{number}": pdfdoc.PDFObjectReference(pdfdoc.xObjectName(f"label{number}"))
                 for number in sorted(set(numbers))}
        count = len(self.pages)
        resources = pdfdoc.PDFResourceDictionary(XObject=forms)
        return doc.Reference(stream, f"stream{count}"), doc.Reference(resources, f"resources{count}")

    def _text(self, frame: Frame, run: TextRun) -> None:
        text = self.canvas.beginText()
        text.setFont(self.names[font_of(frame, run.weight)], run.size_pt)
        if run.spacing_pt:
            text.setCharSpace(run.spacing_pt)
        text.setTextTransform(*content.text_matrix(run, frame.height_mm))
        text.textOut(run.text)
        if run.spacing_pt:
            text.setCharSpace(0)
        self.canvas.drawText(text)

    def _draft(self, frame: Frame) -> None:
        """The word "draft" in light grey from corner to corner, under what the label says."""
        name = self._draft_font(frame)
        if name is None:
            return
        width, height = content.points(frame.width_mm), content.points(frame.height_mm)
        em = pdfmetrics.stringWidth(DRAFT_WORD, name, 1)
        size = min(DRAFT_SHARE * math.hypot(width, height) / em, 0.45 * min(width, height) / 0.74)
        canvas = self.canvas
        canvas.saveState()
        canvas.setFillGray(DRAFT_GREY)
        canvas.translate(width / 2, height / 2)
        canvas.rotate(math.degrees(math.atan2(height, width)))
        canvas.setFont(name, size)
        canvas.drawCentredString(0, -0.36 * size, DRAFT_WORD)
        canvas.restoreState()

    def _draft_font(self, frame: Frame) -> str | None:
        known = [self.names[sha256] for _, sha256 in reversed(frame.fonts) if sha256 in self.names]
        return next(iter(known), None)
