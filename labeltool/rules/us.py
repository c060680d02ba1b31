"""United States: warnings of 21 CFR 740, the alpha hydroxy acid alert, and substances prohibited by 21 CFR 700."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from labeltool.compose.model import Substance
from labeltool.finding import Finding
from labeltool.formula.model import Product
from labeltool.rules.amounts import reacted, total
from labeltool.rules.case import NOTHING, Case, Outcome, inci, shown
from labeltool.rules.prohibited import Ban, bans_of, judge_bans
from labeltool.rules.texts import Due
from labeltool.rules.triggers import Trigger, pull, triggers_of

ADJUSTS = frozenset(("ph-adjuster", "buffer"))
EXFOLIATES = "exfoliant"


@dataclass(frozen=True, slots=True)
class HydroxyAcid:
    """One alpha hydroxy acid. `exfoliant`: counts only where it is there to exfoliate. `free`: percent without a
    stated purpose that does not count."""

    name: str
    exfoliant: bool
    free: Decimal


@dataclass(frozen=True, slots=True)
class UsTable:
    """The tables of us.toml."""

    triggers: tuple[Trigger, ...]
    bans: tuple[Ban, ...]
    acids: tuple[HydroxyAcid, ...]
    alert: Due


def us_table(table: Mapping[str, Any]) -> UsTable:
    """The rows of a parsed us.toml."""
    acids = tuple(
        HydroxyAcid(row["name"], row["counts"] == EXFOLIATES, Decimal(row.get("free", "0"))) for row in table["aha"]
    )
    alert = table["aha-alert"]
    due = Due(alert["key"], "US", alert["source"], "", alert["confidence"])
    return UsTable(triggers_of(table, "US"), bans_of(table, "prohibited"), acids, due)


def judge_us(table: UsTable, product: Product, case: Case) -> Outcome:
    """Everything but colours, sun words and claims."""
    return judge_bans(table.bans, "US", case) + pull(table.triggers, product, case) + _acids(table, case)


def _acids(table: UsTable, case: Case) -> Outcome:
    """The sunburn alert where alpha hydroxy acids are there to exfoliate, or may be for all that is stated."""
    counted = tuple(item for acid in table.acids for item in _counted(acid, case))
    aside = tuple(_aside(table, case))
    if not counted:
        return Outcome(findings=aside) if aside else NOTHING
    names = inci(counted)
    alert = table.alert
    due = Due(alert.key, alert.market, alert.source, names, alert.confidence)
    said = f"{names} ({shown(total(counted).percent)}) counts as an alpha hydroxy acid, so the label carries the alert"
    note = Finding(
        "aha.alert", "note", said, market="US", source=alert.source, confidence=alert.confidence,
        do='where it only adjusts the pH, say purpose = "ph-adjuster"',
    )
    return Outcome(dues=(due,), findings=(note, *aside))


def _counted(acid: HydroxyAcid, case: Case) -> tuple[Substance, ...]:
    there = tuple(item for item in case.amounts.of((acid.name,)) if not reacted(item) and not item.contained)
    if acid.exfoliant:
        return tuple(item for item in there if EXFOLIATES in item.purposes)
    stated = tuple(item for item in there if item.purposes and not set(item.purposes) <= ADJUSTS)
    silent = tuple(item for item in there if not item.purposes)
    return (*stated, *(silent if total(silent).high > Fraction(acid.free) else ()))


def _aside(table: UsTable, case: Case) -> Iterator[Finding]:
    """A note on small amounts that no purpose is stated for, and that are taken for pH adjusters."""
    for acid in table.acids:
        there = tuple(item for item in case.amounts.of((acid.name,)) if not item.purposes)
        if there and acid.free and not _counted(acid, case):
            yield Finding(
                "aha.aside", "note",
                f"{acid.name} ({shown(total(there).percent)}) is taken for a pH adjuster: no alert on its account",
                market="US", limit=f"up to {acid.free} % without a purpose", source=table.alert.source,
                confidence="practice", do='if it exfoliates, say purpose = "exfoliant"',
            )
