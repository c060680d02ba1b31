"""How much faster the order proof is than a linear programme a pair: `python bench/order_proof.py [pairs]`.

300 ingredients in 60 materials with ranges; the closed form decides all pairs, linprog a sample of the same pairs,
and both must say the same. The ratio carries over to other machines, the milliseconds do not.
"""

import random
import sys
from decimal import Decimal
from statistics import median
from time import process_time

import numpy
from measured import RUNS
from measured import Row as Line
from scipy.optimize import linprog

from labeltool.compose.colours import ColourTable
from labeltool.compose.identity import Book
from labeltool.compose.lines import drafts
from labeltool.compose.names import NameTable
from labeltool.compose.order import doubts
from labeltool.compose.parts import parts_of
from labeltool.formula.model import Component, Formula, Material, Product, Row, Span

MATERIALS, INGREDIENTS, COMPONENTS = 60, 300, 6


def scene(rng):
    """Materials of 6 components of about 17 % each, give or take up to 8; 60 rows from 0.1 % to about 10 %."""
    names = [f"Ingredient {index}" for index in range(INGREDIENTS)]
    materials = {}
    for index in range(MATERIALS):
        chosen = [names[(index * 5 + step) % INGREDIENTS] for step in range(COMPONENTS)]
        spans = [Span(Decimal(17 - rng.randint(1, 8)), Decimal(17 + rng.randint(1, 8))) for _ in chosen]
        made_of = tuple(Component(name, span) for name, span in zip(chosen, spans, strict=True))
        materials[f"m{index}"] = Material(f"m{index}", "", made_of)
    weights = [Decimal(rng.randint(1, 100)) for _ in materials]
    shares = [(weight * 100 / sum(weights)).quantize(Decimal("0.0001")) for weight in weights]
    shares[0] += 100 - sum(shares)
    rows = tuple(Row(1, name, "amount", share) for name, share in zip(materials, shares, strict=True))
    return Formula("f", Product("f"), rows), materials


def programme(formula, materials):
    """The constraints of linprog: columns (material, name), their bounds, and one sum a material."""
    columns = [(row, item) for row in formula.rows for item in materials[row.material].made_of]
    names = [item.inci for _, item in columns]
    shares = [float(row.percent) for row, _ in columns]
    bounds = [
        (share * float(item.percent.low) / 100, share * float(item.percent.high) / 100)
        for share, (_, item) in zip(shares, columns, strict=True)
    ]
    sums = numpy.array([[float(row is found) for found, _ in columns] for row in formula.rows])
    return names, bounds, sums, numpy.array([float(row.percent) for row in formula.rows])


def solved(problem, before, after):
    """The largest after - before; None where `after` cannot reach 1 %."""
    names, bounds, sums, totals = problem
    second = numpy.array([float(name == after) for name in names])
    first = numpy.array([float(name == before) for name in names])
    found = linprog(first - second, -second[None, :], [-1.0], sums, totals, bounds, method="highs")
    return None if found.status == 2 else -found.fun


def measured(pairs):
    """(the drafts, the pairs, those in doubt, seconds of composing, of deciding all pairs, of linprog a pair)."""
    rng = random.Random(3)
    formula, materials = scene(rng)
    parts = parts_of(formula, materials, {})
    start = process_time()
    found = drafts(parts, Book(NameTable(), ColourTable()))
    composed = process_time()
    claims = {(item.before, item.after): float(item.by) for item in doubts(found)}
    proved = process_time()
    order = [item.label for item in found]
    every = [(before, after) for at, before in enumerate(order) for after in order[at + 1:]]
    problem = programme(formula, materials)
    sample = rng.sample(every, pairs)
    begun = process_time()
    answers = [solved(problem, before, after) for before, after in sample]
    each = (process_time() - begun) / pairs
    for pair, most in zip(sample, answers, strict=True):
        assert abs(claims.get(pair, 0.0) - max(most or 0.0, 0.0)) < 1e-9, pair
    return order, every, claims, composed - start, proved - composed, each


def rows(pairs=100):
    """The row of the table: our time as a share of linprog's for the same pairs; the median of seven."""
    found = [measured(pairs) for _ in range(RUNS)]
    closed = median(item[4] for item in found)
    each, every = median(item[5] for item in found), len(found[0][1])
    yield Line("order proof, 300 ingredients in 60 materials", "linprog on the same pairs", closed / (each * every),
              0.01, "x", f"{closed * 1000:.0f} ms for {every:,} pairs; linprog {each * 1000:.2f} ms a pair, "
              f"{each * every / closed:,.0f} times as long")


def main(pairs):
    order, every, claims, composed, proved, each = measured(pairs)
    print(f"{len(order)} ingredients in {MATERIALS} materials, {len(every)} pairs, {len(claims)} in doubt")
    print(f"composed in {composed * 1000:.1f} ms, all pairs decided in {proved * 1000:.1f} ms")
    print(f"linprog: {each * 1000:.2f} ms a pair; ratio linprog to closed form: {each * len(every) / proved:,.0f} to 1")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100)
