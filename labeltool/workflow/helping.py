"""What would help a label that does not fit: found by trying, in the order of what changes least."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from labeltool.coding.pattern import Pattern
from labeltool.errors import InputError
from labeltool.finding import Finding
from labeltool.formula.model import Market
from labeltool.stock.model import Stock
from labeltool.stock.onto import suits
from labeltool.wording.leaflet import in_leaflet, refusals, without
from labeltool.wording.model import LabelText
from labeltool.workflow import layouts
from labeltool.workflow.design import WHOLE, Design, carried, design, find_artworks, short_mm2
from labeltool.workflow.prepare import Prepared, prepare
from labeltool.workflow.words import Worded, word

ROOM = ("typeset.room", "typeset.width", "typeset.flood")
MOST_STOCKS = 8
HOPE = 0.6  # of the area that lacks: another shape of label may do with so much


@dataclass(frozen=True, slots=True)
class Tight:
    """A label that did not fit: its words, the stock and artworks tried, the workshop, and whether with a leaflet."""

    prepared: Prepared
    worded: Worded
    pattern: Pattern
    stock: Stock
    artworks: tuple[str, ...]
    folder: Path | None
    leaflet: bool = False

    def set(self, *, stock: Stock | None = None, artworks: Sequence[str] = (),
            text: LabelText | None = None) -> Design | None:
        """The label set with something changed, or None where it does not fit so either."""
        try:
            return design(text or self.worded.text, stock or self.stock,
                          find_artworks(artworks or self.artworks, self.folder),
                          self.prepared.inputs.formula.container)
        except InputError:
            return None


def with_help(error: InputError, tight: Tight) -> tuple[Finding, ...]:
    """The error's findings, and where room is the trouble one note that names what was tried and helps."""
    if not any(item.rule in ROOM for item in error.findings):
        return error.findings
    found = list(what_helps(tight))
    if not found:
        text = "no other artwork, no built-in stock, no leaflet and no fewer markets make it fit"
        return (*error.findings, Finding("typeset.helps", "note", text, do="shorten directions and the maker's own "
                                         "warnings, or spread the words over two labels"))
    ranked = tuple(replace(item, text=f"{number}. {item.text}") for number, item in enumerate(found, 1))
    return (*error.findings, *ranked)


def what_helps(tight: Tight) -> Iterator[Finding]:
    """One note for each change after which the label was set: artwork, set, larger stock, leaflet, fewer markets."""
    for step in (_artworks, _front_and_back, _larger, _leaflet, _fewer_markets):
        yield from step(tight)


def _helps(text: str, found: Design, do: str) -> Finding:
    size = min(frame.x_height_mm for frame in found.frames)
    return Finding("typeset.helps", "note", f"{text} it fits, with small letters of {size:.2f} mm", do=do)


def _needed(tight: Tight) -> frozenset[str]:
    """The blocks that the artworks tried carry and some market asks for."""
    asked = {item.block for item in tight.worded.elements if item.state in ("present", "missing") and item.block}
    return carried(find_artworks(tight.artworks, tight.folder)) & asked


def _artworks(tight: Tight) -> Iterator[Finding]:
    for name in WHOLE:
        if (name,) == tight.artworks or not _needed(tight) <= carried(find_artworks((name,), tight.folder)):
            continue
        found = tight.set(artworks=(name,))
        if found is not None:
            yield _helps(f"with the artwork {name} on the same stock", found, f"--artwork {name}")


def _front_and_back(tight: Tight) -> Iterator[Finding]:
    both = ("front", "back")
    if len(tight.artworks) > 1 or tight.artworks[0] in both:
        return
    found = tight.set(artworks=both)
    if found is not None:
        yield _helps("as a set of two labels, front and back, on the same stock", found,
                     "--artwork front --artwork back")


def _larger(tight: Tight) -> Iterator[Finding]:
    """The smallest larger built-in stock of the same kind, shape, paper and face that holds it; else of any other."""
    short = short_mm2(tight.worded.text, tight.stock, find_artworks(tight.artworks, tight.folder),
                      tight.prepared.inputs.formula.container)
    container = tight.prepared.inputs.formula.container
    large = [item for item in layouts.stocks(None).values() if item.face in (tight.stock.face, "white")
             and suits(item, container)
             and _area(item) > _area(tight.stock) and _area(item) >= _area(tight.stock) + HOPE * short]
    alike = [item for item in large if _alike(item, tight.stock)]
    for some in (alike, [item for item in large if item not in alike]):
        for item in _smallest_first(some, tight.stock)[:MOST_STOCKS]:
            found = tight.set(stock=item)
            if found is not None:
                yield _helps(f"on {item.name}, labels of {item.label_mm[0]:g} × {item.label_mm[1]:g} mm,", found,
                             f"--stock {item.name}")
                return


def _smallest_first(stocks: Iterable[Stock], like: Stock) -> list[Stock]:
    """By area, those of the same kind first: a sheet printer takes no roll."""
    return sorted(stocks, key=lambda item: (item.kind != like.kind, _area(item), item.face != like.face, item.name))


def _alike(one: Stock, other: Stock) -> bool:
    return one.kind == other.kind and one.shape == other.shape and _same_paper(one, other)


def _area(item: Stock) -> float:
    return item.label_mm[0] * item.label_mm[1]


def _same_paper(one: Stock, other: Stock) -> bool:
    if one.kind == "roll":
        return one.dpi == other.dpi
    return all(abs(a - b) < 1 for a, b in zip(one.page_mm, other.page_mm, strict=True))


def _leaflet(tight: Tight) -> Iterator[Finding]:
    """As little as makes it fit in a leaflet, where all its markets' law takes one."""
    text = tight.worded.text
    symbol = "leaflet" in carried(find_artworks(tight.artworks, tight.folder))
    if tight.leaflet or refusals(text.markets) or not symbol:
        return
    for label in without(text):
        found = tight.set(text=label)
        if found is not None:
            yield _helps(f"with {in_leaflet(text, label)} in a leaflet and the hand-on-book symbol on the label", found,
                         "--leaflet, where it is impossible for practical reasons to label them")
            return


def _fewer_markets(tight: Tight) -> Iterator[Finding]:
    markets = tight.prepared.markets
    for market in markets if len(markets) > 1 else ():
        text = words_without(tight, market)
        found = tight.set(text=text) if text is not None else None
        if found is not None:
            yield _helps(f"without the market {market}", found,
                         f"a label of its own for {market}: leave {market} out of markets")


def words_without(tight: Tight, market: Market) -> LabelText | None:
    """The label's words with one market left out; None where they cannot be made."""
    inputs = tight.prepared.inputs
    rest = tuple(item for item in tight.prepared.markets if item != market)
    product = replace(inputs.formula.product, markets=rest)
    fewer = replace(inputs, formula=replace(inputs.formula, product=product))
    try:
        text = word(prepare(fewer, tight.prepared.on, tight.prepared.parts), tight.worded.mark, tight.pattern).text
    except InputError:
        return None
    return (text, *(without(text) if tight.leaflet else ()))[-1]
