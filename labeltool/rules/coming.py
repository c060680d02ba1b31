"""Law that is to come: what rows not yet in force would find, told as notes with their dates."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import replace

from labeltool.finding import Finding
from labeltool.rules.case import Case, Outcome
from labeltool.rules.entry import Entry, after
from labeltool.rules.prohibited import Ban, coming_bans
from labeltool.rules.restricted import judge
from labeltool.rules.terms import Term
from labeltool.rules.texts import Due, Wordings


def coming(
    entries: Iterable[Entry], bans: Iterable[Ban], market: str, case: Case, wordings: Wordings,
    best_before: dt.date | None,
) -> Iterator[Finding]:
    """Notes on rows of a market that bind products placed later; whether stock may still be sold to its date."""
    for entry in after(tuple(entries), market, case.on):
        rows = dict(case.rows) | {(market, entry.ref): entry}
        found = judge(entry, replace(case, rows=rows))
        yield from _told(found, entry.term, entry.source, entry.confidence, market, wordings, best_before)
    for ban in bans:
        if ban.market == market and ban.term.comes_after(case.on):
            found = coming_bans((ban,), market, case)
            yield from _told(found, ban.term, ban.source, ban.confidence, market, wordings, best_before)


def _told(
    found: Outcome, term: Term, source: str, confidence: str, market: str, wordings: Wordings,
    best_before: dt.date | None,
) -> Iterator[Finding]:
    said = [item.text for item in found.findings if item.level != "note"]
    said += [_due(due, wordings) for due in found.dues]
    for text in said:
        yield Finding(
            "law.coming", "note", f"from {term.start}: {text}", market=market, limit=term.told, source=source,
            confidence=confidence, do=_do(term, best_before),
        )


def _due(due: Due, wordings: Wordings) -> str:
    return f'{due.because}: the label must say "{wordings.text(due.key)}"'


def _do(term: Term, best_before: dt.date | None) -> str:
    if term.stock_until and best_before and best_before > term.stock_until:
        return f"stock of today may be sold until {term.stock_until}, before its best-before date: change it now"
    return "change the formula or the label before that day"
