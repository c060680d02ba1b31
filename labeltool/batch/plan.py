"""The weighing plan: masses from size and percent rows, in whole steps of the balance, that sum to the size."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from labeltool.batch.model import PlanRow
from labeltool.errors import input_error
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Row

LARGEST_G = Decimal(10**9)
STEP_G = Decimal("0.01")


def plan(rows: Sequence[Row], size_g: Decimal | None, step_g: Decimal = STEP_G) -> tuple[PlanRow, ...]:
    """The planned rows for a batch of `size_g`; without a size their masses are None.

    Masses are whole steps, each less than one step from its exact share, and sum to the size; where the size itself
    is no whole number of steps, one row carries the rest. Raises InputError for a size that is none.
    """
    if size_g is None:
        return tuple(_row(row, None, None) for row in rows)
    prove_size(size_g)
    places = [place for place, row in enumerate(rows) if row.kind != "to-ph"]
    masses = dict(zip(places, _masses([rows[place].percent for place in places], size_g, step_g), strict=True))
    return tuple(_row(row, masses.get(place), size_g) for place, row in enumerate(rows))


def prove_size(size_g: Decimal) -> None:
    """Raise InputError where a mass cannot be a batch's size."""
    if not (size_g.is_finite() and 0 < size_g <= LARGEST_G):
        raise input_error("plan.size", f"{size_g} g is no size of a batch", limit="more than 0, at most 1000 t")


def plan_findings(planned: Sequence[PlanRow], step_g: Decimal = STEP_G) -> Findings:
    """A warning for every row that is less than the balance can show."""
    small = [row for row in planned if row.planned and row.grams is not None and row.grams < step_g]
    return Findings(tuple(
        Finding(
            "plan.too-small", "warning", f"line {row.line}, {row.material}: {row.percent} % of this batch is below "
            "one step of the balance", limit=f"the balance shows steps of {step_g} g",
            do="weigh it on a finer balance, or make a larger batch",
        )
        for row in small
    ))


def _masses(percents: Sequence[Decimal], size_g: Decimal, step_g: Decimal) -> list[Decimal]:
    """Whole steps below every exact share, then one step more for the largest remainders until the size is met."""
    step, whole = Fraction(step_g), sum((Fraction(percent) for percent in percents), Fraction(0))
    exact = [Fraction(size_g) * Fraction(percent) / whole / step for percent in percents]
    steps = [int(share) for share in exact]
    order = sorted(range(len(exact)), key=lambda place: (steps[place] - exact[place], -exact[place], place))
    all_steps = int(Fraction(size_g) / step)
    spare = all_steps - sum(steps)
    for place in order[:spare]:
        steps[place] += 1
    masses = [count * step_g for count in steps]
    rest = size_g - all_steps * step_g
    if rest:
        masses[order[spare]] += rest
    return masses


def _row(row: Row, grams: Decimal | None, size_g: Decimal | None) -> PlanRow:
    most = row.up_to * size_g / 100 if row.kind == "to-ph" and size_g is not None else None
    return PlanRow(
        row.line, row.phase, row.material, row.kind, row.percent, grams, most, row.tolerance, row.purpose,
    )
