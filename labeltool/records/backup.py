"""Copies of the record: a backup file, or an export as text. Neither ever replaces what holds more."""

from __future__ import annotations

from pathlib import Path

from labeltool.errors import InputError, MachineError, input_error
from labeltool.records.assets import Assets
from labeltool.records.check import contains
from labeltool.records.exporting import export_lines, read_header
from labeltool.records.files import replacing, unwritable
from labeltool.records.log import Log
from labeltool.records.opening import is_sqlite, open_existing
from labeltool.records.progress import Step, silent


def back_up(log: Log, assets: Assets, target: Path, step: Step = silent) -> str:
    """Copy the store to `target` and return the copy's head. Raises MachineError where the record does not prove."""
    _refuse_target(log, target)
    for _ in export_lines(log, assets, step):
        continue
    with replacing(target) as part:
        log.db.copy_to(part)
        with open_existing(part) as copy:
            return head_text(*Log(copy).head())


def export_to(log: Log, assets: Assets, target: Path, step: Step = silent) -> str:
    """Write the export to `target` and return its head."""
    _refuse_target(log, target)
    with replacing(target) as part:
        with part.open("w", encoding="utf-8", newline="\n") as stream:
            for line in export_lines(log, assets, step):
                stream.write(line)
        header = read_header(part) or {}
        return head_text(header["events"], header["head"])


def head_text(number: int, digest: str) -> str:
    """A head as it is printed and typed again: NUMBER:HASH."""
    return f"{number}:{digest}"


def _refuse_target(log: Log, target: Path) -> None:
    if not target.exists():
        return
    if target.is_dir():
        raise input_error("call.file", f"{target} is a folder", do="name a file")
    if target.samefile(log.db.path):
        raise input_error("call.file", f"{target} is the record itself", do="name another file")
    head = _head_of(target)
    if head is None:
        raise input_error("call.file", f"{target} is no backup or export of a record", do="name another file")
    if not contains(log, *head):
        raise input_error(
            "record.backup-ahead", f"{target} holds events up to {head[0]} that this record does not hold",
            limit="a backup is replaced only by one that holds all of it", do="name another file",
        )


def _head_of(target: Path) -> tuple[int, str] | None:
    """The head that a backup or export on disk holds; None where the file is something else."""
    try:
        if is_sqlite(target):
            with open_existing(target) as db:
                return Log(db).head()
        header = read_header(target)
    except OSError as error:
        raise unwritable(target, error) from error
    except MachineError as error:
        raise InputError(error.findings) from error
    return (header["events"], header["head"]) if header else None
