"""Composition and Declaration as values. Percents are `Decimal` at this door, `Fraction` inside."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

Group = Literal["main", "minor", "colorant", "may-contain"]


@dataclass(frozen=True, slots=True)
class Percent:
    """Lowest, nominal and highest percent of the product that the materials' ranges allow."""

    low: Decimal
    nominal: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class Line:
    """One declared name: its INCI spelling (EU glossary), percents and the material keys it comes from.

    `names`: (market, name) overrides from the materials. `colorant`: the markets in which it is a colorant.
    `perfume`: this is the folded Parfum line.
    """

    inci: str
    percent: Percent
    group: Group
    sources: tuple[str, ...] = ()
    nano: bool = False
    colorant: tuple[str, ...] = ()
    perfume: bool = False
    names: tuple[tuple[str, str], ...] = ()
    purposes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Doubt:
    """An ordered pair of the declaration that some composition inside the stated ranges turns round."""

    before: str
    after: str
    by: Decimal
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MarketDeclaration:
    """The list for one market: names in order, and the words to print (without the heading)."""

    market: str
    names: tuple[str, ...]
    text: str
    may_contain: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Declaration:
    """All that `declare` says of the order: one declaration a market, the joint one, lines and doubts."""

    markets: tuple[MarketDeclaration, ...]
    joint: MarketDeclaration
    joint_markets: tuple[str, ...]
    lines: tuple[Line, ...]
    doubts: tuple[Doubt, ...]


@dataclass(frozen=True, slots=True)
class Substance:
    """One substance in the product however it is declared: in the open, inside a perfume, or contained in a material.

    `contained`: it is named only as an allergen contained in a material (an essential oil's limonene), which is part
    of another line's weight. `purposes`: what rows, materials or components say it is for. For limits and allergens.

    One name may have several of these: each purpose has its own, and so have what is in a perfume, what is contained,
    and nano; a total is their sum. Purpose "reacted": added, then declared as what was made of it.
    """

    inci: str
    percent: Percent
    sources: tuple[str, ...] = ()
    purposes: tuple[str, ...] = ()
    nano: bool = False
    contained: bool = False
    perfume: bool = False


@dataclass(frozen=True, slots=True)
class ExtraName:
    """A name one market's list must carry besides the ingredients (a fragrance allergen), with its percent."""

    market: str
    name: str
    percent: Percent


@dataclass(frozen=True, slots=True)
class Composition:
    """What the product is made of: declared lines (perfume folded, unordered by market), all substances, and doubts.

    `lines` are in the EU/UK order (nominal descending; ties by name), colorants after, may-contain last.
    """

    lines: tuple[Line, ...]
    substances: tuple[Substance, ...]
    doubts: tuple[Doubt, ...]
