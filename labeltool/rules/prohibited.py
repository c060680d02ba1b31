"""Annex II: substances that a cosmetic must not hold, by name, or by a word of the name that makes it likely."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any

from labeltool.compose.model import Substance
from labeltool.compose.names import key
from labeltool.finding import Finding, Level
from labeltool.rules.amounts import Amounts, reacted, total
from labeltool.rules.case import NOTHING, Case, Outcome, inci, shown, together
from labeltool.rules.entry import assimilated
from labeltool.rules.limits import UNREAD
from labeltool.rules.model import LimitAdvice
from labeltool.rules.scope import When, when_of
from labeltool.rules.terms import Term, term_of
from labeltool.rules.words import first, plain


@dataclass(frozen=True, slots=True)
class Ban:
    """One ban for one market. `words` make a name likely to be of the family; `excepted` are not meant; `when`: the
    products it is for; `basis`: what `up_to` counts."""

    ref: str
    market: str
    names: tuple[str, ...]
    words: tuple[str, ...]
    excepted: tuple[str, ...]
    only: str | None
    when: When
    basis: str | None
    natural: bool
    open: bool
    up_to: Decimal
    unless: tuple[str, ...]
    conditional: str
    scope: str
    note: str
    term: Term
    source: str
    confidence: str


def bans_of(table: Mapping[str, Any], word: str = "entry") -> tuple[Ban, ...]:
    """The rows of a parsed table of bans, one value for each market of a row."""
    return tuple(ban for row in table[word] for ban in _markets(row))


def judge_bans(bans: Iterable[Ban], market: str, case: Case) -> Outcome:
    """Every ban in force in a market against the product."""
    here = [ban for ban in bans if ban.market == market]
    return together(_judge(ban, case) for ban in here if ban.term.covers(case.on))


def coming_bans(bans: Iterable[Ban], market: str, case: Case) -> Outcome:
    """Bans of a market that come later, as they would be judged."""
    here = [ban for ban in bans if ban.market == market]
    return together(_judge(ban, case) for ban in here if ban.term.comes_after(case.on))


def _judge(ban: Ban, case: Case) -> Outcome:
    named = tuple(item for item in case.amounts.of(ban.names) if _meant(ban, item))
    likely = tuple(item for item in _by_words(ban, case.amounts) if item not in named and _meant(ban, item))
    scope = ban.when.judge(case.facts)
    if scope.holds is False or _allowed(ban, case):
        return NOTHING
    sure = scope.holds is True and ban.confidence == "law" and not ban.open
    found = NOTHING
    if named:
        found += _told(ban, named, "is prohibited", sure, case)
    if likely:
        found += _told(ban, likely, "looks like a prohibited substance by its name", False, case)
    return found


def _meant(ban: Ban, item: Substance) -> bool:
    excepted = {key(name) for name in ban.excepted}
    if key(item.inci) in excepted or (ban.natural and item.contained):
        return False
    return ban.only != "fragrance" or not item.purposes or "fragrance" in item.purposes or item.perfume


def _by_words(ban: Ban, amounts: Amounts) -> tuple[Substance, ...]:
    return tuple(item for item in amounts.all if ban.words and _likely(ban.words, item.inci))


@lru_cache(maxsize=65536)
def _likely(words: tuple[str, ...], name: str) -> bool:
    return first(words, plain(re.sub(r"[/(),-]", " ", name))) is not None


def _allowed(ban: Ban, case: Case) -> bool:
    """Whether a row of Annex III allows this use of it."""
    rows = [case.rows.get((ban.market, ref)) for ref in ban.unless]
    verdicts = [limit.when.judge(case.facts) for row in rows if row for limit in row.limits]
    return any(verdict.holds is not False for verdict in verdicts)


def _told(ban: Ban, substances: tuple[Substance, ...], said: str, sure: bool, case: Case) -> Outcome:
    amount = total(substances, ban.basis, case.molar)
    if amount.high <= Fraction(ban.up_to):
        return NOTHING
    over = amount.low > Fraction(ban.up_to)
    gone = any(map(reacted, substances))
    fragrance = ban.only == "fragrance" and not any(item.perfume or "fragrance" in item.purposes for item in substances)
    level: Level = "error" if sure and over and amount.exact and not gone and not fragrance else "warning"
    unread = f" ({UNREAD})" if ban.confidence != "law" else ""
    name, more = inci(substances), "; ".join(part for part in (ban.conditional, ban.note) if part)
    advice = LimitAdvice(
        name, ban.market, amount.percent, ban.up_to, "over" if over else "possible", level, ban.source, ban.confidence,
    )
    finding = Finding(
        "substance.prohibited", level, f"{name} ({shown(amount.percent)}) {said}{unread}", market=ban.market,
        limit=more or ban.scope, source=ban.source, confidence=ban.confidence, do=_cure(ban, fragrance),
    )
    return Outcome(limits=(advice,), findings=(finding,))


def _cure(ban: Ban, fragrance: bool) -> str:
    if fragrance:
        return 'the ban is for use as a fragrance: say its purpose, or leave it out'
    return "read the condition, and leave it out unless it holds" if ban.conditional else "leave it out"


def _markets(row: Mapping[str, Any]) -> tuple[Ban, ...]:
    ban = Ban(
        ref=row["ref"],
        market="",
        names=tuple(row.get("names", ())),
        words=tuple(row.get("words", ())),
        excepted=tuple(row.get("except", ())),
        only=row.get("only"),
        when=when_of(row.get("when", {})),
        basis=row.get("basis"),
        natural=row.get("natural", False),
        open=row.get("open", False),
        up_to=Decimal(row.get("up-to", "0")),
        unless=tuple(row.get("unless", ())),
        conditional=row.get("conditional", ""),
        scope=row["scope"],
        note=row.get("note", ""),
        term=term_of(row),
        source=row["source"],
        confidence=row["confidence"],
    )
    return tuple(_british(ban, row) if market == "UK" else replace(ban, market=market) for market in row["markets"])


def _british(ban: Ban, row: Mapping[str, Any]) -> Ban:
    own = replace(ban, market="UK", source=assimilated(ban.source))
    uk = row.get("uk")
    if uk is None:
        return own
    term = term_of(uk) if "from" in uk else Term()
    return replace(own, term=term, confidence=uk["confidence"], source=f"{own.source} ({uk['source']})")

