"""Canada: warnings of the Cosmetic Regulations, and the Cosmetic Ingredient Hotlist as far as it was read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from labeltool.formula.model import Product
from labeltool.rules.case import Case, Outcome, together
from labeltool.rules.entry import Entry, entries_of
from labeltool.rules.prohibited import Ban, bans_of, judge_bans
from labeltool.rules.restricted import judge
from labeltool.rules.triggers import Trigger, pull, triggers_of


@dataclass(frozen=True, slots=True)
class CanadaTable:
    """The tables of ca.toml."""

    triggers: tuple[Trigger, ...]
    hotlist: tuple[Entry, ...]
    bans: tuple[Ban, ...]


def canada_table(table: Mapping[str, Any]) -> CanadaTable:
    """The rows of a parsed ca.toml."""
    return CanadaTable(triggers_of(table, "CA"), entries_of(table, "hotlist"), bans_of(table, "prohibited"))


def judge_canada(table: CanadaTable, product: Product, case: Case) -> Outcome:
    """Everything but sun words and claims. The list is administrative: its rows warn."""
    return (
        judge_bans(table.bans, "CA", case)
        + together(judge(entry, case) for entry in table.hotlist)
        + pull(table.triggers, product, case)
    )
