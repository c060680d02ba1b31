"""What stands in a PDF that nothing is known of, and how well it agrees with what a print should hold."""

from __future__ import annotations

from dataclasses import replace

from labeltool.raster import Pdf
from labeltool.readback.alike import first_likes
from labeltool.readback.model import Expected, ExpectedLabel, ExpectedPage, PageSurvey
from labeltool.readback.page import symbols_of
from labeltool.readback.symbols import RESOLUTIONS
from labeltool.readback.words import runs_of, squash

NEAR_MM = 1.5


def survey(pdf: bytes) -> tuple[PageSurvey, ...]:
    """Symbols and words of every page; pages proved to be the same are read once.

    Raises InputError for a file that cannot be read, is encrypted or has no pages.
    """
    opened = Pdf(pdf)
    read: dict[int, PageSurvey] = {}
    found = []
    for number, like in enumerate(first_likes(pdf, opened.page_count)):
        if like not in read:
            read[like] = _page(opened, number)
        found.append(replace(read[like], page=number + 1))
    return tuple(found)


def said_of(pdf: bytes) -> tuple[str, str]:
    """A file's title, and the program that it says made it."""
    opened = Pdf(pdf)
    return opened.meta("Title"), opened.meta("Creator")


def _page(pdf: Pdf, number: int) -> PageSurvey:
    width, height = pdf.size_mm(number)
    symbols = symbols_of(pdf.grey(number, RESOLUTIONS[0])) or symbols_of(pdf.grey(number, RESOLUTIONS[1]))
    squashed = squash("".join(char.text for char in pdf.chars(number)))
    return PageSurvey(number + 1, width, height, symbols, pdf.text(number), squashed)


def disagreements(found: tuple[PageSurvey, ...], expected: Expected) -> int:
    """How many things tell a surveyed file from what is expected: pages, sizes, symbols, words. 0 is a full fit.

    It is a quick measure to choose among prints: `read_back` then says what is wrong.
    """
    known: dict[tuple[object, int], int] = {}
    total = 1000 * abs(len(found) - len(expected.pages))
    for page, wanted, kind in zip(found, expected.pages, expected.kinds(), strict=False):
        key = (_face(page), kind)
        if key not in known:
            known[key] = _page_disagreements(page, wanted)
        total += known[key]
    return total


def _face(page: PageSurvey) -> object:
    return page.symbols, page.squashed


def _page_disagreements(page: PageSurvey, wanted: ExpectedPage) -> int:
    size = max(abs(page.width_mm - wanted.width_mm), abs(page.height_mm - wanted.height_mm)) > 0.1
    places = [(item.payload, label.x_mm + item.x_mm, label.y_mm + item.y_mm)
              for label in wanted.labels for item in label.frame.symbols]
    there = [(symbol.payload, symbol.x_mm, symbol.y_mm) for symbol in page.symbols]
    missing = sum(not any(_same(place, seen) for seen in there) for place in places)
    surplus = sum(not any(_same(place, seen) for place in places) for seen in there)
    words = "".join(_words(label) for label in wanted.labels)
    return size + missing + surplus + (sorted(words) != sorted(page.squashed))


def _same(a: tuple[str, float, float], b: tuple[str, float, float]) -> bool:
    return a[0] == b[0] and abs(a[1] - b[1]) <= NEAR_MM and abs(a[2] - b[2]) <= NEAR_MM


def _words(label: ExpectedLabel) -> str:
    return squash("".join(run.text for run in runs_of(label)))
