"""Colorants in their fields of use: Annex IV in EU and UK, 21 CFR 73, 74 and 82 in the US.

Whether a market knows a colour at all, and by what name, is the declaration's business; here it is where and how much.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

from labeltool.compose.model import Composition, Line, Percent, Substance
from labeltool.rules.amounts import amounts_of
from labeltool.rules.case import Case, Outcome, together
from labeltool.rules.entry import Entry, Limit, Refusal, assimilated
from labeltool.rules.restricted import judge
from labeltool.rules.scope import When

TRACE = Decimal("1E-9")
INHALED = Refusal(When(inhaled=True), "not to be used where the product can be inhaled")
EU_USES = {
    "any": (),
    "rinse-off": (Refusal(When(use="leave-on"), "rinse-off products only"),),
    "not-mucous-membranes": (
        Refusal(When(areas=("lips", "mouth")), "not to be used in products applied on mucous membranes"),
    ),
    "not-eyes": (Refusal(When(areas=("eyes",)), "not to be used in eye products"),),
    "lips-and-eye-shadow": (Refusal(When(not_areas=("lips", "eyes")), "lip products and eye shadow only"),),
}
US_ONLY = {
    "fingernail polish only": When(areas=("nails",)),
    "hair only": When(areas=("hair",)),
    "scalp hair only": When(areas=("hair",)),
    "shampoos only": When(kinds=("shampoo",)),
}
NOT_LIPS = Refusal(When(areas=("lips", "mouth")), "not on lips or other mucous membranes")
NOT_EYES = Refusal(When(areas=("eyes",)), "not in the area of the eye")


def colour_entries(table: Mapping[str, Any]) -> tuple[Entry, ...]:
    """The fields of use of a parsed colorants.toml, as rows for EU, UK and US."""
    found: list[Entry] = []
    for row in table["colour"]:
        if "eu" in row:
            own = _annex_iv(row)
            found += [own, replace(own, market="UK", source=assimilated(own.source))]
        if row["us"]["status"] != "no":
            found.append(_us(row))
    return tuple(found)


def judge_colours(entries: Iterable[Entry], composition: Composition, market: str, case: Case) -> Outcome:
    """The colorants of the product in one market; what it only may contain is judged by its field of use."""
    here = [line for line in composition.lines if market in line.colorant]
    sure = _only(case, [line for line in here if line.group != "may-contain"])
    maybe = _only(case, [_trace(line) for line in here if line.group == "may-contain"])
    rows = [entry for entry in entries if entry.market == market]
    perhaps = together(judge(entry, maybe) for entry in rows)
    return together(judge(entry, sure) for entry in rows) + Outcome(findings=perhaps.findings)


def _only(case: Case, lines: Iterable[Line]) -> Case:
    found = [Substance(line.inci, line.percent, line.sources, (), line.nano) for line in lines]
    return replace(case, amounts=amounts_of(found))


def _trace(line: Line) -> Line:
    return replace(line, percent=Percent(Decimal(0), Decimal(0), TRACE))


def _names(row: Mapping[str, Any]) -> tuple[str, ...]:
    return (row["name"], *row["us"].get("names", ()))


def _annex_iv(row: Mapping[str, Any]) -> Entry:
    eu = row["eu"]
    lungs = "inhalation" in eu.get("note", "") and "III/321" not in eu["note"]
    purity = (eu["note"],) if "note" in eu and _asks_supplier(eu["note"]) else ()
    return Entry(
        ref=row["source"].rsplit(" ", 1)[1], market="EU", names=_names(row), limits=_most(eu, "colorant"),
        refusals=(*EU_USES[eu["use"]], *((INHALED,) if lungs else ())), conditions=purity,
        nano=row.get("nano", False), source=row["source"], confidence=row["confidence"],
    )


def _asks_supplier(note: str) -> bool:
    """Whether a note bounds the colorant's own make, which only its supplier can tell (food grade aside)."""
    return "III/321" not in note and any(word in note for word in ("Purity of", "Purity >", "in the colorant", "Free"))


def _us(row: Mapping[str, Any]) -> Entry:
    us = row["us"]
    use = us.get("use", "")
    refusals = [] if us.get("lips", True) else [NOT_LIPS]
    refusals += [] if us.get("eyes", True) else [NOT_EYES]
    limits = _most(us, use)
    if use in US_ONLY:
        limits = limits or (Limit("use", use, US_ONLY[use]),)
        limits = tuple(replace(limit, when=US_ONLY[use]) for limit in limits)
    return Entry(
        ref=us["source"], market="US", names=_names(row), limits=limits, refusals=tuple(refusals),
        elsewhere="no" if use in US_ONLY else "free", conditions=(use,) if use.startswith("only ") else (),
        source=us["source"], confidence=us["confidence"],
    )


def _most(half: Mapping[str, Any], scope: str) -> tuple[Limit, ...]:
    found = []
    if "max-percent" in half:
        found.append(Limit("all", scope, max=Decimal(str(half["max-percent"]))))
    if "lip-max-percent" in half:
        found.append(Limit("lips", "lip products", When(areas=("lips",)), Decimal(str(half["lip-max-percent"]))))
    return tuple(found)
