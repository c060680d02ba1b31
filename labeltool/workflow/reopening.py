"""More labels of a batch that is open: planned from what the record froze, not from today's files."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from labeltool.batch.made import nothing_weighed
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding, Findings
from labeltool.formula.load import read_workshop
from labeltool.formula.model import Workshop
from labeltool.records.model import PRINTABLE, Batch
from labeltool.records.store import Store
from labeltool.workflow.arguments import formula_files
from labeltool.workflow.asmade import as_made, differences
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.inputs import Inputs, read_inputs, thawed
from labeltool.workflow.lasttime import as_last_time
from labeltool.workflow.outdated import Bygone, for_the_filled
from labeltool.workflow.packs import markets_typed
from labeltool.workflow.plain import stored
from labeltool.workflow.planning import Plan, plans, unreleased
from labeltool.workflow.revising import revised
from labeltool.workflow.sets import contents
from labeltool.workflow.setting import Setting


def plan_batch(batch: Batch, store: Store, folder: Path, call: PrintCall, setting: Setting) -> tuple[Plan, ...]:
    """Plan labels of a batch on record. Raises InputError for a batch that was taken back, and for all faults."""
    refuse_closed(batch)
    call = _of_this_print(call)
    if call.made is not None and call.made != batch.made:
        raise input_error("call.made", f"batch {batch.code} was made {batch.made}, not {call.made}",
                          do="leave --made out")
    frozen: Inputs = stored(Inputs, batch.frozen, f"batch {batch.code}")
    inputs, notes = frozen, Findings()
    if call.why is not None and not call.revise:
        raise input_error("call.why", "--why gives the reason of --revise", do="--revise --why TEXT")
    if call.revise:
        inputs, notes = revised(batch, frozen, store, folder, call, setting)
    else:
        notes += tuple(changed(frozen, folder, setting))
    if call.of:
        raise input_error("call.of", f"set {batch.code} holds what it was opened with", do="leave --of out")
    inputs = replace(inputs, held=frozen.held)
    inside = contents(inputs, store, folder, setting, call)
    made = as_made(batch, store, folder, setting, inputs)
    notes += made.findings + differences(made, call.on or max(batch.made, setting.today))
    notes += () if inputs.formula.contains else nothing_weighed(made.at.bench)
    rows = store.outlines_of(batch.code_key)
    like, said = as_last_time(call, inputs, rows, folder)
    notes += said
    if call.wish.filled:
        made = for_the_filled(made, Bygone(batch, made, store, folder, setting), rows)
    notes += () if inside else unreleased(todays_workshop(folder) or inputs.workshop, batch, call)
    found = plans(folder, inputs, like, setting, batch.code, batch.made, batch.key, notes, made, inside)
    return tuple(replace(one, asked=call) for one in found)


def _of_this_print(call: PrintCall) -> PrintCall:
    """--markets is of this print; the other facts are frozen with the batch, and --revise alone reads them anew."""
    facts = dict(call.facts)
    if call.revise or not facts:
        return call
    markets = markets_typed(facts.pop("markets", None))
    if facts:
        names = ", ".join(f"--{key}" for key in facts)
        raise input_error("call.facts", f"{names}: the batch froze its product when it opened",
                          do="change the formula file, then --revise --why TEXT; or open another batch")
    return replace(call, facts=(), markets=call.markets or markets)


def todays_workshop(folder: Path) -> Workshop | None:
    """The workshop as its file has it today; None where it cannot be read."""
    workshop, findings = read_workshop(folder)
    return None if findings.errors else workshop


def refuse_closed(batch: Batch) -> None:
    """Raise InputError where a batch is withdrawn, recalled or cancelled."""
    if batch.state not in PRINTABLE:
        why = f" ({batch.why})" if batch.why else ""
        raise input_error("batch.closed", f"batch {batch.code} is {batch.state}{why}: no labels are printed for it")


def refuse_unreleased(batch: Batch, folder: Path) -> None:
    """Raise InputError where the workshop prints released batches only, and this one is not."""
    workshop = None if batch.frozen.get("held") else todays_workshop(folder)
    found = unreleased(workshop, batch, PrintCall()) if workshop is not None else ()
    if found:
        raise InputError(found)


def changed(inputs: Inputs, folder: Path, setting: Setting) -> Iterator[Finding]:
    """A note that says in a line what has changed in the files since the batch froze them."""
    path = formula_files(folder).get(inputs.formula.key)
    if path is None:
        yield _note(f"the formula file {inputs.formula.key} is gone; the record's is used")
        return
    try:
        now = read_inputs(path, setting).inputs
    except InputError:
        yield _note("the files cannot be read as they stand today; the record's are used")
        return
    names = [name for name, value in _today(now).items() if value != _today(inputs).get(name)]
    if names:
        yield _note(f"changed in the files since the batch opened: {', '.join(names)}; the record's are used")


def _today(inputs: Inputs) -> dict[str, object]:
    hashes: dict[str, object] = dict(inputs.files)
    return hashes or {"formula": inputs.formula, "materials": inputs.materials, "workshop": inputs.workshop}


def _note(text: str) -> Finding:
    return Finding("batch.files-changed", "note", text, do="--revise --why TEXT takes today's words")


__all__ = ["plan_batch", "refuse_closed", "thawed"]
