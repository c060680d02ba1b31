"""The record proved, copied, exported and restored."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from labeltool.finding import Findings
from labeltool.formula.load import find_workshop
from labeltool.records.progress import Step, silent
from labeltool.records.store import open_store, restore
from labeltool.workflow.codes import record_folder, record_path
from labeltool.workflow.proving import Proved, prove_prints
from labeltool.workflow.setting import Setting
from labeltool.workflow.unfinished import finish_all


@dataclass(frozen=True, slots=True)
class Checked:
    """What was found, the head, and how the prints came out that were drawn anew."""

    findings: Findings
    head: str
    proved: Proved


def check_record(setting: Setting, head: str | None, last: int | None = None, step: Step = silent) -> Checked:
    """The record proved, and every print of it drawn anew, or about the `last` ones (0: none)."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        finished = finish_all(store, folder)
        found = store.check(folder, head, step)
        proved = prove_prints(store, folder, last, step)
        return Checked(Findings((*finished, *found, *proved.findings)), store.head(), proved)


def back_up(target: Path, setting: Setting, step: Step = silent) -> str:
    """Copy the record; returns its head."""
    with open_store(record_path(record_folder(setting)), create=False) as store:
        return store.backup(setting.cwd / target, step)


def export_record(target: Path, setting: Setting, step: Step = silent) -> str:
    """Write the record as text; returns its head."""
    with open_store(record_path(record_folder(setting)), create=False) as store:
        return store.export(setting.cwd / target, step)


def export_lines(setting: Setting) -> Iterator[str]:
    """The lines of the export."""
    with open_store(record_path(record_folder(setting)), create=False) as store:
        yield from store.export_lines()


def restore_record(source: Path, setting: Setting, step: Step = silent) -> str:
    """Fill the workshop's empty record from a backup or export; returns its head."""
    folder = find_workshop(None, workshop=setting.workshop, env=setting.env, cwd=setting.cwd)
    return restore(setting.cwd / source, record_path(folder), step)
