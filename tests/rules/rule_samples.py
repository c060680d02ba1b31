"""Products and compositions for the tests of the rules; percents are given as text."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from labeltool import tables
from labeltool.compose.model import Composition, Line, Percent, Substance
from labeltool.formula.model import Product
from labeltool.rules.advise import advise
from labeltool.rules.model import Advice, LimitAdvice, WarningAdvice

TODAY = dt.date(2026, 11, 25)
CREAM = Product(name="Sample", function="Hand cream", use="leave-on", body_area=("hands",), form="cream")
WASH = Product(name="Sample", function="Body wash", use="rinse-off", body_area=("body",), form="liquid")
LOTION = Product(name="Sample", function="Body lotion", use="leave-on", body_area=("body",), form="cream")
FACE = Product(name="Sample", function="Face cream", use="leave-on", body_area=("face",), form="cream")
SHAMPOO = Product(name="Sample", function="Shampoo", use="rinse-off", body_area=("hair",), form="liquid")


def percent(low: str, high: str | None = None) -> Percent:
    least, most = Decimal(low), Decimal(high or low)
    return Percent(least, (least + most) / 2, most)


def held(
    name: str, low: str, high: str | None = None, *, purposes: Iterable[str] = (), source: str = "m",
    nano: bool = False, contained: bool = False, perfume: bool = False,
) -> Substance:
    return Substance(name, percent(low, high), (source,), tuple(purposes), nano, contained, perfume)


def composed(*substances: Substance, lines: Iterable[Line] = ()) -> Composition:
    """A composition whose open substances are lines of their own; perfumed ones are one Parfum line."""
    own = [
        Line(item.inci, item.percent, "main" if item.percent.nominal >= 1 else "minor", item.sources, item.nano)
        for item in substances if not item.contained and not item.perfume
    ]
    perfumed = [item for item in substances if item.perfume]
    if perfumed:
        sources = tuple(sorted({source for item in perfumed for source in item.sources}))
        own.append(Line("Parfum", percent("1"), "main", sources, perfume=True))
    return Composition((*own, *lines), tuple(substances), ())


def advised(
    product: Product, *substances: Substance, markets: tuple[str, ...] = ("EU",), on: dt.date = TODAY,
    lines: Iterable[Line] = (), languages: tuple[str, ...] | None = None,
) -> Advice:
    return advise(product, composed(*substances, lines=lines), markets, on, tables.toml, languages)


def limits(advice: Advice, ref: str, market: str = "EU") -> list[LimitAdvice]:
    """The limits of one row: "V/29" does not meet "V/2"."""
    return [item for item in advice.limits if item.market == market and cites(item.source, ref)]


def one(advice: Advice, ref: str, market: str = "EU") -> LimitAdvice:
    found = limits(advice, ref, market)
    assert len(found) == 1, (ref, market, found)
    return found[0]


def cites(source: str, ref: str) -> bool:
    words = source.replace("(", " ").replace(";", " ").replace(":", " ").replace(",", " ").split()
    return ref in words


def texts(advice: Advice, market: str = "EU", lang: str = "en", required: bool = True) -> list[str]:
    return [item.text for item in warnings(advice, market) if item.lang == lang and item.required is required]


def warnings(advice: Advice, market: str) -> list[WarningAdvice]:
    return [item for item in advice.warnings if item.market == market]


def rules(advice: Advice, level: str | None = None, market: str | None = None) -> list[str]:
    return [
        item.rule for item in advice.findings
        if level in (None, item.level) and (market is None or item.market == market)
    ]


def with_purpose(item: Substance, *purposes: str) -> Substance:
    return replace(item, purposes=purposes)
