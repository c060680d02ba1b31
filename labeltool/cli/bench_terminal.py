"""The bench on a terminal: row by row, every answer kept at once."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import click

from labeltool.batch.lots import Received
from labeltool.batch.made import unweighed
from labeltool.batch.model import Entry, PlanRow, Size, Weighing
from labeltool.batch.release import last_reading
from labeltool.batch.tolerance import tolerance_g
from labeltool.batch.typed import parse_filled, parse_reading, parse_weight, parse_yield
from labeltool.cli.bench import show_entered
from labeltool.cli.output import plain, show, tell
from labeltool.errors import InputError, input_error
from labeltool.formula.quantities import parse_mass
from labeltool.workflow.asking import Asked, ended, look, put, try_out
from labeltool.workflow.benching import BenchCall
from labeltool.workflow.setting import Setting


def ask_about_lots(call: BenchCall, setting: Setting) -> None:
    """Ask about every lot of the call that is not on record. Raises InputError where one is not to be received."""
    for lot in try_out(call, setting):
        _receive_or_refuse(lot)


def _receive_or_refuse(lot: Received) -> None:
    if not click.confirm(plain(f"lot {lot.lot} of {lot.material} is not on record; receive it now?"), err=True):
        raise input_error("lot.unknown", f"no lot {lot.lot} of {lot.material} is on record",
                          do=f"labeltool lot receive {lot.material} {lot.lot}, or correct the lot; nothing was kept")


def ask(code: str, setting: Setting) -> None:
    """Go through what is still to be entered; an empty answer leaves a question for later, q ends the round."""
    asked = look(code, setting)
    tell(f"{asked.at.inputs.formula.product.name}, batch {asked.at.batch.code}; an empty answer is for later, q ends")
    tell("not asked here: batch bench CODE with --add, --reading, --note, --spoiled, --left, --destroyed, or --correct "
         "and --why")
    new = 0
    for step in (_size, _rows, _reading, _yield, _filled):
        asked, count, go_on = step(asked, setting)
        new += count
        if not go_on:
            break
    show_entered(code, ended(asked, new, setting))


Step = tuple[Asked, int, bool]


def _size(asked: Asked, setting: Setting) -> Step:
    if asked.at.bench.size_g is not None:
        return asked, 0, True
    asked, count, _ = _one(asked, setting, "size of the batch, such as 500g", _size_of)
    if asked.at.bench.size_g is None:
        tell("without a size there is nothing to weigh against")
    return asked, count, asked.at.bench.size_g is not None


def _size_of(text: str) -> Entry | str:
    grams = parse_mass(text, bare=True)
    return grams if isinstance(grams, str) else Size(grams)


def _rows(asked: Asked, setting: Setting) -> Step:
    count = 0
    for row in asked.at.bench.plan:
        if asked.at.bench.on_line(row.line) or (row.kind != "to-ph" and row not in unweighed(asked.at.bench)):
            continue
        asked, kept, go_on = _row(asked, row, setting)
        count += kept
        if not go_on:
            return asked, count, False
    return asked, count, True


def _row(asked: Asked, row: PlanRow, setting: Setting) -> Step:
    tell(_title(asked, row))
    while True:
        typed = _prompt("  grams")
        if typed in ("", "q"):
            return asked, 0, typed != "q"
        grams = parse_weight(typed)
        if isinstance(grams, str):
            tell(f"  {grams}")
            continue
        lot = _lot(asked, row, grams)
        if lot == "q":
            return asked, 0, False
        kept = _keep(asked, Weighing(row.material, grams, row.line, lot or None), setting)
        if kept is not None:
            return kept, 1, True


def _title(asked: Asked, row: PlanRow) -> str:
    phase = f"phase {row.phase}, " if row.phase else ""
    if row.kind == "to-ph":
        most = f", at most {row.most_g} g" if row.most_g is not None else ""
        return f"{phase}line {row.line}: {row.material}, to reach the pH{most}"
    off = tolerance_g(row, asked.at.tolerance, asked.at.step_g)
    planned = row.grams or Decimal(0)
    spread = f"{max(Decimal(0), planned - off)} to {planned + off} g"
    return f"{phase}line {row.line}: {row.material}, {planned} g ({spread})"


def _lot(asked: Asked, row: PlanRow, grams: Decimal) -> str:
    if not grams or row.material in asked.at.without_lot:
        return ""
    while True:
        lot = _prompt("  lot")
        if lot in ("", "q") or asked.knows(row.material, lot):
            return lot
        question = f"  lot {lot} of {row.material} is not on record; receive it now?"
        if click.confirm(plain(question), err=True):
            return lot


def _reading(asked: Asked, setting: Setting) -> Step:
    span = asked.at.inputs.formula.product.ph
    last = last_reading(asked.at.bench, "ph")
    if span is None or (last is not None and span.low <= last.value <= span.high):
        return asked, 0, True
    return _one(asked, setting, f"pH ({span.low} to {span.high}), such as 5.32@21C",
                lambda text: parse_reading(f"ph={text}"))


def _yield(asked: Asked, setting: Setting) -> Step:
    if asked.at.bench.yield_g is not None or unweighed(asked.at.bench):
        return asked, 0, True
    return _one(asked, setting, "yield, such as 488g", parse_yield)


def _filled(asked: Asked, setting: Setting) -> Step:
    if asked.at.bench.filled or unweighed(asked.at.bench):
        return asked, 0, True
    return _one(asked, setting, "containers filled", parse_filled)


def _one(asked: Asked, setting: Setting, question: str, parse: Callable[[str], Entry | str]) -> Step:
    while True:
        typed = _prompt(question)
        if typed in ("", "q"):
            return asked, 0, typed != "q"
        entry = parse(typed)
        if isinstance(entry, str):
            tell(f"  {entry}")
            continue
        kept = _keep(asked, entry, setting)
        if kept is not None:
            return kept, 1, True


def _keep(asked: Asked, entry: Entry, setting: Setting) -> Asked | None:
    """The bench with the entry on record; None where it was refused, or taken back before it was kept."""
    try:
        warnings = [item for item in asked.against(entry) if item.level != "note"]
        show(warnings)
        told = {item.text for item in warnings}
        if any(item.level == "error" for item in warnings):
            return None
        if any(item.rule == "bench.tolerance" for item in warnings) and not click.confirm("  keep it?", err=True):
            return None
        kept, found = put(asked, entry, setting)
        show(item for item in found if item.text not in told and item.rule != "lot.received-now")
        return kept
    except InputError as error:
        show(error.findings)
        return None


def _prompt(text: str) -> str:
    try:
        answer: str = click.prompt(plain(text), default="", show_default=False, err=True)
    except click.Abort:
        tell("")
        return "q"
    return answer.strip()


