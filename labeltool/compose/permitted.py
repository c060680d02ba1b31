"""Colorants against each market's table: not listed, not permitted, named in a way that the market does not take."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from labeltool.compose.colours import EU_LIKE, Colour, NotColour, short
from labeltool.compose.identity import Book
from labeltool.compose.lines import labelled
from labeltool.compose.model import Line
from labeltool.compose.names import key
from labeltool.compose.naming import own_names
from labeltool.finding import Finding, Level

ANNEX_IV = "Regulation (EC) No 1223/2009, Art. 14(1)(c) and Annex IV"
US_LIST = "21 CFR 73 subpart C and 74 subpart C (2015)"
CANADA = "Cosmetic Regulations, C.R.C., c. 869, s. 21.2"
MAY_CONTAIN = {
    "EU": ("decorative products sold in several shades", "Regulation (EC) No 1223/2009, Art. 19(1)(g)"),
    "UK": ("decorative products sold in several shades", "assimilated Regulation (EC) No 1223/2009, Art. 19(1)(g)"),
    "US": ("color additives added to some batches for color matching, or shaded products sold under one name",
           "21 CFR 701.3(g)"),
    "CA": ("make-up and nail products in a range of shades", CANADA + "(2)"),
}


def colour_findings(lines: Sequence[Line], markets: Sequence[str], book: Book) -> Iterator[Finding]:
    """What stands against each colorant in each market in which it is one."""
    for market in markets:
        for line in lines:
            if market in line.colorant:
                yield from _against(line, market, book, alone=len(markets) == 1)


def may_contain_findings(lines: Sequence[Line], markets: Sequence[str]) -> Iterator[Finding]:
    """When each market allows "may contain", and entries that are in the product or named already."""
    maybe = [line for line in lines if line.group == "may-contain"]
    for market in markets if maybe else ():
        allowed, source = MAY_CONTAIN[market]
        yield Finding("may-contain.use", "note", '"may contain" is for some products only', market=market,
                      limit=allowed, source=source, do="leave [[may-contain]] out where yours is none of them")
    seen = {(key(line.inci), line.nano) for line in lines if line.group != "may-contain"}
    for line in maybe:
        if (key(line.inci), line.nano) in seen:
            yield Finding("may-contain.twice", "note", f"{line.inci} is in the list already; may contain leaves it out")
        seen.add((key(line.inci), line.nano))


def _against(line: Line, market: str, book: Book, alone: bool) -> Iterator[Finding]:
    refused = book.colours.refused.get(key(line.inci))
    if refused and market in refused.markets:
        yield _no_colour(line, market, refused)
    elif market == "US":
        yield from _us(line, book, alone)
    elif not _known(line, market, book):
        yield _not_listed(line, market, book, alone)


def _known(line: Line, market: str, book: Book) -> bool:
    """EU and UK know what is in Annex IV; in Canada, which has no list, a number of either list will do."""
    row = book.colours.find(line.inci, line.nano)
    meant = book.colours.meant(line.inci, line.nano)
    return bool((row and (row.annex_iv or market == "CA")) or (meant and meant.as_written))


def _no_colour(line: Line, market: str, refused: NotColour) -> Finding:
    level: Level = "error" if market != "CA" else "warning"
    return Finding(
        "colour.no-colour", level, f"{line.inci} is declared as a colorant: {refused.note}", market=market,
        limit="the colorants of the market's list", source=refused.source, confidence=refused.confidence,
        do=f'write inci = "{refused.write}" and colorant = {_elsewhere(line, refused)}',
    )


def _elsewhere(line: Line, refused: NotColour) -> str:
    left = [market for market in line.colorant if market not in refused.markets]
    return "[" + ", ".join(f'"{market}"' for market in left) + "]" if left else "false"


def _not_listed(line: Line, market: str, book: Book, alone: bool) -> Finding:
    """EU and UK have a list that refuses what is not in it. Canada's names were not read as a list, so it warns."""
    choices = tuple(name for name in book.colours.choices(line.inci) if key(name) != key(line.inci))
    eu = market in EU_LIKE
    return Finding(
        "colour.not-listed", "error" if eu else "warning",
        f"{labelled(line.inci, line.nano)} is a colorant under no name that {market} knows",
        market=market,
        limit="a colorant of Annex IV, by its CI number or its name there" if eu else "the INCI name",
        source=ANNEX_IV if eu else CANADA + "(1)",
        confidence="law" if eu else "memory",
        do=f"write {' or '.join(choices)}" if choices else _cure(alone),
    )


def _us(line: Line, book: Book, alone: bool) -> Iterator[Finding]:
    """One listed US name: nothing. None: not permitted. Several, and the maker has not said which: that is asked."""
    row = book.colours.meant(line.inci, line.nano)
    own = own_names(line, "US")
    names = book.colours.us_names(line.inci, line.nano) or (book.colours.us_names(own[0]) if own and not row else ())
    if not names:
        yield _not_permitted(line, row, book, alone)
    elif len(names) > 1 and not own:
        yield Finding(
            "colour.which", "error", f"{line.inci} is several colours in the US, and the list must name one",
            market="US", limit=" or ".join(names), source="21 CFR 701.3(c)",
            do=f'write names = {{ US = "{names[0]}" }} beside its inci, or another of them',
        )
    elif row and row.us_status == "unclear":
        yield Finding(
            "colour.unclear", "warning", f"not checked against the text: does the US list {line.inci}? {row.us_note}",
            market="US", source=row.us_source, confidence="memory", do="look the colour up in 21 CFR 73",
        )
    elif own and not _named(own[0], names):
        yield Finding(
            "colour.name", "warning", f"{own[0]!r} is not the listed US name of {line.inci}", market="US",
            limit=" or ".join(names), source=row.us_source if row else US_LIST, confidence="memory",
            do="write the listed name",
        )


def _not_permitted(line: Line, row: Colour | None, book: Book, alone: bool) -> Finding:
    note = f" ({row.us_note})" if row and row.us_note else ""
    instead = book.colours.refused.get(key(line.inci))
    return Finding(
        "colour.not-permitted", "error",
        f"{labelled(line.inci, line.nano)} is not listed in the US as a colour of cosmetics{note}",
        market="US", limit="a listed color additive", source=row.us_source if row else US_LIST, confidence="law",
        do=f"write {instead.write}" if instead else _cure(alone),
    )


def _named(own: str, names: Sequence[str]) -> bool:
    """Whether a name is a listed one, its short form, or a lake of it."""
    forms = [key(form) for name in names for form in (name, short(name))]
    return any(key(own).startswith(form) for form in forms)


def _cure(alone: bool) -> str:
    more = "" if alone else ", or print a label of its own for the markets that permit it"
    return f"choose a colorant that the market permits{more}; if it does not colour, write colorant = false"
