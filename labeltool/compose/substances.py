"""All substances of a product however they are declared, for limits and allergens. Fractions inside.

Where a material is declared as made, both stand here: what came of it, and what was added to it under other names,
the latter with the purpose "reacted". A name in both counts once, as made. A perfume's components are here under
their own names (`perfume`), and so is every allergen a material contains (`contained`), whatever the material is
declared as. One name has a line for each purpose, so that a share used as a pH adjuster can be told from the rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from labeltool.compose.decimals import percent
from labeltool.compose.identity import Book, Identity, purpose, settled
from labeltool.compose.lines import Flow
from labeltool.compose.model import Substance
from labeltool.compose.names import key
from labeltool.compose.parts import Part
from labeltool.compose.ranges import NOTHING, WHOLE, Spread, spreads
from labeltool.formula.model import Allergen, Component

REACTED = "reacted"
_Sort = tuple[str, bool, tuple[str, ...], bool, bool]


def substances(parts: Sequence[Part], book: Book) -> tuple[Substance, ...]:
    """Every substance of the parts, the largest nominal first."""
    flows: dict[_Sort, list[Flow]] = {}
    names: dict[_Sort, list[str]] = {}
    for part in settled(parts):
        for sort, name, share in (*_components(part, book), *_allergens(part, book)):
            if share.high and (part.high or part.always):
                names.setdefault(sort, []).append(name)
                flows.setdefault(sort, []).append(Flow(part, share))
    totals = {sort: sum((flow.percent for flow in found), NOTHING) for sort, found in flows.items()}
    order = sorted(flows, key=lambda sort: (-totals[sort].nominal, sort))
    return tuple(_substance(sort, min(names[sort]), totals[sort], flows[sort]) for sort in order)


def _components(part: Part, book: Book) -> Iterator[tuple[_Sort, str, Spread]]:
    components = part.material.made_of
    if not components:
        return
    known: dict[_Sort, Identity] = {}
    stated = []
    for component in components:
        who = book.identify(component)
        sort = (*who.key, _purposes(component, part), False, part.material.fragrance)
        known[sort] = who
        stated.append((sort, Fraction(component.percent.low), Fraction(component.percent.high)))
    for sort, share in spreads(stated, part.material.key).items():
        if sort[0] not in (part.reacted or ()):
            yield sort, known[sort].inci, share


def _purposes(component: Component, part: Part) -> tuple[str, ...]:
    if part.reacted is not None:
        return (REACTED,)
    word = purpose(component, part)
    return (word,) if word else ()


def _allergens(part: Part, book: Book) -> Iterator[tuple[_Sort, str, Spread]]:
    for item in part.material.allergens:
        name = book.names.spelled(item.name)
        yield (key(name), False, (), True, part.material.fragrance), name, _contained(item)


def _contained(item: Allergen) -> Spread:
    low, high = Fraction(item.percent.low), Fraction(item.percent.high)
    return Spread(low / WHOLE, (low + high) / 2 / WHOLE, high / WHOLE)


def _substance(sort: _Sort, name: str, total: Spread, flows: Sequence[Flow]) -> Substance:
    _, nano, purposes, contained, perfume = sort
    sources = tuple(sorted({flow.part.source for flow in flows}))
    return Substance(name, percent(total), sources, purposes, nano, contained, perfume)
