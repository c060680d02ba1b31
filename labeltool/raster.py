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

Area = tuple[int, int, int, int]  # left, top, right, bottom, in pixels
MM_PER_POINT = 25.4 / 72
_NO_PAGES = re.compile(rb"/Count\s+0\b")
MOST_PIXELS = 80_000_000
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


class Pdf:
    """A PDF opened for looking at. Raises InputError for what is none, is encrypted, or has no page."""

    def __init__(self, data: bytes) -> None:
        self._document = _open(data)
        if pdfium.FPDF_GetSecurityHandlerRevision(self._document.raw) >= 0:
            raise _encrypted()
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
        width, height = shown.get_size()
        scale = min(dpi / 72, math.sqrt(MOST_PIXELS / (width * height)))
        across, down = (max(1, round(side * scale)) for side in (width, height))
        return _drawn(shown, scale, (0, 0, across, down))

    def part(self, page: int, dpi: float, area: Area) -> Grey:
        """A part of the page as it stands in `grey` at the same resolution; white beyond the page."""
        return _drawn(self._page(page), dpi / 72, area)

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
        try:
            page = self._document[index]
        except (pypdfium2.PdfiumError, IndexError) as error:
            raise input_error("pdf.page", f"page {index + 1} of the PDF cannot be read") from error
        width, height = page.get_size()
        if not (0 < width * MM_PER_POINT <= MOST_MM and 0 < height * MM_PER_POINT <= MOST_MM):
            raise input_error("pdf.page", f"page {index + 1} of the PDF has no size that can be printed")
        return page


def _drawn(page: Any, scale: float, area: Area) -> Grey:
    left, top, right, bottom = area
    across, down = right - left, bottom - top
    bitmap = pypdfium2.PdfBitmap.new_native(across, down, pdfium.FPDFBitmap_Gray)
    bitmap.fill_rect((255, 255, 255, 255), 0, 0, across, down)
    pdfium.FPDF_RenderPageBitmapWithMatrix(
        bitmap, page, pdfium.FS_MATRIX(scale, 0, 0, scale, -left, -top), pdfium.FS_RECTF(0, 0, across, down),
        pdfium.FPDF_ANNOT | pdfium.FPDF_GRAYSCALE,
    )
    return Grey(across, down, scale * 72, memoryview(bitmap.buffer).cast("B"))


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
