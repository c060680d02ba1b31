"""Decisions about batches: released, withdrawn, recalled, cancelled."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from labeltool.batch.reconcile import reconciliation
from labeltool.batch.release import reasons
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding, Findings
from labeltool.formula.load import read_workshop
from labeltool.records.model import Once, State
from labeltool.records.store import Store, open_store
from labeltool.workflow.asmade import as_made, printed_labels
from labeltool.workflow.codes import record_folder, record_path, the_batch
from labeltool.workflow.judging import judged
from labeltool.workflow.setting import Setting


@dataclass(frozen=True, slots=True)
class Decided:
    """A decision asked for: the codes it is about, whether it went on record, and what was found."""

    codes: tuple[str, ...]
    done: bool
    findings: Findings = field(default_factory=Findings)
    already: bool = False


def release_batch(code: str, why: str | None, setting: Setting) -> Decided:
    """Release a batch where nothing speaks against it; else all reasons are in the findings, and it stays open."""
    folder = record_folder(setting)
    by = _by(folder, setting)
    with open_store(record_path(folder), create=False) as store:
        batch = the_batch(code, folder, store)
        once = _once("batch release", (batch.code,), why, setting)
        if _known(store, once):
            return Decided((batch.code,), True, already=True)
        with store.together():
            made = as_made(batch, store, folder, setting)
            rows = store.outlines_of(batch.code_key)
            found = judged(made, setting) + reconciliation(made.at.bench.filled, printed_labels(rows, made.at.bench))
            if reasons(found):
                return Decided((batch.code,), False, found)
            store.change_state(batch.code, "released", by=by, at=setting.now(), why=why, once=once)
    return Decided((batch.code,), True, found)


def _by(folder: Path, setting: Setting) -> str:
    """Who decides: a release without a name is none."""
    workshop, _ = read_workshop(folder, cwd=setting.cwd)
    by = setting.by or (workshop.record.by if workshop else None)
    if not by or not by.strip():
        raise input_error("release.by", "a release names who releases", do="--by NAME")
    return by


def change_batches(
    codes: Sequence[str], state: State, why: str | None, setting: Setting, command: str,
) -> Decided:
    """Withdraw, recall or cancel batches, all or none. Raises InputError where the state of one does not allow it."""
    if why is not None and not why.strip():
        raise input_error("call.why", "--why is empty", do='say why: --why "TEXT"')
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        named = _all(codes, folder, store)
        once = _once(command, named, why, setting)
        if _known(store, once):
            return Decided(named, True, already=True)
        store.change_states(named, state, by=setting.by or _workshop_by(folder), at=setting.now(), why=why, once=once)
    return Decided(named, True)


def _all(codes: Sequence[str], folder: Path, store: Store) -> tuple[str, ...]:
    named: list[str] = []
    faults: list[Finding] = []
    for code in codes:
        try:
            named.append(the_batch(code, folder, store).code)
        except InputError as error:
            faults += error.findings
    if faults:
        raise InputError(faults)
    return tuple(dict.fromkeys(named))


def _workshop_by(folder: Path) -> str | None:
    workshop, _ = read_workshop(folder)
    return workshop.record.by if workshop else None


def _once(command: str, codes: Sequence[str], why: str | None, setting: Setting) -> Once | None:
    if setting.once is None:
        return None
    args: dict[str, Any] = {"command": command, "codes": list(codes), "why": why}
    return Once(setting.once, args, answer=lambda _: {"codes": list(codes)})


def _known(store: Store, once: Once | None) -> bool:
    known = store.answered(once)
    return known is not None and known.done
