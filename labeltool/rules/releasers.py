"""Formaldehyde that preservatives release: all of them together, at the most each can give by its molar mass."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from labeltool.compose.model import Substance
from labeltool.finding import Finding, Level
from labeltool.rules.amounts import Amount, total
from labeltool.rules.case import NOTHING, Case, Outcome, inci, shown
from labeltool.rules.entry import Entry
from labeltool.rules.limits import UNREAD, state_of
from labeltool.rules.model import LimitAdvice
from labeltool.rules.terms import Term, term_of
from labeltool.rules.texts import Due

FORMALDEHYDE = "Formaldehyde"


@dataclass(frozen=True, slots=True)
class ReleaseRule:
    """The text of one market, due above a percent of formaldehyde during a term; `banned` names: a releaser that is
    not allowed from that percent on."""

    market: str
    key: str
    above: Decimal
    term: Term
    source: str
    confidence: str
    banned: tuple[str, ...] = ()


def release_rules(table: Mapping[str, Any]) -> tuple[ReleaseRule, ...]:
    """The rows of a parsed releasers.toml."""
    texts = [
        ReleaseRule(row["market"], row["key"], Decimal(row["above"]), term_of(row), row["source"], row["confidence"])
        for row in table["rule"]
    ]
    return (*texts, *(rule for row in table["ban"] for rule in _bans(row)))


def judge_release(rules: Iterable[ReleaseRule], entries: Iterable[Entry], market: str, case: Case) -> Outcome:
    """The text and the ban of one market, for all releasers among the market's preservatives together."""
    names = [name for entry in entries if entry.releases and entry.market == market for name in entry.names]
    there = case.amounts.of(dict.fromkeys(names))
    if not there:
        return NOTHING
    most = total(there, FORMALDEHYDE, case.molar)
    found = NOTHING
    for rule in rules:
        if rule.market == market and rule.term.covers(case.on):
            found += _banned(rule, there, most, case) if rule.banned else _text(rule, there, most)
    return found


def _text(rule: ReleaseRule, there: tuple[Substance, ...], most: Amount) -> Outcome:
    """Required where even the low end releases more; asked about where only the high end does."""
    state = state_of(most, rule.above)
    if state == "within":
        return NOTHING
    sure = state == "over" and most.exact
    due = Due(rule.key, rule.market, rule.source, inci(there), rule.confidence, sure)
    return Outcome(dues=(due,), findings=tuple(_measure(rule, there, most, sure)))


def _measure(rule: ReleaseRule, there: tuple[Substance, ...], most: Amount, sure: bool) -> Iterator[Finding]:
    said = f"{inci(there)} can release {shown(most.percent)} of formaldehyde at most"
    printed = ", so the label says it" if sure else ", which may be above the bound"
    yield Finding(
        "releaser.measure", "note" if sure else "warning", said + printed, market=rule.market,
        limit=f"the text is due above {rule.above} % of formaldehyde in the product", source=rule.source,
        confidence=rule.confidence,
        do="what is really released depends on the product: a measurement decides, and may spare the text",
    )


def _banned(rule: ReleaseRule, there: tuple[Substance, ...], most: Amount, case: Case) -> Outcome:
    named = case.amounts.of(rule.banned)
    bound = Fraction(rule.above)
    if not named or most.high < bound:
        return NOTHING
    over = most.low >= bound and any(item.percent.low for item in named)
    level: Level = "error" if over and most.exact and rule.confidence == "law" else "warning"
    unread = f" ({UNREAD})" if rule.confidence != "law" else ""
    advice = LimitAdvice(
        inci(there), rule.market, most.percent, rule.above, "over" if over else "possible", level, rule.source,
        rule.confidence,
    )
    finding = Finding(
        "releaser.ban", level,
        f"{inci(named)} in a product that can release {shown(most.percent)} of formaldehyde{unread}",
        market=rule.market,
        limit=f"less than {rule.above} % in theory, whatever its source", source=rule.source,
        confidence=rule.confidence, do="use less of the releasers together",
    )
    return Outcome(limits=(advice,), findings=(finding,))


def _bans(row: Mapping[str, Any]) -> tuple[ReleaseRule, ...]:
    found = []
    for market in row["markets"]:
        found.append(ReleaseRule(
            market, "", Decimal(row["releasable"]), term_of(row), row["source"], row["confidence"], tuple(row["names"]),
        ))
    uk = row.get("uk")
    if uk:
        found.append(replace(found[0], market="UK", source=uk["source"], confidence=uk["confidence"], term=term_of(uk)))
    return tuple(found)

