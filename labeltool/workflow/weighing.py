"""The weighing sheet of a formula or a batch: what to weigh, as values and as CSV."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from labeltool.batch.bench import fold
from labeltool.batch.model import Bench, PlanRow
from labeltool.batch.plan import plan_findings
from labeltool.batch.sheet import write_sheet
from labeltool.batch.tolerance import tolerance_g
from labeltool.errors import input_error
from labeltool.finding import Findings
from labeltool.formula.model import Material
from labeltool.records.store import open_store
from labeltool.workflow.arguments import understand
from labeltool.workflow.benchlog import on_bench
from labeltool.workflow.codes import codes_on_record, find_code, home, record_folder, record_path, the_batch
from labeltool.workflow.inputs import Inputs, read_inputs, refuse_set
from labeltool.workflow.publish import beside, put
from labeltool.workflow.setting import Setting


@dataclass(frozen=True, slots=True)
class Weighing:
    """What is to be weighed. `code` and `made` are None for a formula without a batch."""

    inputs: Inputs
    bench: Bench
    materials: dict[str, Material]
    findings: Findings
    code: str | None = None
    made: dt.date | None = None

    @property
    def title(self) -> str:
        """Product and version."""
        product = self.inputs.formula.product
        return f"{product.name}{f', version {product.version}' if product.version else ''}"

    def phases(self) -> tuple[tuple[str, tuple[PlanRow, ...]], ...]:
        """The plan by phase, phases in the order they first stand in the formula."""
        names = dict.fromkeys(row.phase for row in self.bench.plan)
        return tuple((name, tuple(row for row in self.bench.plan if row.phase == name)) for name in names)

    def allowed(self, row: PlanRow) -> tuple[Decimal, Decimal] | None:
        """The lowest and the highest mass within the row's tolerance; None for a row without a planned mass."""
        if row.grams is None or row.kind == "to-ph":
            return None
        rules = self.inputs.workshop.batch
        off = tolerance_g(row, rules.tolerance, rules.balance_g)
        return max(Decimal(0), row.grams - off), row.grams + off


def weighing_of(
    what: str, size_g: Decimal | None, setting: Setting, facts: dict[str, str] | None = None,
) -> Weighing:
    """The weighing of a formula for a size, or of a batch on record. Raises InputError where a size is missing.

    `facts`: product facts given as options, for formulas that come from a spreadsheet alone.
    """
    folder = home(setting)
    named = understand(what, setting, lambda typed: find_code(typed, folder), lambda: codes_on_record(folder))
    if named.code is not None:
        return _of_batch(named.code, size_g, setting)
    assert named.path is not None
    opened = read_inputs(named.path, setting, facts)
    refuse_set(opened.inputs.formula, "weigh")
    size = size_g or opened.inputs.formula.total_grams
    if size is None:
        raise input_error("call.size", "how much is to be made?", do=f"labeltool weigh {what} --size 500g")
    step = opened.inputs.workshop.batch.balance_g
    bench = fold(opened.inputs.formula.rows, size, (), step)
    return Weighing(opened.inputs, bench, opened.inputs.by_key, opened.findings + plan_findings(bench.plan, step))


def _of_batch(code: str, size_g: Decimal | None, setting: Setting) -> Weighing:
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        at = on_bench(the_batch(code, folder, store), store)
    if at.bench.size_g is None:
        raise input_error("call.size", f"batch {at.batch.code} has no size yet",
                          do=f"labeltool batch bench {at.batch.code} --size 500g")
    if size_g is not None and size_g != at.bench.size_g:
        raise input_error("call.size", f"batch {at.batch.code} has a size: {at.bench.size_g} g", do="leave --size out")
    found = plan_findings(at.bench.plan, at.step_g)
    return Weighing(at.inputs, at.bench, at.materials, found, at.batch.code, at.batch.made)


def write_csv(weighing: Weighing, target: Path, setting: Setting) -> int:
    """Write the rows still to weigh as a sheet that `batch bench --from` reads; returns how many.

    Raises InputError where a file stands there: it may be one that was filled in.
    """
    bench = weighing.bench
    rows = [row for row in bench.plan if not bench.on_line(row.line)]
    write_text(write_sheet(rows), target, setting)
    return len(rows)


def write_text(text: str, target: Path, setting: Setting) -> None:
    """Write a new text file in one go. Raises InputError where a file stands there, or the folder is missing."""
    path = setting.cwd / target
    if not path.parent.is_dir():
        raise input_error("output.folder", f"the folder {path.parent} does not exist", do="make it first")
    if path.exists():
        raise input_error("output.exists", f"{target} stands there already and is never replaced",
                          do="name another file, or move it away")
    with beside(path.parent, text.encode("utf-8")) as temporary:
        put(temporary, path)
