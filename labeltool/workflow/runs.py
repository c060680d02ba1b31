"""One call of `print`: one or many formulas and codes; all are checked before the first batch is opened."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from labeltool.errors import InputError, input_error
from labeltool.finding import NOWHERE, Finding, Where
from labeltool.records.model import Batch, Once
from labeltool.records.store import open_store
from labeltool.workflow.arguments import Named, expand, understand
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.codes import codes_on_record, find_code, home, record_folder, record_path, the_batch
from labeltool.workflow.inputs import Inputs, Opened, read_inputs
from labeltool.workflow.leaflet import check_leaflet
from labeltool.workflow.lists import read_list
from labeltool.workflow.mixing import parts_of_call, print_mixed
from labeltool.workflow.planning import Plan, plan_new
from labeltool.workflow.printing import open_new
from labeltool.workflow.publish import check_outputs, check_prints
from labeltool.workflow.reopening import plan_batch
from labeltool.workflow.sets import Content, contents, held_batches
from labeltool.workflow.setting import Setting
from labeltool.workflow.sharing import by_stock, draft_file, needed, print_file


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to print: what was named, with the options that hold for it."""

    named: Named
    call: PrintCall
    place: Where = NOWHERE


def print_all(what: Sequence[str], from_list: Path | None, call: PrintCall, setting: Setting) -> list[Any]:
    """Print everything named. Raises InputError with the faults of all of it, and then nothing was written."""
    check_outputs(call.output, call.preview, setting.cwd)
    check_leaflet(call.output if call.leaflet else None, setting.cwd)
    shares = parts_of_call(what) if from_list is None else []
    if shares:
        return list(print_mixed(shares, call, setting))
    tasks = _tasks(what, from_list, call, setting)
    if not tasks:
        raise input_error("call.nothing", "nothing to print is named", do="labeltool print FORMULA, or --from LIST.csv")
    if len(tasks) > 1 and (call.output or call.preview):
        raise input_error("call.output", "-o and --preview take one formula or code", do="leave them out for several")
    planned = _plan_all(tasks, setting)
    for plans, batch in planned:
        by_stock(plans)
        check_prints(plans[0].folder, None if batch or call.draft or call.output else plans[0].code, codes_on_record)
    done: list[Any] = []
    for one in planned:
        done += _carry_out(one, setting, len(done))
    return done


def _tasks(what: Sequence[str], from_list: Path | None, call: PrintCall, setting: Setting) -> list[Task]:
    rows = [(text, call, NOWHERE) for text in expand(what, setting.cwd)]
    if from_list is not None:
        rows += [(row.what, row.applied(call), row.where) for row in read_list(setting.cwd / from_list)]
    folder = home(setting)
    tasks: list[Task] = []
    faults: list[Finding] = []
    for text, one, where in rows:
        try:
            named = understand(text, setting, lambda typed: find_code(typed, folder), lambda: codes_on_record(folder))
            tasks.append(Task(named, one, where if where.file else Where(text)))
        except InputError as error:
            faults += _placed(error.findings, where)
    if faults:
        raise InputError(faults)
    return tasks


def _placed(findings: Iterable[Finding], where: Where) -> list[Finding]:
    """The findings, those without a place of their own given this one."""
    return [replace(item, where=item.where if item.where.file else replace(where, block=item.where.block))
            for item in findings]


Planned = tuple[tuple[Plan, ...], Batch | None]


def _plan_all(tasks: Sequence[Task], setting: Setting) -> list[Planned]:
    planned: list[Planned] = []
    faults: list[Finding] = []
    for task in tasks:
        try:
            planned.append(_plan(task, setting, [plans[0].code for plans, batch in planned if batch is None]))
        except InputError as error:
            single = len(tasks) == 1
            found = [item for item in error.findings if single or item.level == "error"]
            faults += _placed(found, NOWHERE if single else task.place)
    if faults:
        raise InputError(faults)
    return planned


def _plan(task: Task, setting: Setting, planned: Sequence[str]) -> Planned:
    if task.named.code is not None:
        return _plan_code(task.named.code, task.call, setting)
    assert task.named.path is not None
    if task.call.revise or task.call.why is not None:
        raise input_error("call.revise", "--revise and --why go with the code of an open batch",
                          do="labeltool print CODE --revise --why TEXT")
    opened, call = _opened(task.named.path, task.call, setting)
    inputs, inside = _with_contents(opened, call, setting)
    plans = plan_new(opened.folder, inputs, call, setting, planned, opened.findings, inside)
    more = tuple(_open_already(plans[0]))
    return tuple(replace(plan, findings=(*plan.findings, *more)) for plan in plans), None

def _with_contents(opened: Opened, call: PrintCall, setting: Setting) -> tuple[Inputs, tuple[Content, ...]]:
    """The inputs with what lies in the set, where the formula is one, and its products worded."""
    inputs, folder = opened.inputs, opened.folder
    if not inputs.formula.contains and not call.of:
        return inputs, ()
    with open_store(record_path(folder), create=False) as store:
        inputs = replace(inputs, held=held_batches(inputs, call.of, folder, store))
        return inputs, contents(inputs, store, folder, setting, call)


def _opened(path: Path, call: PrintCall, setting: Setting) -> tuple[Opened, PrintCall]:
    """The inputs of a formula. --markets is a fact of the product; where it has packs, of this print alone."""
    opened = read_inputs(path, setting, dict(call.facts))
    if not opened.inputs.formula.packs or "markets" not in dict(call.facts):
        return opened, call
    markets = opened.inputs.formula.product.markets or ()
    rest = tuple(pair for pair in call.facts if pair[0] != "markets")
    return read_inputs(path, setting, dict(rest)), replace(call, facts=rest, markets=markets)


def _plan_code(code: str, call: PrintCall, setting: Setting) -> Planned:
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        batch = the_batch(code, folder, store)
        return plan_batch(batch, store, folder, call, setting), batch


def _open_already(plan: Plan) -> Iterator[Finding]:
    path = record_path(plan.folder)
    if plan.call.draft or not path.exists():
        return
    with open_store(path, create=False) as store:
        for batch in store.same_day(plan.inputs.formula.key, plan.made):
            text = f"batch {batch.code} of the same product and day is open; this is a new one"
            yield Finding("batch.same-day", "note", text, do=f"more labels of that batch: labeltool print {batch.code}")


def _carry_out(planned: Planned, setting: Setting, start: int) -> list[Any]:
    """One outcome a file; `start` counts the files of the call before these."""
    plans, named = planned
    if plans[0].call.draft:
        return [draft_file(group, setting) for group in by_stock(plans)]
    with open_store(record_path(plans[0].folder)) as store:
        first = _once(plans[0], named, setting, start)
        known = store.answered(first)
        if known is not None and known.done and len(by_stock(plans)) == 1:
            return [dict(known.result)]
        plans, batch = (plans, named) if named is not None else open_new(plans, store, setting, first)
        return [print_file(_after(nth, group), batch, store, setting, _once(plans[0], named, setting, start + nth))
                for nth, group in enumerate(needed(by_stock(plans)))]


def _after(nth: int, plans: tuple[Plan, ...]) -> tuple[Plan, ...]:
    """The plans of a file; what --revise asks for is done with the first."""
    if nth == 0:
        return plans
    return tuple(replace(plan, call=replace(plan.call, revise=False)) for plan in plans)


def _once(plan: Plan, batch: Batch | None, setting: Setting, index: int) -> Once | None:
    if setting.once is None:
        return None
    what = batch.code if batch is not None else plan.inputs.formula.key
    args = {"command": "print", "what": what, "index": index} | plan.asked.plain()
    return Once(f"{setting.once}#{index}" if index else setting.once, args, step="print")
