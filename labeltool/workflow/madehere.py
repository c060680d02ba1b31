"""Materials made here, as their batch was made: what was weighed stands for the formula it was planned by."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from labeltool.batch.lots import Inside, LotBook
from labeltool.batch.made import Mass, masses, purposes
from labeltool.compose.decimals import decimal
from labeltool.compose.parts import PH_ADJUSTER
from labeltool.formula.model import Formula, Material, Row
from labeltool.workflow.benchlog import OnBench

Settled = tuple[tuple[tuple[Material, Decimal], ...], dict[str, Material], dict[str, Formula]]


def settled(at: OnBench, book: LotBook) -> Settled:
    """What was weighed as (material, grams) pairs, and the materials and formulas that those made here need.

    A lot's own composition comes before the batch's; a lot that is a batch brings what that batch was made of, under
    a formula of its own, FORMULA@CODE.
    """
    materials, made_here = dict(at.materials), dict(at.made_here)
    pairs = []
    for mass in masses(at.bench):
        material, lot = _material(at, book, mass), book.find(mass.material, mass.lot)
        if material.formula is not None and lot is not None and lot.inside is not None:
            material = replace(material, formula=f"{material.formula}@{lot.lot}")
            materials = dict(lot.inside.materials) | materials
            made_here |= dict(lot.inside.made_here) | {str(material.formula): lot.inside.formula}
        pairs.append((material, mass.grams))
    return tuple(pairs), materials, made_here


def _material(at: OnBench, book: LotBook, mass: Mass) -> Material:
    return book.material_of(mass.material, mass.lot) or at.materials[mass.material]


def purposes_of(at: OnBench) -> dict[str, str]:
    """What the weighed materials are for; what brings a batch to its pH adjusts it."""
    return purposes(tuple(
        replace(row, purpose=row.purpose or PH_ADJUSTER) if row.kind == "to-ph" else row for row in at.bench.plan
    ))


def inside(at: OnBench, book: LotBook) -> Inside:
    """What a batch that serves as a lot was made of; everything planned of it was weighed."""
    pairs, materials, made_here = settled(at, book)
    code, whole = at.batch.code, sum((Fraction(grams) for _, grams in pairs), Fraction(0))
    given = purposes_of(at)
    rows, own, formulas = [], {}, {}
    for line, (material, grams) in enumerate(pairs, 1):
        key = f"{material.key}@{code}/{line}"
        own[key] = replace(material, key=key)
        if material.key in at.made_here:
            formulas[key] = at.made_here[material.key]
        share = decimal(Fraction(grams) * 100 / whole)
        rows.append(Row(line, key, "amount", share, purpose=given.get(material.key)))
    formula = replace(at.inputs.formula, rows=tuple(rows), total_grams=None)
    return Inside(formula, tuple((materials | own).items()), tuple((made_here | formulas).items()))



