"""`print CODE --revise`: today's words for a batch that is open, and today's composition while nothing is weighed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from labeltool.errors import input_error
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Formula, Row
from labeltool.records.model import Batch
from labeltool.records.store import Store
from labeltool.workflow.arguments import formula_files
from labeltool.workflow.benchlog import on_bench
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.inputs import Inputs, read_inputs
from labeltool.workflow.setting import Setting


def revised(
    batch: Batch, before: Inputs, store: Store, folder: Path, call: PrintCall, setting: Setting,
) -> tuple[Inputs, Findings]:
    """What would be frozen anew. Raises InputError where today's files are gone or have faults."""
    if not (call.why or "").strip():
        raise input_error("call.why", "--revise needs its reason", do="--why TEXT")
    path = formula_files(folder).get(before.formula.key)
    if path is None:
        raise input_error("batch.formula-gone", f"the formula file {before.formula.key} is gone",
                          do="put it back under formulas/, or leave --revise out")
    opened = read_inputs(path, setting, dict(call.facts))
    if not on_bench(batch, store, before).bench.weighed:
        return opened.inputs, opened.findings
    text = "masses are on record, so the composition stays what it was; the words are today's"
    note = Finding("batch.composition-kept", "note", text)
    return _words_only(before, opened.inputs), Findings((*opened.findings, note))


def _words_only(before: Inputs, now: Inputs) -> Inputs:
    """Today's words over the rows and materials of before; tolerances and how much "to pH" may be are today's."""
    formula = replace(now.formula, rows=_rows(before.formula, now.formula), total_grams=before.formula.total_grams)
    return replace(now, formula=formula, materials=before.materials, made_here=before.made_here)


def _rows(before: Formula, now: Formula) -> tuple[Row, ...]:
    today = {(row.line, row.material, row.kind): row for row in now.rows}
    return tuple(_row(row, today.get((row.line, row.material, row.kind), row)) for row in before.rows)


def _row(row: Row, now: Row) -> Row:
    return replace(row, tolerance=now.tolerance, up_to=now.up_to, purpose=now.purpose)
