from __future__ import annotations

from decimal import Decimal

from bench_samples import GOOD, MATERIALS, D, bench, weighing

from labeltool.batch.made import masses, purposes
from labeltool.compose.parts import parts_of_masses


def shares(state) -> dict[str, Decimal]:
    pairs = [(MATERIALS[mass.material], mass.grams) for mass in masses(state)]
    found: dict[str, Decimal] = {}
    for part in parts_of_masses(pairs, MATERIALS, {}, purposes(state.plan)):
        assert part.low == part.nominal == part.high
        share = Decimal(part.nominal.numerator) / part.nominal.denominator
        found[part.source] = found.get(part.source, Decimal(0)) + share
    return found


def test_what_was_weighed_becomes_the_composition():
    state = bench(weighing(1, "water", "300", None), weighing(2, "glycerin", "30"), weighing(3, "oil", "60"),
                  weighing(4, "acid", "2"), weighing(5, "oil", "8"))
    assert shares(state) == {"water": D(75), "glycerin": D("7.5"), "oil": D(17), "acid": D("0.5")}


def test_an_acid_that_was_not_needed_is_not_in_it():
    assert set(shares(bench(*GOOD))) == {"water", "glycerin", "oil"}


def test_purposes_of_the_plan_go_with_the_masses():
    pairs = [(MATERIALS[mass.material], mass.grams) for mass in masses(bench(*GOOD))]
    found = parts_of_masses(pairs, MATERIALS, {}, purposes(bench().plan))
    assert {part.source: part.purpose for part in found}["oil"] == "emollient"
