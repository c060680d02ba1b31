"""The list of ingredients for each market, and the one for a label that serves them all."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import chain

from labeltool.compose.colours import EU_LIKE, ColourTable
from labeltool.compose.doubtful import name_findings
from labeltool.compose.identity import Book
from labeltool.compose.lines import labelled
from labeltool.compose.listing import ONE, Entry, arranged, worded
from labeltool.compose.model import Composition, Declaration, Doubt, ExtraName, Line, MarketDeclaration
from labeltool.compose.names import NameTable, key
from labeltool.compose.naming import joint_name, market_name
from labeltool.compose.permitted import colour_findings, may_contain_findings
from labeltool.finding import Findings


def declare(
    composition: Composition,
    markets: Sequence[str],
    names: NameTable,
    colours: ColourTable,
    extras: Sequence[ExtraName] = (),
) -> tuple[Declaration, Findings]:
    """The declarations of a composition in its markets (UK, EU, US, CA; at least one), and what was found on the way.

    Order: nominal descending, below 1 % as well (valid in every market); colorants last. A market's list carries the
    extra names it asks for; the joint one the union. In the joint list a line stands among the colorants only where
    it is one in every market, so that the strictest order serves all. Findings: unknown names (notes with the nearest
    known one), colours that a market does not permit (errors naming it), names that disagree.
    """
    book = Book(names, colours)
    listed = _without_doubles(composition.lines)
    single = tuple(_for(listed, (market,), extras, book) for market in markets)
    joint = single[0] if len(single) == 1 else _for(listed, markets, extras, book)
    lines = tuple(_regrouped(line, markets) for line in listed)
    declaration = Declaration(single, joint, tuple(markets), lines, _ordered(composition.doubts, lines))
    found = chain(
        name_findings(listed, markets, book),
        colour_findings(listed, markets, book),
        may_contain_findings(composition.lines, markets),
    )
    return declaration, Findings(tuple(found))


def _for(lines: Sequence[Line], markets: Sequence[str], extras: Sequence[ExtraName], book: Book) -> MarketDeclaration:
    """The list of one market, or the joint one of several."""
    def name(line: Line) -> str:
        return joint_name(line, markets, book) if len(markets) > 1 else market_name(line, markets[0], book)

    certain = [line for line in lines if line.group != "may-contain"]
    entries = [Entry(name(line), line.percent.nominal, _last(line, markets)) for line in certain]
    taken = {key(word) for line in certain for word in _words(line, markets, book)}
    listed = arranged(entries, _extra_entries(extras, markets, taken))
    maybe = tuple(dict.fromkeys(name(line) for line in lines if line.group == "may-contain"))
    maybe = tuple(item for item in maybe if item not in listed)
    market = markets[0] if len(markets) == 1 else "+".join(markets)
    return MarketDeclaration(market, (*listed, *maybe), worded(listed, maybe, markets), maybe)


def _words(line: Line, markets: Sequence[str], book: Book) -> tuple[str, ...]:
    return (line.inci, *(market_name(line, market, book) for market in markets))


def _last(line: Line, markets: Sequence[str]) -> bool:
    return all(market in line.colorant for market in markets)


def _extra_entries(extras: Iterable[ExtraName], markets: Sequence[str], taken: set[str]) -> list[Entry]:
    """Extra names of these markets, each once, in falling order, ties by name; none that is listed already."""
    wanted = {key(item.name): item for item in extras if item.market in markets and key(item.name) not in taken}
    order = sorted(wanted.values(), key=lambda item: (-item.percent.nominal, key(item.name)))
    return [Entry(item.name, item.percent.nominal) for item in order]


def _without_doubles(lines: Sequence[Line]) -> tuple[Line, ...]:
    """The lines without what may be contained and is contained anyway, or is named twice."""
    found: dict[tuple[str, bool], Line] = {}
    for line in lines:
        found.setdefault((key(line.inci), line.nano), line)
    return tuple(found.values())


def _regrouped(line: Line, markets: Sequence[str]) -> Line:
    """The line with its group; where neither EU nor UK is asked, a colorant is what the other markets call one."""
    if line.group == "may-contain" or any(market in EU_LIKE for market in markets):
        return line
    if _last(line, markets):
        return replace(line, group="colorant")
    return replace(line, group="main" if line.percent.nominal >= ONE else "minor")


def _ordered(doubts: Iterable[Doubt], lines: Iterable[Line]) -> tuple[Doubt, ...]:
    """The doubts between lines that have an order: colorants have none."""
    free = {labelled(line.inci, line.nano) for line in lines if line.group == "colorant"}
    return tuple(item for item in doubts if item.before not in free and item.after not in free)
