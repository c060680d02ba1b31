"""All tables of the rules as one value, read once from parsed TOML."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from labeltool.rules.allergens import AllergenTable, allergen_table
from labeltool.rules.amounts import MolarTable, molar_table
from labeltool.rules.canada import CanadaTable, canada_table
from labeltool.rules.claims import ClaimTable, claim_table
from labeltool.rules.colours import colour_entries
from labeltool.rules.entry import Entry, entries_of
from labeltool.rules.filters import SunStop, sun_stop
from labeltool.rules.prohibited import Ban, bans_of
from labeltool.rules.releasers import ReleaseRule, release_rules
from labeltool.rules.scope import Kind, kinds_of
from labeltool.rules.texts import Wordings, wordings_of
from labeltool.rules.triggers import Trigger, triggers_of
from labeltool.rules.us import UsTable, us_table

Reader = Callable[[str, str], Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class RuleBook:
    """The tables: one field a file of labeltool/rules/."""

    allergens: AllergenTable
    bans: tuple[Ban, ...]
    annex3: tuple[Entry, ...]
    annex5: tuple[Entry, ...]
    annex6: tuple[Entry, ...]
    sun: SunStop
    colours: tuple[Entry, ...]
    europe: tuple[Trigger, ...]
    us: UsTable
    canada: CanadaTable
    claims: ClaimTable
    releases: tuple[ReleaseRule, ...]
    molar: MolarTable
    kinds: Mapping[str, Kind]
    wordings: Wordings


@cache
def rule_book(read: Reader) -> RuleBook:
    """The tables that `read("rules", name)` gives as parsed TOML; kept for the next call with the same reader."""
    return RuleBook(
        allergens=allergen_table(read("rules", "allergens")),
        bans=bans_of(read("rules", "annex2")),
        annex3=entries_of(read("rules", "annex3")),
        annex5=entries_of(read("rules", "annex5")),
        annex6=entries_of(read("rules", "annex6")),
        sun=sun_stop(read("rules", "annex6")),
        colours=colour_entries(read("rules", "colorants")),
        europe=tuple(row for market in ("EU", "UK") for row in triggers_of(read("rules", "eu"), market)),
        us=us_table(read("rules", "us")),
        canada=canada_table(read("rules", "ca")),
        claims=claim_table(read("rules", "claims")),
        releases=release_rules(read("rules", "releasers")),
        molar=molar_table(read("rules", "molar")),
        kinds=kinds_of(read("rules", "kinds")),
        wordings=wordings_of(read("rules", "wordings")),
    )
