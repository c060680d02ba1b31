"""One row of Annex III, V or VI against a product: limits, texts due, forbidden uses, what only the maker can tell."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from labeltool.compose.model import Substance
from labeltool.compose.names import key
from labeltool.finding import Finding, Level
from labeltool.formula.model import Span
from labeltool.rules.amounts import amount_of, total
from labeltool.rules.case import NOTHING, Case, Outcome, inci
from labeltool.rules.entry import Entry, Limit
from labeltool.rules.limits import Held, Verdicts, against_limits, capped, held_of
from labeltool.rules.scope import YES, Verdict, asked, every, some
from labeltool.rules.texts import Due


def judge(entry: Entry, case: Case) -> Outcome:
    """One row against the product; nothing where none of its substances counts."""
    held = held_of(entry, case)
    if not held.substances:
        return _by_start(entry, case)
    verdicts = {limit.id: limit.when.judge(case.facts) for limit in entry.limits}
    told = tuple(against_limits(entry, verdicts, held, case))
    return Outcome(
        tuple(advice for advice, _ in told),
        tuple(_dues(entry, verdicts, held, case)),
        (
            *(finding for _, finding in told if finding),
            *_acidity(entry, verdicts, held, case),
            *_refusals(entry, held, case),
            *_asks(entry, verdicts, held),
            *_conditions(entry, held.substances),
        ),
    )


def _acidity(entry: Entry, verdicts: Verdicts, held: Held, case: Case) -> Iterator[Finding]:
    for limit in entry.limits:
        if limit.ph is not None and verdicts[limit.id].holds is not False:
            sure = verdicts[limit.id].holds is True and not held.doubtful and entry.confidence == "law"
            yield from _ph(entry, limit, case.facts.ph, inci(held.substances), sure)


def _ph(entry: Entry, limit: Limit, ph: Span | None, name: str, sure: bool) -> Iterator[Finding]:
    low, high = limit.ph or (0, 14)
    if ph is not None and low <= ph.low and ph.high <= high:
        return
    outside = ph is not None and (ph.low > high or ph.high < low)
    level: Level = "note" if ph is None else "error" if outside and sure else "warning"
    said = f"pH {ph.low} to {ph.high} leaves what the row allows" if ph else "the row bounds a pH that is not stated"
    bound = f"pH {low} to {high}" if low else f"pH at most {high}"
    yield Finding(
        "limit.ph", capped(level, entry), f"{name}: {said}", market=entry.market, limit=f"{bound}: {limit.scope}",
        source=entry.source, confidence=entry.confidence, do="measure it, and state ph = [low, high] under [product]",
    )


def _refusals(entry: Entry, held: Held, case: Case) -> Iterator[Finding]:
    """Uses that the row forbids, of a product that is one or may be one."""
    there = any(amount_of(item).low for item in held.substances)
    sound = there and entry.confidence == "law" and not held.doubtful and entry.doubt is None
    for refusal in entry.refusals:
        verdict = refusal.when.judge(case.facts)
        if verdict.holds is not False:
            level: Level = "error" if verdict.holds and sound else "warning"
            if verdict.holds is None and "powder" not in verdict.asks:
                level = "note"
            do = "leave it out of this product" if verdict.holds else f"say {asked(verdict.asks)} under [product]"
            yield Finding(
                "limit.use", capped(level, entry), f"{inci(held.substances)}: {refusal.text}", market=entry.market,
                limit=refusal.text, source=entry.source, confidence=entry.confidence, do=do,
            )


def _dues(entry: Entry, verdicts: Verdicts, held: Held, case: Case) -> Iterator[Due]:
    """Texts of the row that the product must carry; proposed where a fact that decides is missing."""
    if entry.cap == "note":
        return
    amount = total(held.substances, entry.basis, case.molar)
    governed = held.unstated and entry.purpose == "other"
    for text in entry.texts:
        scopes = some(verdicts[row] for row in text.rows) if text.rows else YES
        verdict = every((scopes, text.when.judge(case.facts)))
        if verdict.holds is not False and (text.above is None or amount.high > Fraction(text.above)):
            sure = verdict.holds is True and entry.confidence == "law" and not governed
            yield Due(text.key, entry.market, entry.source, inci(held.substances), entry.confidence, sure)


def _asks(entry: Entry, verdicts: Verdicts, held: Held) -> Iterator[Finding]:
    """Texts that the table describes and does not quote."""
    for text, rows in entry.asks:
        if _any(verdicts, rows).holds is not False:
            yield Finding(
                "text.ask", "warning", f"{inci(held.substances)}: {text}", market=entry.market, source=entry.source,
                confidence=entry.confidence, do="read the act, and write its words into the warnings of [product]",
            )


def _any(verdicts: Verdicts, rows: Iterable[str]) -> Verdict:
    return some(verdicts[row] for row in rows)


def _conditions(entry: Entry, substances: Iterable[Substance]) -> Iterator[Finding]:
    """What supplier and maker must know; not for what a material merely contains."""
    there = tuple(item for item in substances if not item.contained)
    for text in entry.conditions if there else ():
        yield Finding(
            "limit.condition", "note", f"{inci(there)}: {text}", market=entry.market, source=entry.source,
            confidence=entry.confidence,
            do="read it, ask the supplier where the material is meant, and keep the answer with the product's papers",
        )


def _by_start(entry: Entry, case: Case) -> Outcome:
    """Conditions on families that are known by the beginning of their names."""
    if not entry.starts:
        return NOTHING
    begins = tuple(key(word) for word in entry.starts)
    there = tuple(item for item in case.amounts.all if key(item.inci).startswith(begins))
    return Outcome(findings=tuple(_conditions(entry, there))) if there else NOTHING
