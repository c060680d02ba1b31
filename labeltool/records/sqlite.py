"""The one door to SQLite: one connection, short transactions, every failure a MachineError that says what to do."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from labeltool.errors import MachineError, machine_error

WAIT_S = 30.0
_RESTORE = "keep the file, move it away, and restore the latest backup: labeltool records restore FILE"
_CHECK = "run labeltool records check"
_FAULTS = {
    sqlite3.SQLITE_BUSY: ("record.locked", "another program has kept the record for itself",
                          "close the other program that uses the record, and run the same command again"),
    sqlite3.SQLITE_FULL: ("record.full", "the disk is full", "make room on the disk, and run the same command again"),
    sqlite3.SQLITE_READONLY: ("record.unwritable", "the record cannot be written",
                              "allow writing to the file and to its folder, and run the same command again"),
    sqlite3.SQLITE_CANTOPEN: ("record.unwritable", "the record cannot be opened",
                              "look whether the folder exists and allows reading and writing"),
    sqlite3.SQLITE_IOERR: ("record.disk", "the disk could not be read or written",
                           "look at the disk's free space and health, and run the same command again"),
    sqlite3.SQLITE_CORRUPT: ("record.damaged", "the record is damaged", _RESTORE),
    sqlite3.SQLITE_NOTADB: ("record.damaged", "the file is no record, or is damaged", _RESTORE),
    sqlite3.SQLITE_CONSTRAINT: ("record.conflict", "the record refuses what contradicts it", _CHECK),
}
_SAME = {
    sqlite3.SQLITE_LOCKED: sqlite3.SQLITE_BUSY, sqlite3.SQLITE_PROTOCOL: sqlite3.SQLITE_BUSY,
    sqlite3.SQLITE_PERM: sqlite3.SQLITE_READONLY, sqlite3.SQLITE_AUTH: sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_FORMAT: sqlite3.SQLITE_NOTADB,
}
_OTHER = ("record.failed", "the record failed", _CHECK)


class Database:
    """One SQLite file. `mode`: "rw", "rwc" (made where it is missing) or "ro"."""

    def __init__(self, path: Path, mode: str, wait_s: float = WAIT_S) -> None:
        self.path = path
        self.wait_s = wait_s
        self._depth = 0
        with self._guarded():
            self._connection = sqlite3.connect(_uri(path, mode), timeout=wait_s, isolation_level=None, uri=True)
            self._connection.text_factory = _text
            try:
                self._set_up()
            except sqlite3.Error:
                self._connection.close()
                raise

    def _set_up(self) -> None:
        for pragma in ("synchronous = FULL", "recursive_triggers = ON", "trusted_schema = OFF", "cell_size_check = ON"):
            self._connection.execute(f"PRAGMA {pragma}")
        self._connection.execute("SELECT COUNT(*) FROM sqlite_master").fetchone()

    def rows(self, sql: str, *values: Any) -> list[tuple[Any, ...]]:
        """All rows of a query."""
        with self._guarded():
            return self._connection.execute(sql, values).fetchall()

    def row(self, sql: str, *values: Any) -> tuple[Any, ...] | None:
        """The first row of a query, or None."""
        found = self.rows(sql, *values)
        return found[0] if found else None

    def stream(self, sql: str, *values: Any) -> Iterator[tuple[Any, ...]]:
        """The rows of a query one by one, for what is too large to hold at once."""
        with self._guarded():
            cursor = self._connection.execute(sql, values)
        while True:
            with self._guarded():
                row = cursor.fetchone()
            if row is None:
                return
            yield row

    def run(self, sql: str, values: Sequence[Any] = ()) -> None:
        """Run one statement that changes the store; only inside `writing`."""
        with self._guarded():
            self._connection.execute(sql, values)

    @contextmanager
    def writing(self) -> Iterator[None]:
        """A write transaction, begun at once; inside another one it joins that."""
        with self._transaction("BEGIN IMMEDIATE"):
            yield

    @contextmanager
    def reading(self) -> Iterator[None]:
        """A read transaction: all queries inside see one state."""
        with self._transaction("BEGIN"):
            yield

    @contextmanager
    def _transaction(self, begin: str) -> Iterator[None]:
        if self._depth == 0:
            self.run(begin)
        self._depth += 1
        try:
            yield
        except BaseException:
            self._depth -= 1
            self._roll_back()
            raise
        self._depth -= 1
        if self._depth == 0:
            self._commit()

    def _commit(self) -> None:
        try:
            self.run("COMMIT")
        except MachineError:
            self._roll_back()
            raise

    def _roll_back(self) -> None:
        if self._depth == 0 and self._connection.in_transaction:
            self.run("ROLLBACK")

    def use_wal(self) -> None:
        """Turn on write-ahead logging; waits while other connections are busy."""
        until = time.monotonic() + self.wait_s
        while self.row("PRAGMA journal_mode") != ("wal",):
            try:
                self.row("PRAGMA journal_mode = WAL")
            except MachineError as error:
                if error.findings[0].rule != "record.locked" or time.monotonic() > until:
                    raise
                time.sleep(0.02)

    def copy_to(self, target: Path) -> None:
        """A consistent copy of the whole file, complete in itself (no log beside it)."""
        with self._guarded():
            copy = sqlite3.connect(target, isolation_level=None)
            try:
                self._connection.backup(copy)
                copy.execute("PRAGMA journal_mode = DELETE").fetchone()
            finally:
                copy.close()

    def close(self) -> None:
        """Close the connection; the log beside the file is folded in."""
        with self._guarded():
            self._connection.close()

    @contextmanager
    def _guarded(self) -> Iterator[None]:
        try:
            yield
        except sqlite3.Error as error:
            raise _machine_error(self.path, error) from error
        except (OSError, MemoryError) as error:
            do = _FAULTS[sqlite3.SQLITE_IOERR][2]
            raise machine_error("record.disk", f"{self.path.name}: {error}", do=do) from error


def _text(stored: bytes) -> str:
    return stored.decode("utf-8", "surrogateescape")


def _uri(path: Path, mode: str) -> str:
    flags = f"?mode={mode}"
    if mode == "ro" and not path.with_name(f"{path.name}-wal").exists():
        flags += "&immutable=1"
    return path.absolute().as_uri() + flags


def _machine_error(path: Path, error: sqlite3.Error) -> MachineError:
    code = (getattr(error, "sqlite_errorcode", None) or 0) & 0xFF
    rule, text, do = _FAULTS.get(_SAME.get(code, code), _OTHER)
    return machine_error(rule, f"{path.name}: {text} ({error})", do=do)
