"""From inputs to what their label must say: composition, advice of the rules, declaration."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache

from labeltool import tables
from labeltool.compose.colours import ColourTable, colour_table
from labeltool.compose.compose import compose
from labeltool.compose.declare import declare
from labeltool.compose.model import Composition, Declaration
from labeltool.compose.names import NameTable, name_table
from labeltool.compose.parts import Part, parts_of
from labeltool.errors import input_error
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Market, Product
from labeltool.rules.advise import advise
from labeltool.rules.model import Advice
from labeltool.workflow.inputs import Inputs


@dataclass(frozen=True, slots=True)
class Prepared:
    """A product judged on one day: composition, advice, declaration, and everything found on the way."""

    inputs: Inputs
    on: dt.date
    markets: tuple[Market, ...]
    parts: tuple[Part, ...]
    composition: Composition
    advice: Advice
    declaration: Declaration
    findings: Findings


@cache
def names() -> NameTable:
    """The shipped table of names."""
    return name_table(tables.toml("rules", "names"))


@cache
def colours() -> ColourTable:
    """The shipped table of colorants."""
    return colour_table(tables.toml("rules", "colorants"))


def markets_of(inputs: Inputs) -> tuple[Market, ...]:
    """The markets of the product: its own, else the workshop's. Raises InputError where there are none."""
    found = inputs.formula.product.markets or inputs.workshop.markets
    if not found:
        raise input_error(
            "sale.markets", "no market is named, and none follows from the maker's country",
            limit="UK, EU, US, CA", do='write markets = ["UK"] under [sale] of workshop.toml',
        )
    return found


def unknown_allergens(inputs: Inputs) -> Iterator[Finding]:
    """A warning for every allergen of a material whose name no table knows: it would be named on no label."""
    table = names()
    for _, material in inputs.materials:
        for item in material.allergens:
            if table.find(item.name) is None:
                near = table.nearest(item.name)
                text = f"material {material.key}: no table knows the allergen {item.name}, so no label names it"
                yield Finding("allergen.name", "warning", text, material.where,
                              do=f"did you mean {near}?" if near else "write the glossary's name")


def prepare(inputs: Inputs, on: dt.date, parts: tuple[Part, ...] | None = None) -> Prepared:
    """Judge the inputs by the law of day `on`; `parts` stands in where something else was really weighed."""
    markets = markets_of(inputs)
    formula = inputs.formula
    chosen = parts if parts is not None else parts_of(formula, inputs.by_key, dict(inputs.made_here))
    composition = compose(chosen, formula.may_contain, names(), colours())
    advice = advise(formula.product, composition, markets, on, tables.toml, inputs.workshop.languages)
    declaration, findings = declare(composition, markets, names(), colours(), advice.extras)
    found = Findings() + unknown_allergens(inputs) + findings + advice.findings
    return Prepared(inputs, on, markets, chosen, composition, advice, declaration, found)


class Judge:
    """Judges what packs and labels of one batch have in common once: the same product facts in the same languages."""

    def __init__(self, on: dt.date, parts: tuple[Part, ...] | None = None) -> None:
        self.on, self.parts = on, parts
        self._known: dict[tuple[Product, tuple[str, ...]], Prepared] = {}

    def of(self, inputs: Inputs) -> Prepared:
        """The inputs judged. Raises InputError as `prepare` does."""
        key = inputs.formula.product, inputs.workshop.languages
        if key not in self._known:
            self._known[key] = prepare(inputs, self.on, self.parts)
        return replace(self._known[key], inputs=inputs)
