"""The case that rules judge: a product's facts and amounts on one day, and what an evaluator hands back."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from labeltool.compose.model import Percent, Substance
from labeltool.finding import Finding
from labeltool.rules.amounts import Amounts, MolarTable
from labeltool.rules.entry import Entry
from labeltool.rules.model import LimitAdvice
from labeltool.rules.scope import Facts
from labeltool.rules.texts import Due


@dataclass(frozen=True, slots=True)
class Case:
    """A product and a day. `rows`: every row of the annexes by (market, ref), for sums over rows."""

    facts: Facts
    amounts: Amounts
    molar: MolarTable
    on: dt.date
    rows: Mapping[tuple[str, str], Entry] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one evaluator found; outcomes add up."""

    limits: tuple[LimitAdvice, ...] = ()
    dues: tuple[Due, ...] = ()
    findings: tuple[Finding, ...] = ()

    def __add__(self, other: Outcome) -> Outcome:
        return Outcome(self.limits + other.limits, self.dues + other.dues, self.findings + other.findings)


NOTHING = Outcome()


def together(outcomes: Iterable[Outcome]) -> Outcome:
    """The sum of outcomes, in order."""
    found = NOTHING
    for outcome in outcomes:
        found += outcome
    return found


def shown(value: Percent) -> str:
    """A percent, or its range, at most six significant digits."""
    low, high = (format(float(item), ".6g") for item in (value.low, value.high))
    return f"{low} %" if low == high else f"{low} to {high} %"


def joined(names: Iterable[str]) -> str:
    """Names of a sum in one line."""
    return " + ".join(dict.fromkeys(names))


def inci(substances: Iterable[Substance]) -> str:
    """The names of substances, as one sum."""
    return joined(item.inci for item in substances)
