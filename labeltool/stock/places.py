"""Where each label of a print lies: row by row, page after page, leaving out what is used up."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import islice

from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.stock.model import Place, Stock

_RANGE = re.compile(r"([0-9]{1,6})(?:-([0-9]{1,6}))?")


def places(stock: Stock, count: int, *, skip: int = 0, only: Sequence[int] | None = None) -> tuple[Place, ...]:
    """The first `count` free places. `skip` leaves out the first places of the first sheet, `only` names those it has.

    Later sheets are used whole. A full skip begins a new sheet. Raises InputError where a place is not on the sheet.
    """
    first = _first_page(stock, skip, only)
    spots = {place: _corner(stock, place) for place in range(1, stock.per_page + 1)}
    return tuple(
        Place(page, place, *spots[place]) for page, place in islice(_all(first, stock.per_page), max(0, count))
    )


def _all(first: Sequence[int], per_page: int) -> Iterator[tuple[int, int]]:
    page = 0
    if first:
        yield from ((0, place) for place in first)
        page = 1
    while True:
        yield from ((page, place) for place in range(1, per_page + 1))
        page += 1


def _first_page(stock: Stock, skip: int, only: Sequence[int] | None) -> Sequence[int]:
    size = stock.per_page
    if only is not None:
        wrong = [place for place in only if not 1 <= place <= size]
        if wrong:
            raise input_error("stock.place", f"{stock.name} has no place {wrong[0]}", limit=f"1 to {size}")
        if not only:
            raise input_error("stock.place", "no place is named", limit=f"1 to {size}")
        return only
    if not 0 <= skip <= size:
        raise input_error("stock.skip", f"{skip} places left out of a sheet of {size}", limit=f"0 to {size}")
    return range(skip + 1, size + 1)


def _corner(stock: Stock, place: int) -> tuple[float, float]:
    """Left and top edge of a place, mm."""
    row, column = divmod(place - 1, stock.columns)
    return (
        round(stock.origin_mm[0] + column * stock.pitch_mm[0], 6),
        round(stock.origin_mm[1] + row * stock.pitch_mm[1], 6),
    )


def parse_places(text: str, per_page: int) -> tuple[int, ...]:
    """The places that "5,9-12" names, in that order. Raises InputError with every fault: unknown, twice, backwards."""
    found: list[int] = []
    faults: list[Finding] = []
    for part in text.replace(";", ",").split(","):
        _take(part.strip(), per_page, found, faults)
    if faults:
        raise InputError(faults)
    return tuple(found)


def _take(part: str, per_page: int, found: list[int], faults: list[Finding]) -> None:
    match = _RANGE.fullmatch(re.sub(r"\s*[-\u2010-\u2013]\s*", "-", part))
    if match is None:
        faults.append(_fault(f"{part[:30]!r} is no place", 'places and ranges as in "5,9-12"'))
        return
    low, high = int(match[1]), int(match[2] or match[1])
    if low > high:
        faults.append(_fault(f"{part} runs backwards", f"{high}-{low}"))
    elif low < 1 or high > per_page:
        faults.append(_fault(f"there is no place {low if low < 1 else high}", f"1 to {per_page}"))
    else:
        twice = [place for place in range(low, high + 1) if place in found]
        if twice:
            faults.append(_fault(f"place {twice[0]} is named twice", "each place once"))
        found += [place for place in range(low, high + 1) if place not in found]


def _fault(text: str, limit: str) -> Finding:
    return Finding("stock.place", "error", f"--places: {text}", limit=limit)


def next_skip(stock: Stock, used: Sequence[Place]) -> int:
    """The --skip that goes on behind the last label of the last sheet; 0 on a roll, or where the sheet is full."""
    if stock.kind == "roll" or not used:
        return 0
    last = max(place.page for place in used)
    return max(place.place for place in used if place.page == last) % stock.per_page

