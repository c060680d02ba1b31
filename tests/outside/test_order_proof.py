"""The order proof against scipy's linear programming (HiGHS), which knows nothing of tightened ranges.

Each formula becomes a linear programme over every component of every part: stated ranges, sums of 100 %, varying
shares; the largest after - before with `after` at 1 % or more is compared with the doubt that was claimed.
"""

import random
from decimal import Decimal

import numpy
import pytest
from scipy.optimize import linprog

from labeltool.compose.colours import ColourTable
from labeltool.compose.compose import compose
from labeltool.compose.names import NameTable
from labeltool.compose.parts import parts_of
from labeltool.formula.model import Component, Formula, Material, Product, Row, Span

FORMULAS = 2000
NAMES = [f"Name {letter}" for letter in "ABCDEFG"]


def ranges(rng, count):
    """Component ranges that can sum to 100; some single figures, some ties."""
    cuts = sorted(rng.choices(range(1, 20), k=count - 1))
    middles = [5 * (after - before) for before, after in zip([0, *cuts], [*cuts, 20], strict=True)]
    wide = rng.choice([0, 5, 20, 40])
    return [
        Span(Decimal(max(0, middle - rng.randint(0, wide))), Decimal(min(100, middle + rng.randint(0, wide))))
        for middle in middles
    ]


def made_of(rng):
    chosen = rng.sample(NAMES, rng.randint(1, 4))
    return tuple(Component(name, span) for name, span in zip(chosen, ranges(rng, len(chosen)), strict=True))


def scene(rng):
    """A formula with shared names and materials, "to pH" rows, perfumes and a material made here."""
    count = rng.randint(2, 4)
    materials = {
        f"m{index}": Material(f"m{index}", "", made_of(rng), fragrance=rng.random() < 0.1) for index in range(count)
    }
    inner = Formula("inner", Product("inner"), (
        Row(1, "m0", "amount", Decimal(40)), Row(2, "m1", "amount", Decimal(60)),
    ))
    materials["made"] = Material("made", "", formula="inner")
    keys = rng.choices(sorted(materials), k=rng.randint(2, 4))
    if rng.random() < 0.5:
        materials["carrier"] = Material("carrier", "", (Component("Carrier", Span(Decimal(100), Decimal(100))),))
        keys[0] = "carrier"
    first = rng.choice([Decimal(94), Decimal(50), Decimal(98)])
    rest = [(100 - first) / (len(keys) - 1)] * (len(keys) - 1)
    rows = [Row(1, key, "amount", share) for key, share in zip(keys, [first, *rest], strict=True)]
    for key in rng.choices(sorted(materials), k=rng.choice([0, 1, 1, 2])):
        rows.append(Row(1, key, "to-ph", Decimal(0), up_to=rng.choice([Decimal(1), Decimal(3), Decimal(20)])))
    return Formula("f", Product("f"), tuple(rows)), materials, {"made": inner}


class Programme:
    """Variables: the share of every row, and percent of the product of every component of every leaf."""

    def __init__(self, formula, materials, made_here):
        self.bounds, self.equal, self.atmost, self.names = [], [], [], []
        for row in formula.rows:
            low, high = (row.percent, row.percent) if row.kind == "amount" else (Decimal(0), row.up_to)
            share = self.variable(None, float(low), float(high))
            material = materials[row.material]
            if material.formula is None:
                self.leaf(material, share, 1.0)
            for inner in made_here[row.material].rows if material.formula else ():
                self.leaf(materials[inner.material], share, float(inner.percent) / 100)

    def variable(self, name, low, high):
        self.bounds.append((low, high))
        self.names.append(name)
        return len(self.names) - 1

    def leaf(self, material, share, part):
        found = [("Parfum", 100.0, 100.0)] if material.fragrance else [
            (item.inci, float(item.percent.low), float(item.percent.high)) for item in material.made_of
        ]
        columns = [self.variable(name, 0, None) for name, _, _ in found]
        self.equal.append({share: -part} | dict.fromkeys(columns, 1.0))
        for column, (_, low, high) in zip(columns, found, strict=True):
            self.atmost.append({share: part * low / 100, column: -1.0})
            self.atmost.append({share: -part * high / 100, column: 1.0})

    def matrix(self, rows):
        dense = numpy.zeros((len(rows), len(self.names)))
        for at, row in enumerate(rows):
            for column, value in row.items():
                dense[at, column] = value
        return dense

    def amount(self, name):
        return numpy.array([1.0 if found == name else 0.0 for found in self.names])

    def most(self, goal, least_one=None):
        """The largest value of the goal; None where `least_one` cannot reach 1 %."""
        rows, limits = self.matrix(self.atmost), numpy.zeros(len(self.atmost))
        if least_one is not None:
            rows, limits = numpy.vstack([rows, -least_one]), numpy.append(limits, -1.0)
        equal = self.matrix(self.equal)
        found = linprog(-goal, rows, limits, equal, numpy.zeros(len(self.equal)), self.bounds, method="highs")
        return None if found.status == 2 else -found.fun


@pytest.mark.parametrize("block", range(4))
def test_every_claim_equals_the_linear_programme(block, samples):
    rng = random.Random(1000 + block)
    tried = opened = 0
    for _ in range(samples(FORMULAS // 4)):
        formula, materials, made_here = scene(rng)
        found = compose(parts_of(formula, materials, made_here), (), NameTable(), ColourTable())
        claims = {(item.before, item.after): float(item.by) for item in found.doubts}
        order = [item.inci for item in found.lines]
        pairs = [(before, after) for at, before in enumerate(order) for after in order[at + 1:]]
        programme = Programme(formula, materials, made_here)
        for before, after in rng.sample(pairs, min(2, len(pairs))):
            most = programme.most(programme.amount(after) - programme.amount(before), programme.amount(after))
            expected = max(most, 0.0) if most is not None else 0.0
            claimed = claims.get((before, after), 0.0)
            assert claimed == pytest.approx(expected, abs=1e-9), (formula, materials, before, after)
            tried, opened = tried + 1, opened + (expected > 0)
    assert tried > 800 and opened > 100


def test_lowest_and_highest_equal_the_linear_programme(samples):
    rng = random.Random(7)
    for _ in range(samples(150)):
        formula, materials, made_here = scene(rng)
        found = compose(parts_of(formula, materials, made_here), (), NameTable(), ColourTable())
        programme = Programme(formula, materials, made_here)
        item = rng.choice(found.lines)
        assert float(item.percent.high) == pytest.approx(programme.most(programme.amount(item.inci)), abs=1e-9)
        assert float(item.percent.low) == pytest.approx(-programme.most(-programme.amount(item.inci)), abs=1e-9)
