"""The record proved, copied, exported and restored."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from labeltool.finding import Findings
from labeltool.formula.load import find_workshop
from labeltool.records.progress import Step, silent
from labeltool.records.store import open_store, restore
from labeltool.workflow.codes import record_folder, record_path
from labeltool.workflow.setting import Setting
from labeltool.workflow.unfinished import finish_all


def check_record(setting: Setting, head: str | None, step: Step = silent) -> tuple[Findings, str]:
    """What is wrong with the record, and its head."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        finished = finish_all(store, folder)
        return Findings((*finished, *store.check(folder, head, step))), store.head()


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
