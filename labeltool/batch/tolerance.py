"""How far a weighed mass may lie from its plan."""

from __future__ import annotations

from decimal import Decimal

from labeltool.batch.model import Bench, PlanRow
from labeltool.errors import input_error
from labeltool.finding import Finding
from labeltool.formula.quantities import parse_tolerance


def tolerance_g(row: PlanRow, workshop: str, step_g: Decimal) -> Decimal:
    """The row's tolerance in grams, else the workshop's: whole steps of the balance, at least one.

    Raises InputError for a tolerance that cannot be read.
    """
    text = row.tolerance or workshop
    found = parse_tolerance(text)
    if isinstance(found, str):
        raise input_error("bench.tolerance", found, limit="2 %, 0.5 g", do="correct it in the formula or workshop.toml")
    figure, unit = found
    wanted = figure if unit == "g" else (row.grams or Decimal(0)) * figure / 100
    return max(wanted // step_g, Decimal(1)) * step_g


def off_by(bench: Bench, row: PlanRow, workshop: str, step_g: Decimal) -> Finding | None:
    """An error where the mass on a planned row lies outside its tolerance, or a "to pH" row above what was counted."""
    grams = bench.grams_on(row.line)
    if row.kind == "to-ph":
        return _above(row, grams) if row.most_g is not None and grams > max(row.most_g, step_g) else None
    if row.grams is None or not bench.on_line(row.line):
        return None
    allowed = tolerance_g(row, workshop, step_g)
    if abs(grams - row.grams) <= allowed:
        return None
    text = f"line {row.line}, {row.material}: {grams} g weighed, {row.grams} g planned"
    least, most = max(Decimal(0), row.grams - allowed), row.grams + allowed
    limit = f"{least} g to {most} g ({row.tolerance or workshop}, at least one step)"
    return Finding("bench.tolerance", "error", text, limit=limit, do=_correct(row))


def _above(row: PlanRow, grams: Decimal) -> Finding:
    text = f"line {row.line}, {row.material}: {grams} g added to reach the pH"
    limit = f"at most {row.most_g} g: the order of the list and the limits count with no more"
    return Finding("bench.up-to", "error", text, limit=limit, do="raise up-to in the formula, and revise the batch")


def _correct(row: PlanRow) -> str:
    return f"if it was written down wrongly: --correct {row.line}=GRAMS@LOT --why TEXT"
