"""Whether a product with water holds anything that keeps microbes off: what the trade looks for, and no law's row.

Common practice, no source: water in a product wants a preservative unless something else keeps it. Whether it keeps is
shown by a challenge test, and judged by who assesses its safety.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from labeltool.compose.model import Substance
from labeltool.finding import Finding, Level
from labeltool.formula.model import Product
from labeltool.rules.amounts import Amount, reacted, total
from labeltool.rules.case import Case, inci, shown
from labeltool.rules.entry import Entry
from labeltool.rules.limits import counts

WATER = Fraction(3)  # percent; below it, what extracts and salts bring along
STRONG = Fraction(20)  # percent of alcohol
ACID, ALKALINE = 3, 10  # pH
ALCOHOLS = ("Alcohol", "Alcohol Denat.", "Isopropyl Alcohol")
AIDS = (
    "Ethylhexylglycerin", "Caprylyl Glycol", "Caprylhydroxamic Acid", "Pentylene Glycol", "1,2-Hexanediol",
    "Glyceryl Caprylate", "Glyceryl Undecylenate", "Sodium Levulinate", "Levulinic Acid", "Sodium Anisate",
    "p-Anisic Acid", "Phenethyl Alcohol", "Phenylpropanol", "Lactobacillus Ferment",
    "Leuconostoc/Radish Root Ferment Filtrate",
)
TEST = "whether it keeps is shown by a challenge test, and judged by who assesses its safety"


def judge_keeping(product: Product, case: Case, preservatives: Iterable[Entry]) -> Iterator[Finding]:
    """A warning where there is water and no preservative; a note where something else may keep it."""
    water = total(item for item in _added(case.amounts.all) if is_water(item.inci))
    if water.nominal < WATER or _preserved(case, preservatives):
        return
    why = _otherwise(product, case)
    level: Level = "note" if why else "warning"
    said = f"{shown(water.percent)} water and no preservative that the tables know"
    do = f"{TEST}; else preserve it, or make it without water"
    yield Finding("preservative.none", level, f"{said}{f': {why}' if why else ''}", confidence="practice", do=do)


def is_water(name: str) -> bool:
    """Water, a hydrosol or a juice, by its INCI name."""
    return name.casefold() in ("aqua", "water") or name.casefold().endswith((" water", " juice"))


def _added(substances: Iterable[Substance]) -> Iterator[Substance]:
    """What is there for itself: not what has reacted, nor what oils and perfumes merely contain."""
    return (item for item in substances if not (reacted(item) or item.contained or item.perfume))


def _preserved(case: Case, preservatives: Iterable[Entry]) -> bool:
    stated = any("preservative" in item.purposes for item in case.amounts.all)
    return stated or any(counts(row, item) for row in preservatives for item in _added(case.amounts.of(row.names)))


def _otherwise(product: Product, case: Case) -> str:
    """What may keep it besides a preservative; "" where nothing known does."""
    alcohol: Amount = total(_added(case.amounts.of(ALCOHOLS)))
    aids = tuple(_added(case.amounts.of(AIDS)))
    if alcohol.low >= STRONG:
        return f"alcohol of {STRONG} % or more keeps most products"
    if product.ph is not None and (product.ph.high <= ACID or product.ph.low >= ALKALINE):
        return f"a pH of {ACID} or less, or {ALKALINE} or more, leaves few microbes alive"
    if product.form == "bar":
        return "in a solid bar little of it is free for microbes"
    return f"{inci(aids)} may help it keep" if aids else ""
