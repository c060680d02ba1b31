"""UV filters and sun words: Annex VI, and the stop where a product is, or may be, for protection from the sun."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from labeltool.compose.model import Substance
from labeltool.finding import Finding, Level
from labeltool.formula.model import Product
from labeltool.rules.amounts import amount_of, total
from labeltool.rules.case import NOTHING, Case, Outcome, inci, shown, together
from labeltool.rules.entry import Entry, at
from labeltool.rules.restricted import judge
from labeltool.rules.words import first, plain

FILTERS = "uv-filter"


@dataclass(frozen=True, slots=True)
class SunStop:
    """When a product is taken for one against the sun: a filter above `trace` percent, or one of `words`."""

    trace: Decimal
    beyond: Mapping[str, str]
    words: tuple[str, ...]
    unless: tuple[str, ...]
    source: str
    confidence: str


def sun_stop(table: Mapping[str, Any]) -> SunStop:
    """The stop of a parsed annex6.toml."""
    row = table["stop"]
    beyond = {"EU": row["eu"], "UK": row["eu"], "US": row["us"], "CA": row["ca"]}
    return SunStop(
        Decimal(row["trace-percent"]), beyond, tuple(row["words"]), tuple(row["unless"]), row["source"],
        row["confidence"],
    )


def judge_filters(entries: tuple[Entry, ...], stop: SunStop, product: Product, market: str, case: Case) -> Outcome:
    """Limits of Annex VI where it holds, and the stop in every market."""
    word = sun_word(stop, product)
    there = _filters(entries, case, word is not None)
    rows = at(entries, market, case.on)
    held = together(judge(row, case) for row in rows if word or not row.ordinary or _filtering(row, case))
    return held + (_stopped(stop, market, there, word) if there or word else NOTHING)


def sun_word(stop: SunStop, product: Product) -> str | None:
    """The first word of sun protection in name, function or claims, or None."""
    texts = [text for lang, text in product.texts if lang == "en"]
    said = [product.name, product.function, *product.claims]
    said += [word for text in texts for word in (text.name, text.function)]
    words = plain(" . ".join(word for word in said if word))
    found = first(stop.words, words, stop.unless)
    return found.group() if found else None


def _filters(entries: Iterable[Entry], case: Case, sun: bool) -> tuple[Substance, ...]:
    """Filters of the table (any market's rows) that may act as such; pigments only with that purpose or a sun word."""
    found: dict[int, Substance] = {}
    for entry in entries:
        for item in case.amounts.of(entry.names):
            if not item.perfume and not item.contained and _acts(entry, item, sun):
                found[id(item)] = item
    return tuple(found.values())


def _acts(entry: Entry, item: Substance, sun: bool) -> bool:
    return FILTERS in item.purposes or (not item.purposes and not entry.ordinary) or sun


def _filtering(entry: Entry, case: Case) -> bool:
    return any(FILTERS in item.purposes for item in case.amounts.of(entry.names))


def _stopped(stop: SunStop, market: str, there: tuple[Substance, ...], word: str | None) -> Outcome:
    above = tuple(item for item in there if amount_of(item).high > Fraction(stop.trace))
    return Outcome(findings=tuple(_stops(stop, market, above, word))) if above or word else NOTHING


def _stops(stop: SunStop, market: str, there: tuple[Substance, ...], word: str | None) -> Iterator[Finding]:
    said = [f'"{word}" speaks of sun protection'] if word else []
    said += [f"{inci(there)} ({shown(total(there).percent)}) is a UV filter"] if there else []
    surely = bool(word) or any(item.percent.low > stop.trace for item in there)
    level: Level = "error" if surely else "warning"
    cure = "print it as a draft (--draft) only"
    if there and not word:
        cure += '; where the filter only protects the product itself, say purpose = "uv-absorber"'
    yield Finding(
        "sun.protection", level, f"{' and '.join(said)}: that is beyond this tool", market=market,
        limit=stop.beyond[market], source=stop.source, confidence=stop.confidence, do=cure,
    )
