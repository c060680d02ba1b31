"""Opening a record: what the file is, whether this version knows it, and making a new one."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from labeltool.errors import MachineError, input_error, machine_error
from labeltool.records.migrations import migrate
from labeltool.records.schema import EVERYTHING, FORMAT
from labeltool.records.sqlite import WAIT_S, Database
from labeltool.records.traces import refuse_lost

_MAGIC = b"SQLite format 3\0"


def is_sqlite(path: Path) -> bool:
    """Whether a file starts as SQLite files do. Raises OSError where it cannot be read."""
    with path.open("rb") as stream:
        return stream.read(len(_MAGIC)) == _MAGIC


def open_database(path: Path, *, create: bool, wait_s: float = WAIT_S, restored: bool = False) -> Database:
    """The record at `path`, made where it is missing and `create` says so; `restored`: it is lost, and will be filled.

    Raises InputError where there is none, MachineError where it cannot be used, or was lost.
    """
    if path.is_dir():
        raise machine_error("record.unwritable", f"{path} is a folder", do="move it away: the record is a file")
    refuse_lost(path, prints_too=not restored)
    if not create and not path.exists():
        do = "print labels or open a batch first"
        raise input_error("record.none", f"{path.name}: there is no record yet", do=do)
    db = Database(path, "rwc" if create else "rw", wait_s)
    try:
        if _format(db) is None:
            _make(db)
        if _prove_format(db) < FORMAT:
            _migrate(db)
        db.use_wal()
    except BaseException:
        db.close()
        raise
    return db


@contextmanager
def open_existing(path: Path) -> Iterator[Database]:
    """A backup or record for reading only. Raises MachineError where it is no record, or a newer one."""
    db = Database(path, "ro")
    try:
        _prove_format(db)
        yield db
    finally:
        db.close()


def _format(db: Database) -> str | None:
    """The record's format; None for a file with nothing in it. Raises MachineError for a foreign file."""
    names = {row[0] for row in db.rows("SELECT name FROM sqlite_master")}
    if not names:
        return None
    row = db.row("SELECT value FROM record WHERE name = 'format'") if "record" in names else None
    if row is None:
        raise _foreign(db.path)
    return str(row[0])


def _make(db: Database) -> None:
    with db.writing():
        if _format(db) is None:
            for sql in EVERYTHING.values():
                db.run(sql)
            db.run("INSERT INTO record (name, value) VALUES ('format', ?)", (str(FORMAT),))


def _migrate(db: Database) -> None:
    with db.writing():
        found = _prove_format(db)
        if found < FORMAT:
            migrate(db, found)


def _prove_format(db: Database) -> int:
    found = _format(db)
    if found is None or not found.isdecimal():
        raise _foreign(db.path)
    if int(found) > FORMAT:
        raise machine_error(
            "record.newer",
            f"{db.path.name} was written by a newer labeltool: its format is {found}, known here is {FORMAT}",
            do="use the newer version of labeltool",
        )
    return int(found)


def _foreign(path: Path) -> MachineError:
    return machine_error(
        "record.foreign", f"{path.name} is a database, but no record of labeltool",
        do="move that file away, or name another workshop folder",
    )
