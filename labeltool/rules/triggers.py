"""Warnings that a product's type calls for, in the US and Canada: rows with a scope, substances and words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from labeltool.compose.model import Substance
from labeltool.finding import Finding, Level
from labeltool.formula.model import Product
from labeltool.rules.amounts import total
from labeltool.rules.case import NOTHING, Case, Outcome, inci, together
from labeltool.rules.scope import Verdict, When, asked, when_of
from labeltool.rules.texts import Due
from labeltool.rules.words import first, plain

GRAMS = {"g": Decimal(1), "kg": Decimal(1000), "ml": Decimal(1), "l": Decimal(1000)}


@dataclass(frozen=True, slots=True)
class Trigger:
    """One row: its texts are due where `when` holds, one of `names` (if any) is there, none of `without`, and the
    label's own words hold one of `said` (if any) and none of `unless_said`.

    `unless_foam_below`: percent of `names` under which a foam is exempt; `unless_net_below`: grams or millilitres.
    `tell`: something else to do, told with the texts or alone, at `level`. `stayed`: not in force, nothing is due.
    """

    id: str
    market: str
    keys: tuple[str, ...]
    when: When
    names: tuple[str, ...]
    without: tuple[str, ...]
    said: tuple[str, ...]
    unless_said: tuple[str, ...]
    unless_foam_below: Decimal | None
    unless_net_below: Decimal | None
    tell: str
    stayed: bool
    level: Level
    unless_assessed: bool
    source: str
    confidence: str


def triggers_of(table: Mapping[str, Any], market: str) -> tuple[Trigger, ...]:
    """The `warning` rows of a parsed us.toml or ca.toml."""
    return tuple(_trigger(row, market) for row in table["warning"])


def own_words(product: Product) -> str:
    """All the product says of itself in English, as one plain text."""
    english = [text for lang, text in product.texts if lang == "en"]
    words = [product.name, product.function, product.directions, *product.warnings, *product.claims]
    words += [word for text in english for word in (text.name, text.function, text.directions, *text.warnings)]
    return plain(" . ".join(word for word in words if word))


def pull(triggers: Iterable[Trigger], product: Product, case: Case) -> Outcome:
    """The texts of all rows that the product sets off."""
    words = own_words(product)
    return together(_pull(trigger, product, words, case) for trigger in triggers if not trigger.stayed)


def _pull(trigger: Trigger, product: Product, words: str, case: Case) -> Outcome:
    there = case.amounts.of(trigger.names)
    if not _set_off(trigger, there, words, case) or _exempt(trigger, there, product, case):
        return NOTHING
    verdict = trigger.when.judge(case.facts)
    if verdict.holds is False:
        return NOTHING
    because = inci(there) or product.function or product.name
    dues = tuple(
        Due(key, trigger.market, trigger.source, because, trigger.confidence, verdict.holds is True)
        for key in trigger.keys
    )
    return Outcome(dues=dues, findings=tuple(_told(trigger, because, verdict)))


def _set_off(trigger: Trigger, there: tuple[Substance, ...], words: str, case: Case) -> bool:
    if (trigger.names and not there) or (trigger.said and not first(trigger.said, words)):
        return False
    return not case.amounts.of(trigger.without) and not first(trigger.unless_said, words)


def _exempt(trigger: Trigger, there: tuple[Substance, ...], product: Product, case: Case) -> bool:
    foam, least = trigger.unless_foam_below, trigger.unless_net_below
    if foam is not None and "foam" in case.facts.said and total(there).high < Fraction(foam):
        return True
    if trigger.unless_assessed and product.assessed is not None:
        return True
    net = product.net
    return least is not None and net is not None and net.unit in GRAMS and net.amount * GRAMS[net.unit] < least


def _told(trigger: Trigger, because: str, verdict: Verdict) -> Iterable[Finding]:
    if verdict.holds is None:
        yield Finding(
            "text.asked", "warning", f"{because}: a warning may be due", market=trigger.market, source=trigger.source,
            confidence=trigger.confidence, do=f"say {asked(verdict.asks)} under [product]",
        )
    elif trigger.tell:
        yield Finding(
            "text.more", trigger.level, f"{because}: {trigger.tell}", market=trigger.market,
            source=trigger.source, confidence=trigger.confidence, do="see to it on the label or the container",
        )


def _trigger(row: Mapping[str, Any], market: str) -> Trigger:
    def decimal(word: str) -> Decimal | None:
        return Decimal(row[word]) if word in row else None

    return Trigger(
        row["id"], market, tuple(row.get("keys", ())), when_of(row.get("when", {})), tuple(row.get("names", ())),
        tuple(row.get("without", ())), tuple(row.get("said", ())), tuple(row.get("unless-said", ())),
        decimal("unless-foam-below"), decimal("unless-net-below"), row.get("tell", ""), row.get("stayed", False),
        row.get("level", "note" if row.get("keys") else "warning"), row.get("unless-assessed", False),
        row["source"], row["confidence"],
    )


