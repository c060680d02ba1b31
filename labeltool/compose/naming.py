"""What each market calls a line, and what a label for several markets calls it.

EU and UK: the glossary name, "(nano)" where it is. US: the US name, the listed name for a colour (21 CFR 701.3(c));
"Fragrance" for Parfum. Canada: the EU name alone, which C.R.C., c. 869, 21.2(4)(a) allows for the 58 names of the
Schedule and 21.2(1) for all others. A component's own `names` go before all of them; the EU's serve the UK as well.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from labeltool.compose.colours import EU_LIKE
from labeltool.compose.identity import Book
from labeltool.compose.lines import labelled
from labeltool.compose.model import Line
from labeltool.compose.names import key

_BRACKET = re.compile(r"\s*\([^()]*\)")


def own_names(line: Line, market: str) -> tuple[str, ...]:
    """The names that the materials themselves give the line in a market (more than one: they disagree)."""
    found = tuple(name for place, name in line.names if place == market)
    return found or (own_names(line, "EU") if market == "UK" else ())


def market_name(line: Line, market: str, book: Book) -> str:
    """The name one market's list prints for a line."""
    own = own_names(line, market)
    name = own[0] if own else (_us_name(line, book) if market == "US" else line.inci)
    return labelled(name, line.nano and market in EU_LIKE)


def _us_name(line: Line, book: Book) -> str:
    colours = book.colours.us_names(line.inci, line.nano) if "US" in line.colorant or _numbered(line, book) else ()
    row = book.names.find(line.inci)
    if len(colours) == 1:
        return colours[0]
    return row.us if row else line.inci


def _numbered(line: Line, book: Book) -> bool:
    return book.colours.find(line.inci, line.nano) is not None


def joint_name(line: Line, markets: Sequence[str], book: Book) -> str:
    """The one name for several markets: what differs is joined once, as in "Aqua (Water)".

    A US plant name that is the EU's with a common name in brackets stands alone; it holds both. With US and Canada
    both, a name of the Canadian Schedule is joined with English and French, as 21.2(4)(c) asks: "Aqua (Water/Eau)".
    """
    first, *others = (market_name(line, market, book) for market in _by_weight(markets))
    more: list[str] = []
    for name in others:
        if _bare(name) == key(first) and name != first:
            first = name
        elif key(_without_nano(name)) not in map(key, (first, _without_nano(first), _BRACKET.sub("", first), *more)):
            more.append(name)
    bilingual = _bilingual(line, markets, book)
    if bilingual and more == [bilingual[0]]:
        more = list(bilingual)
    return f"{first} ({'/'.join(more)})" if more else first


def _by_weight(markets: Sequence[str]) -> list[str]:
    """The markets in the order in which they name the line first."""
    return [market for market in ("EU", "UK", "CA", "US") if market in markets]


def _bare(name: str) -> str:
    return key(_BRACKET.sub("", name))


def _without_nano(name: str) -> str:
    return name.removesuffix(" (nano)")


def _bilingual(line: Line, markets: Sequence[str], book: Book) -> tuple[str, str] | None:
    row = book.names.find(line.inci)
    return row.ca if row and "CA" in markets and not own_names(line, "CA") else None
