"""How many labels of which frame lie where: from counts and free places to pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labeltool.errors import input_error
from labeltool.output.model import Placed, Sheet
from labeltool.stock.model import Place, Stock
from labeltool.stock.places import parse_places, places
from labeltool.stock.printers import Correction
from labeltool.typeset.frame import Frame

MOST = 1_000_000


@dataclass(frozen=True, slots=True)
class Wish:
    """What the call said of numbers: `count` of each label, places to `skip`, or the places as typed ("5,9-12").

    `filled`: as many of each as were filled, less the good ones on record.
    """

    count: int | None = None
    skip: int = 0
    places: str | None = None
    filled: bool = False

    def only(self, stock: Stock) -> tuple[int, ...] | None:
        """The places named, on this stock; None where none are. Raises InputError for places it has not."""
        return None if self.places is None else parse_places(self.places, stock.per_page)


@dataclass(frozen=True, slots=True)
class Laid:
    """Labels laid on pages: (frame index, place) pairs in printing order, places as the stock has them.

    `correction` is the printer's; it moves the labels when the pages are made.
    """

    stock: Stock
    labels: tuple[tuple[int, Place], ...]
    correction: Correction | None = None

    @property
    def sheets(self) -> int:
        """Pages used."""
        return 1 + max((place.page for _, place in self.labels), default=-1)

    @property
    def next_skip(self) -> int:
        """Places used or left out on the last sheet; 0 on a roll."""
        if self.stock.kind == "roll":
            return 0
        last = self.sheets - 1
        return max((place.place for _, place in self.labels if place.page == last), default=0)


def count_of(wish: Wish, stock: Stock, kinds: int) -> int:
    """Labels of each kind: as wished, else what fills one sheet, else one on a roll."""
    if wish.count is not None:
        return wish.count
    only = wish.only(stock)
    if only is not None:
        return max(1, len(only) // kinds)
    if stock.kind == "roll":
        return 1
    return max(1, (stock.per_page - wish.skip % stock.per_page) // kinds)


def lay(stock: Stock, counts: Sequence[int], wish: Wish) -> Laid:
    """Lay `counts[i]` labels of frame i one after the other. Raises InputError where the numbers cannot be."""
    total = sum(counts)
    if total > MOST:
        raise input_error("call.count", f"{total} labels in one print", limit=f"{MOST:,} at most")
    if stock.kind == "roll" and (wish.skip or wish.places):
        raise input_error("call.skip", "a roll has no places to skip or choose", do="leave --skip and --places out")
    if wish.skip and wish.places is not None:
        raise input_error("call.skip", "--skip and --places both say where the labels go", do="leave one of them out")
    spots = places(stock, total, skip=wish.skip, only=wish.only(stock))
    order = [index for index, count in enumerate(counts) for _ in range(count)]
    return Laid(stock, tuple(zip(order, spots, strict=True)))


def sheets(laid: Laid, frames: Sequence[Frame]) -> tuple[Sheet, ...]:
    """The pages to write, with the printer's correction applied."""
    pages: list[list[Placed]] = [[] for _ in range(laid.sheets)]
    for index, place in laid.labels:
        pages[place.page].append(Placed(frames[index], *_spot(laid, place)))
    width, height = laid.stock.page_mm
    return tuple(Sheet(width, height, tuple(items)) for items in pages)


def _spot(laid: Laid, place: Place) -> tuple[float, float]:
    """Where a label goes on its page, mm."""
    if laid.correction is None:
        return place.x_mm, place.y_mm
    return laid.correction.moved(place.x_mm, place.y_mm, laid.stock.dpi)
