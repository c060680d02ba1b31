"""Declared lines: one a name, summed over all raw materials, in the EU/UK order. Fractions inside."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from labeltool.compose.colours import EU_LIKE
from labeltool.compose.decimals import percent
from labeltool.compose.identity import PARFUM, Book, Identity, LineKey, purpose, settled
from labeltool.compose.model import Group, Line
from labeltool.compose.names import key
from labeltool.compose.parts import Part
from labeltool.compose.ranges import NOTHING, Spread, spreads
from labeltool.formula.model import MARKETS, Component, MayContain, Span

ONE = Fraction(1)
_UNSTATED = Span(Decimal(0), Decimal(0))
_PERFUME = Component(PARFUM, Span(Decimal(100), Decimal(100)))


@dataclass(frozen=True, slots=True)
class Flow:
    """What one part brings to a line: `share` of the part's material, 1 = all of it."""

    part: Part
    share: Spread

    @property
    def percent(self) -> Spread:
        """Percent of the product, lowest, nominal, highest."""
        return self.share.times(self.part.low, self.part.nominal, self.part.high)


@dataclass(frozen=True, slots=True)
class Draft:
    """A line before it is rounded at the door: who it is, and all that flows into it."""

    who: Identity
    flows: tuple[Flow, ...]
    total: Spread
    purposes: tuple[str, ...]

    @property
    def colorant(self) -> bool:
        """A colorant in the EU/UK order, which has colorants last."""
        return any(market in self.who.colorant for market in EU_LIKE)

    @property
    def label(self) -> str:
        """The name with its "(nano)"."""
        return labelled(self.who.inci, self.who.nano)

    @property
    def sources(self) -> tuple[str, ...]:
        """The keys of the materials it comes from, the largest share first."""
        amounts: dict[str, Spread] = {}
        for flow in self.flows:
            amounts[flow.part.source] = amounts.get(flow.part.source, NOTHING) + flow.percent
        return tuple(sorted(amounts, key=lambda name: (-amounts[name].nominal, -amounts[name].high, name)))


def labelled(inci: str, nano: bool) -> str:
    """A name as the list of ingredients of the EU prints it."""
    return f"{inci} (nano)" if nano else inci


def drafts(parts: Sequence[Part], book: Book) -> tuple[Draft, ...]:
    """The lines of the parts: nominal descending, ties by name, colorants after the others likewise."""
    flows: dict[LineKey, list[Flow]] = {}
    seen: dict[LineKey, list[Identity]] = {}
    purposes: dict[LineKey, set[str]] = {}
    for part in settled(parts):
        if part.reacted is None and (part.high or part.always):
            shares = _shares(part, book, seen, purposes)
            for name, share in shares.items():
                flows.setdefault(name, []).append(Flow(part, share))
    found = [_draft(seen[name], flows[name], purposes[name]) for name in flows]
    return tuple(sorted(found, key=_place))


def _shares(
    part: Part, book: Book, seen: dict[LineKey, list[Identity]], purposes: dict[LineKey, set[str]],
) -> dict[LineKey, Spread]:
    """The part's declared names and their shares; who they are and what for is noted on the way."""
    stated = []
    for component in _declared(part):
        who = book.identify(component)
        seen.setdefault(who.key, []).append(who)
        purposes.setdefault(who.key, set()).update(filter(None, [purpose(component, part)]))
        stated.append((who.key, Fraction(component.percent.low), Fraction(component.percent.high)))
    found = spreads(stated, part.material.key)
    return {name: share for name, share in found.items() if share.high}


def _declared(part: Part) -> tuple[Component, ...]:
    """The part's components, or the one word that stands for a perfume whatever it is made of."""
    return (_PERFUME,) if part.material.fragrance else part.material.made_of


def _draft(seen: Sequence[Identity], flows: Sequence[Flow], purposes: set[str]) -> Draft:
    total = sum((flow.percent for flow in flows), NOTHING)
    return Draft(_merged(seen), tuple(flows), total, tuple(sorted(purposes)))


def _merged(seen: Sequence[Identity]) -> Identity:
    """One identity of several alike: a colorant where one of them is, with the market names of all."""
    colorant = tuple(market for market in MARKETS if any(market in who.colorant for who in seen))
    names = tuple(sorted({pair for who in seen for pair in who.names}))
    return Identity(min(who.inci for who in seen), seen[0].nano, colorant, names)


def _place(item: Draft) -> tuple[bool, Fraction, LineKey]:
    return item.colorant, -item.total.nominal, item.who.key


def lines(found: Iterable[Draft]) -> tuple[Line, ...]:
    """The drafts as the lines of the model."""
    return tuple(
        Line(
            inci=item.who.inci,
            percent=percent(item.total),
            group=_group(item),
            sources=item.sources,
            nano=item.who.nano,
            colorant=item.who.colorant,
            perfume=key(item.who.inci) == key(PARFUM),
            names=item.who.names,
            purposes=item.purposes,
        )
        for item in found
    )


def may_contain_lines(items: Iterable[MayContain], book: Book) -> tuple[Line, ...]:
    """The colorants that only some batches or shades hold, in the maker's order; their percents are 0."""
    named = (Component(item.inci, _UNSTATED, item.nano, item.names, True) for item in items)
    return tuple(
        Line(who.inci, percent(NOTHING), "may-contain", nano=who.nano, colorant=who.colorant, names=who.names)
        for who in map(book.identify, named)
    )


def _group(item: Draft) -> Group:
    if item.colorant:
        return "colorant"
    return "main" if item.total.nominal >= ONE else "minor"
