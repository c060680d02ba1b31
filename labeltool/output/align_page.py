"""The alignment page: rulers from the paper's edges, two numbered crosses with their intended places, label edges."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO

from labeltool import tables
from labeltool.output.model import Placed, Sheet
from labeltool.output.pdf import write_pdf
from labeltool.stock.align import ARM_MM, Point, marks
from labeltool.stock.model import Stock
from labeltool.stock.places import places
from labeltool.typeset.frame import Frame, Item, Rule, TextRun

LINE_MM, EDGE_MM = 0.15, 0.08
SMALL_PT, USUAL_PT = 5.0, 8.0
SMALL_MM = 80.0
TICKS = ((10, 3.0), (5, 2.2), (1, 1.4))  # every so many mm, so long
SHORT_TICKS = ((10, 2.0), (5, 1.5), (1, 1.0))
AIR_MM = 0.6
EDGE = "ruler"
ADVICE = (
    "{name}: print this page at 100 %, scaling off.",
    "Measure where the middle of each cross lies, in mm: from the left edge of the paper, and from its top edge.",
    "The places meant stand beside the crosses.",
)
EDGES = "Fine lines show the labels: hold the page and a sheet of the stock against the light."


def align_page(stock: Stock) -> bytes:
    """The page as a PDF of the stock's page size, in black alone, at the places a printer without fault would hit."""
    width, height = stock.page_mm
    items = (*_edges(stock), *_rulers(stock), *_crosses(stock), *_words(stock))
    fonts = (("regular", tables.font_sha256("regular")),)
    frame = Frame(width, height, "rectangle", 0.0, "align", items, (), 0.0, fonts, (), stock.dpi)
    target = BytesIO()
    write_pdf([Sheet(width, height, (Placed(frame, 0.0, 0.0),))], target, title=f"Alignment of {stock.name}", author="",
              fonts={tables.font_sha256("regular"): tables.font_bytes("regular")})
    return target.getvalue()


def place_words(number: int, mark: Point) -> str:
    """What stands beside a cross."""
    return f"{number}: {mark[0]:g}, {mark[1]:g}"


def _small(stock: Stock) -> bool:
    return min(stock.page_mm) < SMALL_MM


def _crosses(stock: Stock) -> Iterator[Item]:
    size = SMALL_PT if _small(stock) else USUAL_PT
    for number, (x, y) in enumerate(marks(stock), 1):
        yield Rule(x - ARM_MM, y - LINE_MM / 2, 2 * ARM_MM, LINE_MM, "cross")
        yield Rule(x - LINE_MM / 2, y - ARM_MM, LINE_MM, 2 * ARM_MM, "cross")
        words = place_words(number, (x, y))
        left = _words_left_mm(stock, number, x, _width_mm(words, size))
        yield _text(left, y + (-0.5 if number == 1 else 0.3 * size), words, size)


def _words_left_mm(stock: Stock, number: int, x_mm: float, width_mm: float) -> float:
    """Where the words of a cross begin: between it and the upright ruler, or beyond that where there is no room."""
    ruler = stock.page_mm[0] / 2
    ticks = _lengths(stock)[0][1]
    if number == 1:
        left = x_mm + ARM_MM + AIR_MM
        return left if left + width_mm < ruler - ticks - AIR_MM else ruler + AIR_MM
    left = x_mm - ARM_MM - AIR_MM - width_mm
    return left if left > ruler + AIR_MM else ruler - ticks - AIR_MM - width_mm


def _rulers(stock: Stock) -> Iterator[Item]:
    """Ticks every mm from the left and from the top edge, across the page through its middle."""
    width, height = stock.page_mm
    for at, length in _ticks(width, stock):
        yield Rule(at - LINE_MM / 2, height / 2 - length, LINE_MM, length, EDGE)
        if at % 10 == 0 and 2 < at < width - 2 and abs(at - width / 2) > 4:
            yield _text(at - _width_mm(str(at), SMALL_PT) / 2, height / 2 - length - 0.3, str(at), SMALL_PT)
    for at, length in _ticks(height, stock):
        yield Rule(width / 2 - length, at - LINE_MM / 2, length, LINE_MM, EDGE)
        if at % 10 == 0 and 2 < at < height and not _small(stock) and abs(at - height / 2) > 4:
            yield _text(width / 2 - length - 0.3 - _width_mm(str(at), SMALL_PT), at + 0.6, str(at), SMALL_PT)


def _lengths(stock: Stock) -> tuple[tuple[int, float], ...]:
    return SHORT_TICKS if _small(stock) else TICKS


def _ticks(side_mm: float, stock: Stock) -> Iterator[tuple[int, float]]:
    for at in range(int(side_mm) + 1):
        yield at, next(length for step, length in _lengths(stock) if at % step == 0)


def _edges(stock: Stock) -> Iterator[Item]:
    """The labels' edges as thin lines, to be held against a sheet of the stock in the light; none on a roll."""
    if stock.kind == "roll":
        return
    width, height = stock.label_mm
    for place in places(stock, stock.per_page):
        for y in (place.y_mm, place.y_mm + height):
            yield Rule(place.x_mm, y - EDGE_MM / 2, width, EDGE_MM, "edge")
        for x in (place.x_mm, place.x_mm + width):
            yield Rule(x - EDGE_MM / 2, place.y_mm, EDGE_MM, height, "edge")


def _words(stock: Stock) -> Iterator[Item]:
    """What to do with the page, right of the upright ruler and below the level one, where there is room for it."""
    width, height = stock.page_mm
    if _small(stock):
        return
    left, room = width / 2 + 5, width / 2 - 5 - max(5.0, stock.safe_mm)
    advice = ADVICE if stock.kind == "roll" else (*ADVICE, EDGES)
    lines = [line for text in advice for line in _broken(text.format(name=stock.name), room)]
    for row, line in enumerate(lines):
        yield _text(left, height / 2 + 8 + 3.8 * row, line, USUAL_PT)


def _broken(text: str, room_mm: float) -> Iterator[str]:
    """The text in lines of at most so many mm."""
    line = ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and _width_mm(longer, USUAL_PT) > room_mm:
            yield line
            longer = word
        line = longer
    yield line


def _text(x_mm: float, y_mm: float, text: str, size_pt: float) -> TextRun:
    return TextRun(x_mm, y_mm, text, "regular", size_pt, "align")


def _width_mm(text: str, size_pt: float) -> float:
    return tables.fonts().regular.width(text) * size_pt * 25.4 / 72
