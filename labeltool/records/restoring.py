"""From a backup or an export back into an empty store: everything, proved, or nothing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from labeltool.errors import InputError, MachineError, input_error
from labeltool.records.assets import Assets, Kept, decoded
from labeltool.records.chain import GENESIS, Broken, Stored, proved
from labeltool.records.exporting import EXPORT_FORMAT, read_export, read_header
from labeltool.records.files import unwritable
from labeltool.records.log import Log
from labeltool.records.opening import is_sqlite, open_existing
from labeltool.records.progress import Step, silent, told

Entry = Kept | Stored


def fill(log: Log, assets: Assets, source: Path, step: Step = silent) -> None:
    """Fill an empty store from `source` in one transaction. Raises InputError where anything does not prove."""
    events, head = 0, GENESIS
    expected = _expected(source)
    with log.db.writing():
        _refuse_full(log)
        for entry in told(_entries(source), "events", expected[0], step):
            if isinstance(entry, Kept):
                _keep(assets, entry)
            else:
                _follow(log, entry, head)
                events, head = events + 1, entry.hash
        if (events, head) != expected:
            raise _bad(f"it ends at event {events}, and should hold {expected[0]}")


def _refuse_full(log: Log) -> None:
    if log.head()[0] or log.db.row("SELECT 1 FROM asset"):
        raise input_error(
            "record.not-empty", f"{log.db.path.name} already holds a record",
            limit="a record is restored into an empty store only", do="move that file away, or restore elsewhere",
        )


def _expected(source: Path) -> tuple[int, str]:
    """Number of events and head that the source says it holds."""
    try:
        if is_sqlite(source):
            with open_existing(source) as db:
                return Log(db).head()
        header = read_header(source)
    except OSError as error:
        raise input_error("record.source", f"{source}: {error.strerror}", do="name a backup or an export") from error
    except MachineError as error:
        raise InputError(error.findings) from error
    if header is None:
        raise input_error("record.source", f"{source} is neither a backup nor an export of a record")
    if header.get("format") != EXPORT_FORMAT:
        raise _bad(f"its format {header.get('format')} is not known to this version of labeltool")
    return header["events"], header["head"]


def _entries(source: Path) -> Iterator[Entry]:
    try:
        if is_sqlite(source):
            with open_existing(source) as db:
                yield from Assets(db).stored()
                yield from Log(db).stored()
        else:
            yield from read_export(source)
    except MachineError as error:
        raise InputError(error.findings) from error
    except OSError as error:
        raise unwritable(source, error) from error


def _keep(assets: Assets, entry: Kept) -> None:
    if decoded(entry) is None:
        raise _bad(f"the asset {str(entry.sha256)[:12]} has been altered")
    if assets.has(entry.sha256):
        raise _bad(f"the asset {entry.sha256[:12]} stands there twice")
    try:
        assets.insert(entry)
    except ValueError as error:
        raise _bad(f"the asset {entry.sha256[:12]} is no JSON") from error


def _follow(log: Log, entry: Stored, head: str) -> None:
    try:
        event = proved(entry, head)
        if event.number != log.head()[0] + 1:
            raise Broken("it does not follow the event before it")
        log.insert(entry, event)
    except (Broken, KeyError, TypeError) as error:
        raise _bad(f"event {entry.number} has been altered: {error}") from error
    except MachineError as error:
        if error.findings[0].rule == "record.conflict":
            raise _bad(f"event {entry.number} contradicts an earlier one") from error
        raise


def _bad(why: str) -> InputError:
    return input_error("record.source", f"the source does not prove: {why}", do="take another backup or export")
