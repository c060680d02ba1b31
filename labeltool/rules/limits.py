"""Limits of the annexes' rows: which scopes a product falls in, what counts to each, and whether it passes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from labeltool.compose.model import Substance
from labeltool.compose.names import key
from labeltool.finding import Finding, Level
from labeltool.rules.amounts import Amount, reacted, total
from labeltool.rules.case import Case, inci, shown
from labeltool.rules.entry import Entry, Limit
from labeltool.rules.model import LimitAdvice
from labeltool.rules.scope import Verdict, asked, some

State = Literal["within", "over", "possible"]
Verdicts = Mapping[str, Verdict]
Told = tuple[LimitAdvice, Finding | None]
UNREAD = "not checked against the text"
ROUNDING = Fraction(1, 10000)
_RANK: dict[str, int] = {"note": 0, "warning": 1, "error": 2}


@dataclass(frozen=True, slots=True)
class Held:
    """What of a row's substances counts. `doubtful`: their purposes, or that they have reacted, leave in doubt whether
    the row is meant; `unstated`: since no purpose is stated, and another row is for other purposes."""

    substances: tuple[Substance, ...]
    doubtful: bool
    unstated: bool


@dataclass(frozen=True, slots=True)
class Measured:
    """One amount against one limit: `sure` where scope, purpose and counting leave no doubt."""

    substances: tuple[Substance, ...]
    amount: Amount
    most: Decimal
    state: State
    sure: bool
    scope: str


def counts(entry: Entry, item: Substance) -> bool:
    """Whether a substance's purposes put it under this row: preserving, or anything else."""
    if entry.purpose == "preservative":
        plain = not item.purposes and not item.contained and not item.perfume
        return "preservative" in item.purposes or plain or (bool(item.purposes) and entry.twin is None)
    return entry.purpose != "other" or item.purposes != ("preservative",)


def held_of(entry: Entry, case: Case) -> Held:
    """What the product holds of a row."""
    there = [item for item in case.amounts.of(entry.names) if item.nano or not entry.nano]
    found = tuple(item for item in there if counts(entry, item))
    preserves = entry.purpose == "preservative"
    other = preserves and any(item.purposes and "preservative" not in item.purposes for item in found)
    paired = entry.twin is not None and entry.purpose != "any"
    unstated = paired and any(not item.purposes and not item.contained and not item.perfume for item in found)
    return Held(found, other or unstated or any(map(reacted, found)), unstated)


def state_of(amount: Amount, limit: Decimal) -> State:
    """Over where even the low end is, possible where only the high end is; the limit itself is allowed.

    What is counted by molar masses passes only by more than their last figure is good for.
    """
    most = Fraction(limit) * (1 + ROUNDING if amount.converted else 1)
    return "over" if amount.low > most else "possible" if amount.high > most else "within"


def capped(level: Level, entry: Entry) -> Level:
    """The level, no worse than the row allows."""
    return level if _RANK[level] <= _RANK[entry.cap] else entry.cap


def against_limits(entry: Entry, verdicts: Verdicts, held: Held, case: Case) -> Iterator[Told]:
    """Every limit whose scope is not excluded, and the uses that no scope of the row names."""
    for limit in entry.limits:
        for measured in _measured(limit, verdicts[limit.id], entry, held, case):
            yield _told(entry, measured, _cure(entry, verdicts[limit.id], held, case))
    inside = some(verdicts.values())
    governed = held.unstated and entry.purpose == "other"
    if entry.elsewhere != "free" and entry.limits and inside.holds is not True and not governed:
        yield _told(entry, _outside(entry, inside, held), _cure(entry, inside, held, case))


def _measured(limit: Limit, verdict: Verdict, entry: Entry, held: Held, case: Case) -> Iterator[Measured]:
    summed, holds = _summed(limit, entry, case)
    if verdict.holds is False or limit.max is None or not holds:
        return
    for group in _alone(summed) if limit.each else (summed,):
        amount = total(group, entry.basis, case.molar)
        state = state_of(amount, limit.max)
        if verdict.holds is None and state == "over":
            state = "possible"
        sure = verdict.holds is True and amount.exact and not held.doubtful and entry.doubt is None
        yield Measured(group, amount, limit.max, state, sure, limit.scope)


def _summed(limit: Limit, entry: Entry, case: Case) -> tuple[tuple[Substance, ...], bool]:
    """The substances a limit sums, and whether it holds at all for what is there."""
    own = tuple(item for item in case.amounts.of(limit.of or entry.names) if counts(entry, item))
    rows = [case.rows[entry.market, ref] for ref in limit.together if (entry.market, ref) in case.rows]
    others = tuple(
        item for row in rows for item in case.amounts.of(row.names) if counts(row, item) and item not in own
    )
    names = {key(item.inci) for item in (*own, *others)}
    holds = bool(own) and (not limit.if_together or bool(others)) and (not limit.several or len(names) > 1)
    return (*own, *others), holds


def _alone(substances: Iterable[Substance]) -> tuple[tuple[Substance, ...], ...]:
    by_name: dict[str, tuple[Substance, ...]] = {}
    for item in substances:
        by_name[key(item.inci)] = (*by_name.get(key(item.inci), ()), item)
    return tuple(by_name.values())


def _outside(entry: Entry, inside: Verdict, held: Held) -> Measured:
    """A product in no scope of a row that names the only uses."""
    amount = total(held.substances)
    state: State = "over" if amount.low and inside.holds is False else "possible"
    sure = inside.holds is False and entry.elsewhere == "no" and not held.doubtful and entry.doubt is None
    scopes = "; ".join(limit.scope for limit in entry.limits)
    return Measured(held.substances, amount, Decimal(0), state, sure, f"other uses than {scopes}")


def _told(entry: Entry, found: Measured, do: str) -> Told:
    name, percent, state = inci(found.substances), found.amount.percent, found.state
    level: Level = "error" if state == "over" and found.sure and entry.confidence == "law" else "warning"
    level = capped(level, entry)
    advice = LimitAdvice(
        name, entry.market, percent, found.most, state, "ok" if state == "within" else level, entry.source,
        entry.confidence,
    )
    if state == "within":
        return advice, None
    counted = f" counted as {entry.basis}" if found.amount.converted and found.most else ""
    unread = f" ({UNREAD})" if entry.confidence != "law" else ""
    passes = "may pass" if state == "possible" else "passes"
    what = "what an opinion advises" if entry.cap == "note" else "the limit"
    finding = Finding(
        "limit.over" if state == "over" else "limit.possible", level,
        f"{name}: {shown(percent)}{counted} {passes} {what}{unread}", market=entry.market,
        limit=f"{found.most} %: {found.scope}", source=entry.source, confidence=entry.confidence, do=do,
    )
    return advice, finding


def _cure(entry: Entry, verdict: Verdict, held: Held, case: Case) -> str:
    parts = [*_purpose(entry, held, case)]
    if verdict.holds is None:
        parts.append(f"say {asked(verdict.asks)} under [product], which decides which limit holds")
    parts.append("use less, or state the material's percents more closely")
    if entry.doubt:
        parts.append(entry.doubt)
    return "; ".join(parts)


def _purpose(entry: Entry, held: Held, case: Case) -> Iterator[str]:
    """The purpose that would put another row in this one's place."""
    if not held.unstated:
        return
    if entry.purpose == "preservative":
        twin = case.rows.get((entry.market, entry.twin or ""))
        word = twin.example if twin and twin.example else "solvent"
        yield f'say its purpose: if it does not preserve (purpose = "{word}", say), Annex {entry.twin} holds instead'
    else:
        yield f'say its purpose: if it preserves (purpose = "preservative"), Annex {entry.twin} holds instead'
