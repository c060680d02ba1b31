"""Fragrance allergens: which entries a product holds, and in which markets their names must stand in the list."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from labeltool.compose.model import Composition, ExtraName, Line, Substance
from labeltool.finding import Finding
from labeltool.formula.model import INLINE
from labeltool.rules.amounts import Amount, Amounts, keys, names_of, reacted, total
from labeltool.rules.case import shown
from labeltool.rules.model import AllergenAdvice, Certainty
from labeltool.rules.terms import Term, term_of


@dataclass(frozen=True, slots=True)
class Allergen:
    """One entry: the one name printed; `members` and `also` (spellings for matching only) count together."""

    ref: str
    name: str
    members: tuple[str, ...]
    also: tuple[str, ...]
    legacy: bool
    note: str
    source: str
    confidence: str

    @property
    def names(self) -> tuple[str, ...]:
        """All names by which it is found."""
        return (self.name, *self.members, *self.also)


@dataclass(frozen=True, slots=True)
class Regime:
    """Which entries one market asks for during a term: all, legacy or none."""

    market: str
    entries: str
    term: Term
    thresholds: tuple[tuple[str, Decimal], ...]
    source: str
    confidence: str

    def asks(self, entry: Allergen) -> bool:
        """Whether this entry is asked for."""
        return self.entries == "all" or (self.entries == "legacy" and entry.legacy)

    def threshold(self, use: str | None) -> Decimal:
        """Percent that must be exceeded; without a use, the lower one."""
        values = dict(self.thresholds)
        return values[use] if use in values else min(values.values())


@dataclass(frozen=True, slots=True)
class AllergenTable:
    """Entries and regimes."""

    entries: tuple[Allergen, ...]
    regimes: tuple[Regime, ...]

    def regime(self, market: str, on: dt.date) -> Regime | None:
        """What a market asks for of products placed on it that day."""
        return next((item for item in self.regimes if item.market == market and item.term.covers(on)), None)


@dataclass(frozen=True, slots=True)
class Found:
    """One entry in a product: what of it is there, how much, and the name it is printed under."""

    entry: Allergen
    substances: tuple[Substance, ...]
    amount: Amount
    printed: str
    listed: bool


def allergen_table(table: Mapping[str, Any]) -> AllergenTable:
    """The entries of a parsed allergens.toml."""
    return AllergenTable(tuple(map(_entry, table["allergen"])), tuple(map(_regime, table["regime"])))


def found_allergens(table: AllergenTable, amounts: Amounts, composition: Composition) -> tuple[Found, ...]:
    """The entries that the product holds, summed over open, perfumed and contained shares; what has reacted is gone."""
    lines = {word: line for line in composition.lines if _names_itself(line) for word in keys(line.inci)}
    found = []
    for entry in table.entries:
        there = tuple(item for item in amounts.of(entry.names) if not reacted(item))
        if there:
            own = next((lines[word].inci for name in entry.names for word in keys(name) if word in lines), None)
            found.append(Found(entry, there, total(there), own or entry.name, own is not None))
    return tuple(found)


def certainty(amount: Amount, threshold: Decimal) -> Certainty:
    """Certain where even the low end exceeds the threshold (strictly), possible where only the high end does."""
    limit = Fraction(threshold)
    return "certain" if amount.low > limit else "possible" if amount.high > limit else "no"


def advise_allergens(
    table: AllergenTable, found: Sequence[Found], markets: Sequence[str], on: dt.date, use: str | None,
) -> tuple[tuple[AllergenAdvice, ...], tuple[ExtraName, ...]]:
    """One advice an entry, and the names that each market's list must carry besides the ingredients."""
    advice = tuple(_advice(table, item, markets, on, use) for item in found)
    extras = tuple(
        ExtraName(market, item.printed, item.amount.percent)
        for item, told in zip(found, advice, strict=True) if not item.listed
        for market, sure in told.declared if sure != "no"
    )
    return advice, extras


def allergen_findings(
    table: AllergenTable, found: Sequence[Found], markets: Sequence[str], on: dt.date, use: str | None,
) -> Iterator[Finding]:
    """Notes: names printed for caution, a use that would decide, entries of law that is to come."""
    for market in markets:
        regime = table.regime(market, on)
        for item in found:
            if regime and regime.asks(item.entry) and item.amount.low <= regime.threshold(use) < item.amount.high:
                yield _possible(item, regime, use)
        yield from _coming(table, found, market, on, use)
    if use is None and any(_between(item, table) for item in found):
        yield Finding(
            "allergen.use", "note", "whether allergens are named is judged as for a leave-on product",
            limit="named above 0.001 % where it is left on, 0.01 % where it is rinsed off",
            source=table.regimes[0].source,
            do='write use = "leave-on" or "rinse-off" under [product]',
        )


def silent_sources(table: AllergenTable, composition: Composition, markets: Sequence[str]) -> Iterator[Finding]:
    """A warning for each perfume, and a note for each essential oil of the table, that states no allergens."""
    if not any(item.market in markets and item.entries != "none" for item in table.regimes):
        return
    oils, pure = _oils_and_pure(table)
    told = {source for item in composition.substances if item.contained for source in item.sources}
    told |= {
        source for item in composition.substances if item.perfume and set(keys(item.inci)) & pure
        for source in item.sources
    }
    for line in composition.lines:
        silent = [source for source in line.sources if source not in told]
        if silent and (line.perfume or set(keys(line.inci)) & oils):
            yield Finding(
                "allergen.unknown", "warning" if line.perfume else "note",
                f"{_sources(silent, line.inci)} states no allergens",
                limit="all that exceed 0.001 % (rinsed off 0.01 %) of the product are named",
                source="Regulation (EC) No 1223/2009, Annex III, column h",
                do="take them from the supplier's allergen sheet into materials.toml: allergens = { Limonene = 0.4 }",
            )


def _sources(keys_of_materials: Sequence[str], inci: str) -> str:
    """Materials by their keys, with the name that they are declared under; one named by INCI alone by that."""
    keyed = [item for item in keys_of_materials if not item.startswith(INLINE)]
    return f"{', '.join(keyed)} ({inci})" if keyed else inci


def _oils_and_pure(table: AllergenTable) -> tuple[set[str], set[str]]:
    """Keys of the natural mixtures of the table, which hold other allergens, and of its single substances."""
    names = {name for entry in table.entries for name in entry.names}
    oils = {word for name in names if name.endswith(("Oil", "Extract", "Absolute")) for word in keys(name)}
    return oils, {word for name in names for word in keys(name)} - oils


def _names_itself(line: Line) -> bool:
    return not line.perfume and line.group != "may-contain"


def _between(item: Found, table: AllergenTable) -> bool:
    low, high = (Fraction(value) for _, value in sorted(table.regimes[0].thresholds, key=lambda pair: pair[1]))
    return item.amount.high > low and item.amount.low <= high


def _advice(table: AllergenTable, item: Found, markets: Sequence[str], on: dt.date, use: str | None) -> AllergenAdvice:
    declared = tuple((market, _certainty(table.regime(market, on), item, use)) for market in markets)
    threshold = table.regimes[0].threshold(use)
    return AllergenAdvice(
        item.printed, item.amount.percent, threshold, declared, item.entry.source, names_of(item.substances),
    )


def _certainty(regime: Regime | None, item: Found, use: str | None) -> Certainty:
    if regime is None or not regime.asks(item.entry):
        return "no"
    sure = certainty(item.amount, regime.threshold(use))
    if use is None and sure == "certain" and item.amount.low <= Fraction(max(value for _, value in regime.thresholds)):
        return "possible"
    return sure


def _possible(item: Found, regime: Regime, use: str | None) -> Finding:
    return Finding(
        "allergen.possible", "note",
        f"{item.printed} is {shown(item.amount.percent)} of the product: it may exceed the threshold, so it is named",
        market=regime.market, limit=f"named above {regime.threshold(use)} %", source=item.entry.source,
        confidence=item.entry.confidence, do="state its percent more closely in materials.toml to leave it out",
    )


def _coming(
    table: AllergenTable, found: Sequence[Found], market: str, on: dt.date, use: str | None,
) -> Iterator[Finding]:
    """What a market will ask for later and does not ask for on the day."""
    now = table.regime(market, on)
    later = [item for item in table.regimes if item.market == market and item.term.start and item.term.start > on]
    for regime in later:
        names = [
            item.printed for item in found
            if regime.asks(item.entry) and not (now and now.asks(item.entry))
            and certainty(item.amount, regime.threshold(use)) != "no"
        ]
        if names:
            yield Finding(
                "allergen.coming", "note", f"from {regime.term.start} the list must also name {', '.join(names)}",
                market=market, limit=regime.term.told, source=regime.source, confidence=regime.confidence,
            )


def _entry(row: Mapping[str, Any]) -> Allergen:
    return Allergen(
        row["ref"], row["name"], tuple(row.get("members", ())), tuple(row.get("also", ())), row["legacy"],
        row.get("note", ""), row["source"], row["confidence"],
    )


def _regime(row: Mapping[str, Any]) -> Regime:
    uses = ("leave-on", "rinse-off")
    return Regime(
        row["market"], row["entries"], term_of(row), tuple((use, Decimal(row[use])) for use in uses), row["source"],
        row["confidence"],
    )


