"""PDF pages as grey bitmaps and as characters with their places. The only pypdfium2 import."""

from __future__ import annotations

import ctypes
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

from labeltool.errors import InputError, input_error

RASTER = str(pypdfium2.PDFIUM_INFO)
Area = tuple[int, int, int, int]  # left, top, right, bottom, in pixels
MM_PER_POINT = 25.4 / 72
_NO_PAGES = re.compile(rb"/Count\s+0\b")
MOST_PIXELS = 80_000_000
MOST_COLOUR = 48
MOST_MM = 5100.0  # 14400 points, the largest page of ISO 32000-1, annex C


@dataclass(frozen=True, slots=True)
class Grey:
    """A page as grey pixels, one byte each, 0 black to 255 white; row by row from the top left, `width` bytes a row."""

    width: int
    height: int
    dpi: float
    pixels: memoryview

    def row(self, y: int, x0: int, x1: int) -> bytes:
        """The pixels of row y from x0 up to x1."""
        return bytes(self.pixels[y * self.width + x0:y * self.width + x1])

    def part(self, area: Area) -> bytes:
        """The pixels of a rectangle, row by row."""
        left, top, right, bottom = area
        return b"".join(self.row(y, left, right) for y in range(top, bottom))

    def cut(self, area: Area) -> Grey:
        """A rectangle of it as a raster of its own."""
        left, top, right, bottom = area
        return Grey(right - left, bottom - top, self.dpi, memoryview(self.part(area)))

    def to_pixels(self, mm: float) -> float:
        """A length in pixels."""
        return mm / 25.4 * self.dpi

    def to_mm(self, pixels: float) -> float:
        """A length in mm."""
        return pixels * 25.4 / self.dpi


@dataclass(frozen=True, slots=True)
class Char:
    """A character on a page and the origin of its glyph, mm from the page's top left, y downwards."""

    text: str
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Look:
    """A page as a printer is told to print it; `coloured`: not in grey alone."""

    grey: Grey
    coloured: bool


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a file asks of the program that prints it; None where it says nothing."""

    scaling: bool
    copies: int | None
    ranges: int
    programs: int
    attachments: int
    form: bool


class Pdf:
    """A PDF opened for looking at. Raises InputError for what is none, is encrypted, or has no page."""

    def __init__(self, data: bytes) -> None:
        self._document = _open(data)
        if pdfium.FPDF_GetSecurityHandlerRevision(self._document.raw) >= 0:
            raise _encrypted()
        self._open: tuple[int, Any] | None = None
        self.page_count = len(self._document)
        if self.page_count == 0:
            raise _empty()

    def size_mm(self, page: int) -> tuple[float, float]:
        """Width and height of a page, as it is shown."""
        width, height = self._page(page).get_size()
        return width * MM_PER_POINT, height * MM_PER_POINT

    def grey(self, page: int, dpi: float) -> Grey:
        """The page at exactly `dpi`, its top left corner on a pixel's; less where it would be too large a picture."""
        shown = self._page(page)
        scale, across, down = _size(shown, dpi)
        return _grey(shown, scale, (0, 0, across, down))

    def part(self, page: int, dpi: float, area: Area) -> Grey:
        """A part of the page as it stands in `grey` at the same resolution; white beyond the page."""
        return _grey(self._page(page), dpi / 72, area)

    def look(self, page: int, dpi: float) -> Look:
        """The page as it goes to paper: with what only prints, without what only shows on a screen."""
        shown = self._page(page)
        scale, across, down = _size(shown, dpi)
        bitmap = _drawn(shown, scale, (0, 0, across, down), pdfium.FPDFBitmap_BGR, printing=True)
        data = _packed(bitmap, across, down)
        blue, green, red = data[0::3], data[1::3], data[2::3]
        return Look(Grey(across, down, scale * 72, memoryview(red)), _coloured(blue, green, red))

    def meta(self, name: str) -> str:
        """An entry of the file's information: Title, Author, Creator; "" where it has none."""
        return str(self._document.get_metadata_value(name))

    def printed(self, page: int, dpi: float) -> Grey:
        """The page as `look` draws it, where it is known to be in grey alone."""
        shown = self._page(page)
        scale, across, down = _size(shown, dpi)
        bitmap = _drawn(shown, scale, (0, 0, across, down), pdfium.FPDFBitmap_BGR, printing=True)
        return Grey(across, down, scale * 72, memoryview(_packed(bitmap, across, down)[2::3]))

    def wishes(self) -> Wishes:
        """What the file asks of the program that opens or prints it."""
        raw = self._document.raw
        copies = pdfium.FPDF_VIEWERREF_GetNumCopies(raw)
        ranges = pdfium.FPDF_VIEWERREF_GetPrintPageRange(raw)
        return Wishes(
            bool(pdfium.FPDF_VIEWERREF_GetPrintScaling(raw)), copies if copies > 1 else None,
            pdfium.FPDF_VIEWERREF_GetPrintPageRangeCount(ranges) if ranges else 0,
            max(0, pdfium.FPDFDoc_GetJavaScriptActionCount(raw)), pdfium.FPDFDoc_GetAttachmentCount(raw),
            pdfium.FPDF_GetFormType(raw) != pdfium.FORMTYPE_NONE,
        )

    def notes(self, page: int) -> int:
        """How many annotations lie on a page, links aside."""
        shown = self._page(page)
        kinds = [_note_kind(shown.raw, index) for index in range(pdfium.FPDFPage_GetAnnotCount(shown.raw))]
        return sum(kind != pdfium.FPDF_ANNOT_LINK for kind in kinds)

    def cropped(self, page: int) -> bool:
        """Whether a page shows less than its whole sheet."""
        shown = self._page(page)
        return any(abs(a - b) > 0.5 for a, b in zip(shown.get_cropbox(), shown.get_mediabox(), strict=True))

    def fonts(self, page: int) -> tuple[tuple[str, bool], ...]:
        """The fonts that the page's words are set in, by name, and whether each is inside the file."""
        shown = self._page(page)
        words = shown.get_textpage()
        text = words.raw
        seen: dict[int, tuple[str, bool]] = {}
        for index in range(pdfium.FPDFText_CountChars(text)):
            item = pdfium.FPDFText_GetTextObject(text, index)
            font = pdfium.FPDFTextObj_GetFont(item) if item else None
            if font and (key := ctypes.addressof(font.contents)) not in seen:
                seen[key] = _font_name(font), pdfium.FPDFFont_GetIsEmbedded(font) == 1
        return tuple(dict.fromkeys(seen.values()))

    def chars(self, page: int) -> tuple[Char, ...]:
        """The characters that the page draws, in the order it draws them, spaces aside."""
        shown = self._page(page)
        text = shown.get_textpage()
        place = _to_page(shown)
        return tuple(_chars(text.raw, place))

    def text(self, page: int) -> str:
        """The page's text, as well as its words and lines can be told."""
        text: str = self._page(page).get_textpage().get_text_bounded()
        return text.replace("\r\n", "\n")

    def _page(self, index: int) -> Any:
        """The page, opened; the last one stays open, since it is asked for again and again."""
        if self._open is None or self._open[0] != index:
            self._open = index, self._load(index)
        return self._open[1]

    def _load(self, index: int) -> Any:
        try:
            page = self._document[index]
        except (pypdfium2.PdfiumError, IndexError) as error:
            raise input_error("pdf.page", f"page {index + 1} of the PDF cannot be read") from error
        width, height = page.get_size()
        if not (0 < width * MM_PER_POINT <= MOST_MM and 0 < height * MM_PER_POINT <= MOST_MM):
            raise input_error("pdf.page", f"page {index + 1} of the PDF has no size that can be printed")
        return page


def _size(page: Any, dpi: float) -> tuple[float, int, int]:
    """The scale for a page, and its pixels across and down; a smaller scale where the picture would be too large."""
    width, height = page.get_size()
    scale = min(dpi / 72, math.sqrt(MOST_PIXELS / (width * height)))
    return scale, max(1, round(width * scale)), max(1, round(height * scale))


def _grey(page: Any, scale: float, area: Area) -> Grey:
    """A part of a page as it shows, in grey."""
    left, top, right, bottom = area
    bitmap = _drawn(page, scale, area, pdfium.FPDFBitmap_Gray)
    return Grey(right - left, bottom - top, scale * 72, memoryview(bitmap.buffer).cast("B"))


def _drawn(page: Any, scale: float, area: Area, kind: int, *, printing: bool = False) -> Any:
    """A part of a page drawn on white, as it prints or as it shows."""
    left, top, right, bottom = area
    across, down = right - left, bottom - top
    flags = (pdfium.FPDF_PRINTING if printing else 0) | (
        pdfium.FPDF_GRAYSCALE if kind == pdfium.FPDFBitmap_Gray else 0)
    bitmap = pypdfium2.PdfBitmap.new_native(across, down, kind)
    bitmap.fill_rect((255, 255, 255, 255), 0, 0, across, down)
    pdfium.FPDF_RenderPageBitmapWithMatrix(
        bitmap, page, pdfium.FS_MATRIX(scale, 0, 0, scale, -left, -top), pdfium.FS_RECTF(0, 0, across, down),
        pdfium.FPDF_ANNOT | flags,
    )
    return bitmap


def _packed(bitmap: Any, across: int, down: int) -> bytes:
    """Blue, green and red of each pixel of a bitmap, row by row without padding."""
    data, stride = bytes(bitmap.buffer), bitmap.stride
    if stride != 3 * across:
        data = b"".join(data[stride * y:stride * y + 3 * across] for y in range(down))
    return data


def _coloured(blue: bytes, green: bytes, red: bytes) -> bool:
    """Whether any pixel is plainly no grey; the near black that some programs make of black is."""
    if blue == green == red:
        return False
    step = 1 << 16
    parts = ((blue[at:at + step], green[at:at + step], red[at:at + step]) for at in range(0, len(red), step))
    return any(max(pixel) - min(pixel) > MOST_COLOUR for part in parts if not part[0] == part[1] == part[2]
               for pixel in set(zip(*part, strict=True)))


def _note_kind(page: Any, index: int) -> int:
    note = pdfium.FPDFPage_GetAnnot(page, index)
    kind: int = pdfium.FPDFAnnot_GetSubtype(note)
    pdfium.FPDFPage_CloseAnnot(note)
    return kind


def _font_name(font: Any) -> str:
    """A font's name without the mark of a subset."""
    room = ctypes.create_string_buffer(200)
    pdfium.FPDFFont_GetBaseFontName(font, room, len(room))
    return room.value.decode("utf-8", "replace").rpartition("+")[2]


def _encrypted() -> InputError:
    return input_error("pdf.encrypted", "the PDF is encrypted", do="save it without a password or restrictions")


def _empty() -> InputError:
    return input_error("pdf.empty", "the PDF has no pages")


def _open(data: bytes) -> Any:
    try:
        return pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as error:
        # pdfium's error code may be that of an earlier file, so the file itself is asked
        if b"/Encrypt" in data:
            raise _encrypted() from error
        if data.startswith(b"%PDF-") and _NO_PAGES.search(data):
            raise _empty() from error
        raise input_error("pdf.unreadable", "the file is no PDF that can be read", do="print it anew") from error


Affine = tuple[float, float, float, float, float, float]
_FINE = 10_000_000


def _to_page(page: Any) -> Affine:
    """From PDF coordinates to mm from the shown page's top left: turned and cropped pages included."""
    width, height = page.get_size()

    def shown(x: float, y: float) -> tuple[float, float]:
        across, down = ctypes.c_int(), ctypes.c_int()
        pdfium.FPDF_PageToDevice(page, 0, 0, _FINE, _FINE, 0, x, y, across, down)
        return across.value / _FINE * width * MM_PER_POINT, down.value / _FINE * height * MM_PER_POINT

    (x0, y0), (x1, y1), (x2, y2) = shown(0, 0), shown(100, 0), shown(0, 100)
    return (x1 - x0) / 100, (y1 - y0) / 100, (x2 - x0) / 100, (y2 - y0) / 100, x0, y0


def _chars(text: Any, place: Affine) -> Iterator[Char]:
    a, b, c, d, e, f = place
    x, y = ctypes.c_double(), ctypes.c_double()
    for index in range(pdfium.FPDFText_CountChars(text)):
        if pdfium.FPDFText_IsGenerated(text, index) == 1:
            continue
        char = "-" if pdfium.FPDFText_IsHyphen(text, index) == 1 else chr(pdfium.FPDFText_GetUnicode(text, index))
        if char.isspace() or char == "\x00":
            continue
        pdfium.FPDFText_GetCharOrigin(text, index, x, y)
        yield Char(char, a * x.value + c * y.value + e, b * x.value + d * y.value + f)
