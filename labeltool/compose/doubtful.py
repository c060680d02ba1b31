"""Names worth a second look: unknown to the table, an everyday name, a name that Canada does not take, two at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from labeltool.compose.identity import Book
from labeltool.compose.model import Line
from labeltool.compose.names import key
from labeltool.compose.naming import own_names
from labeltool.finding import Finding

HINTS = 300  # so many unknown names are compared with the table; a list of more is no slip of the pen
CANADA = "Cosmetic Regulations, C.R.C., c. 869, s. 21.2(4)"


def name_findings(lines: Sequence[Line], markets: Sequence[str], book: Book) -> Iterator[Finding]:
    """Notes on names that the table does not know, and warnings on names that cannot stand as they are."""
    for line in lines:
        yield from _conflicts(line, markets)
    unknown = [line for line in lines if not _known(line, markets, book)]
    for line in unknown:
        yield from _canada(line, markets, book)
    hinted = [(line, _meant(line, book) if place < HINTS else None) for place, line in enumerate(unknown)]
    for line, meant in hinted:
        if meant:
            yield Finding(
                "name.unknown", "note", f"{line.inci!r}{_from(line)} is not in the table of names: {meant}?",
                do="write the glossary name if that is the one; else leave it: it is printed as written",
            )
    rest = [line.inci for line, meant in hinted if not meant]
    if rest:
        yield Finding(
            "name.unknown", "note", f"not in the table of names, printed as written: {'; '.join(rest)}",
            do="check the spelling against the supplier's document",
        )


def _known(line: Line, markets: Sequence[str], book: Book) -> bool:
    if book.names.find(line.inci) or book.colours.find(line.inci, line.nano) or line.colorant:
        return True
    return tuple(markets) == ("US",) and key(line.inci) in book.names.us


def _meant(line: Line, book: Book) -> str | None:
    """What the writer probably meant, in words."""
    choices = book.colours.choices(line.inci)
    if choices:
        return f"did you mean the colorant {' or '.join(choices)}"
    nearest = book.names.nearest(line.inci)
    return f"did you mean {nearest!r}" if nearest else None


def _from(line: Line) -> str:
    return f" (from {', '.join(line.sources)})" if line.sources else ""


def _canada(line: Line, markets: Sequence[str], book: Book) -> Iterator[Finding]:
    """A name of the Schedule in English alone is none of the three forms that Canada allows."""
    row = book.names.us.get(key(line.inci))
    if "CA" in markets and row and row.ca and not own_names(line, "CA"):
        english, french = row.ca
        yield Finding(
            "name.canada", "warning", f"{line.inci!r} alone is not a form that Canada allows", market="CA",
            limit=f"{row.eu}, {english}/{french}, or {row.eu}/{english}/{french}", source=CANADA, confidence="law",
            do=f"write {row.eu!r} as its inci",
        )


def _conflicts(line: Line, markets: Sequence[str]) -> Iterator[Finding]:
    for market in markets:
        names = own_names(line, market)
        if len(names) > 1:
            text = f"the materials name {line.inci!r} differently: {'; '.join(names)}; the first is printed"
            yield Finding("name.conflict", "warning", text, market=market, do="give them one name")
