"""The packs of a formula as the rest of the program asks for them: by name, and the formula as one of them has it."""

from __future__ import annotations

from dataclasses import replace

from labeltool.formula.model import Formula, Pack

NAMELESS = ""  # the one pack of a formula without [[pack]]


def pack_names(formula: Formula) -> tuple[str, ...]:
    """The names of the packs, in the file's order; the one pack without a name is ""."""
    return tuple(item.name for item in formula.packs) or (NAMELESS,)


def sizes(formula: Formula) -> tuple[Pack, ...]:
    """The packs, each with the net and container that hold for it."""
    return tuple(_whole(item, formula) for item in formula.packs) or (_whole(Pack(NAMELESS), formula),)


def find_pack(formula: Formula, name: str) -> Pack | None:
    """The pack of a name, in any case; None where there is none."""
    return next((item for item in sizes(formula) if item.name.casefold() == name.casefold()), None)


def of_pack(formula: Formula, pack: Pack) -> Formula:
    """The formula as it reads for one pack: its net, number and container in the places of the product's."""
    if not formula.packs:
        return formula
    product = replace(formula.product, net=pack.net, gtin=pack.gtin)
    return replace(formula, product=product, container=pack.container)


def _whole(pack: Pack, formula: Formula) -> Pack:
    """Net and container stand above where the pack says none; a number only where there is one pack to have it."""
    number = pack.gtin or (formula.product.gtin if len(formula.packs) < 2 else None)
    return replace(pack, net=pack.net or formula.product.net, gtin=number,
                   container=pack.container or formula.container)
