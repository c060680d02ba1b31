"""The store: the few verbs by which the rest of the tool reads and writes the record."""

from __future__ import annotations

import contextlib
import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from contextlib import AbstractContextManager
from pathlib import Path
from types import TracebackType
from typing import Any

from labeltool.errors import input_error
from labeltool.finding import Findings
from labeltool.records import backup, exporting
from labeltool.records.assets import Assets
from labeltool.records.batches import Batches
from labeltool.records.check import check
from labeltool.records.log import Draft, Log
from labeltool.records.model import (
    OPEN,
    PRINT,
    REVISE,
    STATE,
    Batch,
    Event,
    Listed,
    Once,
    Onced,
    Opening,
    PrintOrder,
    PrintRow,
    State,
)
from labeltool.records.opening import open_database
from labeltool.records.prints import Prints
from labeltool.records.progress import Step, silent
from labeltool.records.restoring import fill
from labeltool.records.sqlite import WAIT_S, Database
from labeltool.records.traces import refuse_lost

_VERBS_OF_THEIR_OWN = (OPEN, STATE, REVISE, PRINT)


class Store:
    """A workshop's record, open. Use it as a context manager; codes are taken in any spelling the record can match."""

    def __init__(self, db: Database) -> None:
        self._db = db
        self._log = Log(db)
        self._assets = Assets(db)
        self._batches = Batches(self._log, self._assets)
        self._prints = Prints(self._log, self._assets, self._batches)

    def __enter__(self) -> Store:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Close the record."""
        self._db.close()

    def together(self) -> AbstractContextManager[None]:
        """One write transaction around several verbs: all of them, or none. Keep it short."""
        return self._db.writing()

    def open_batch(self, opening: Opening) -> Batch:
        """Open a batch. Raises CodeTaken where its code was used meanwhile: take the next and try again."""
        return self._batches.open(opening)

    def batch(self, code: str) -> Batch | None:
        """The batch of a code or code key, or None."""
        return self._batches.find(code)

    def batches(self) -> tuple[Batch, ...]:
        """All batches, in the order they were opened."""
        return self._batches.all()

    def listed(self) -> Iterator[Listed]:
        """All batches as rows of a list, from the index alone: nothing of the log is read or proved."""
        return self._batches.listed()

    def batches_with(self, words: Iterable[str]) -> tuple[Batch, ...]:
        """The batches that froze or recorded any of these words, in any spelling: rather too many than too few."""
        return tuple(self._batches.get(key) for key in self._batches.with_words(words))

    def in_order(self, codes: Iterable[str]) -> tuple[str, ...]:
        """The codes, as the record spells them, in the order they were opened."""
        return self._batches.in_order(codes)

    def events_with(self, kind: str, words: Iterable[str]) -> tuple[Event, ...]:
        """The events of a kind that hold any of these words: rather too many than too few."""
        return self._log.with_words(kind, words)

    def code_of(self, code_key: str) -> str | None:
        """The code of this key, as it was given out; None where there is none."""
        return self._batches.code_of(code_key)

    def same_day(self, formula_key: str, made: dt.date) -> tuple[Batch, ...]:
        """The open batches of a formula and made date."""
        return self._batches.same_day(formula_key, made)

    def all_codes(self) -> tuple[str, ...]:
        """Every code ever used, cancelled ones too."""
        return self._batches.codes()

    def codes_like(self, stem: str) -> tuple[str, ...]:
        """The codes ever used whose fields other than the sequence are `stem`."""
        return self._batches.codes(stem)

    def change_state(
        self, code: str, state: State, *, by: str | None, at: str, why: str | None = None, once: Once | None = None,
    ) -> Batch:
        """Release, withdraw, recall or cancel a batch. Raises InputError where its state does not allow it."""
        return self.change_states([code], state, by=by, at=at, why=why, once=once)[0]

    def change_states(
        self, codes: Sequence[str], state: State, *, by: str | None, at: str, why: str | None = None,
        once: Once | None = None,
    ) -> tuple[Batch, ...]:
        """The same for several batches, all or none; `once.answer` gets the tuple of batches."""
        return self._batches.change(codes, state, by=by, at=at, why=why, once=once)

    def revise(
        self, code: str, frozen: Any, *, by: str | None, at: str, why: str, once: Once | None = None, id: str = "",
    ) -> Batch:
        """Freeze new inputs for a batch; what was frozen before stays on record."""
        return self._batches.revise(code, frozen, by=by, at=at, why=why, once=once, id=id)

    def add_asset(self, kind: str, data: bytes) -> str:
        """Keep a font or logo once; returns its SHA-256."""
        return self._assets.add(kind, data)

    def asset(self, sha256: str) -> bytes:
        """The bytes of an asset. Raises MachineError where the record does not hold them as they were."""
        return self._assets.get(sha256)

    def add_print(self, order: PrintOrder) -> PrintRow:
        """Put a print on record and give it its number. Raises InputError where the batch prints no more."""
        return self._prints.add(order)

    def prints(self, code: str) -> tuple[PrintRow, ...]:
        """The prints of a batch, in order."""
        return self._prints.of(code)

    def outlines(self) -> dict[str, tuple[PrintRow, ...]]:
        """The prints of every batch by code key, without frames; `text` is a name for `value`."""
        return self._prints.outlines()

    def outlines_of(self, code_key: str) -> tuple[PrintRow, ...]:
        """The same of one batch."""
        return self._prints.outlines_of(code_key)

    def every_print(self, last: int | None = None) -> Iterator[PrintRow]:
        """Every print, or about the `last` ones: `code` is a code key, `text` and `frames` are names for `value`."""
        return self._prints.walk(last)

    def count_prints(self, last: int | None = None) -> int:
        """How many `every_print` gives."""
        return self._prints.count(last)

    def value(self, sha256: str) -> Any:
        """A plain value that is kept under its hash. Raises MachineError where it is gone or altered."""
        return self._assets.value_once(sha256)

    def print_by(self, code: str, number: int) -> PrintRow | None:
        """One print of a batch, or None."""
        rows = self.prints(code)
        return rows[number - 1] if 0 < number <= len(rows) else None

    def once(self, key: str) -> Onced | None:
        """What was done under a --once key, or None."""
        return self._log.once(key)

    def answered(self, once: Once | None) -> Onced | None:
        """The same with its arguments proved: raises InputError where the key came with others before."""
        return self._log.answered(once)

    def append(
        self, kind: str, batch: str | None, body: Any, *, by: str | None, at: str, once: Once | None = None,
        id: str = "",
    ) -> Event:
        """Put another kind of event on record; `once.answer` gets `body`. A repeated call gets the first event."""
        if kind in _VERBS_OF_THEIR_OWN:
            raise ValueError(f"{kind} events have a verb of their own")
        with self._db.writing():
            key = self._batches.get(batch).code_key if batch is not None else None
            before = self._log.repeated(kind, id, once)
            return before or self._log.append(Draft(kind, key, body, by, at, once, id, outcome=body))

    def events(self, batch: str | None = None, kind: str | None = None) -> tuple[Event, ...]:
        """Events of a batch or all, of a kind or all, first to last. Raises MachineError where one was altered."""
        key = self._batches.get(batch).code_key if batch is not None else None
        return self._log.events(key, (kind,) if kind is not None else ())

    def head(self) -> str:
        """The end of the chain as NUMBER:HASH; kept elsewhere, it shows whether events were cut off."""
        return backup.head_text(*self._log.head())

    def origin(self) -> str:
        """The hash of the first event, which no other record has and nobody can guess; "" while there is none."""
        return self._log.event(1).hash if self._log.head()[0] else ""

    def check(self, folder: Path, head: str | None = None, step: Step = silent) -> Findings:
        """Everything wrong with the record and with the PDFs of the workshop `folder`; none means sound."""
        return check(self._log, self._assets, folder, head, step)

    def files_of(self, sha256: str) -> tuple[str, ...]:
        """The files, as prints name them, that were written with this hash."""
        return self._prints.files_of(sha256)

    def print_folders(self) -> tuple[str, ...]:
        """Every folder that a print went to, as the record names it; "" is the workshop's own."""
        return self._prints.folders()

    def backup(self, target: Path, step: Step = silent) -> str:
        """Copy the record into one file and return the head. Never replaces a backup that holds more."""
        return backup.back_up(self._log, self._assets, target, step)

    def export(self, target: Path, step: Step = silent) -> str:
        """Write the record as JSON lines and return the head."""
        return backup.export_to(self._log, self._assets, target, step)

    def export_lines(self) -> Iterator[str]:
        """The lines of the export, for a stream."""
        return exporting.export_lines(self._log, self._assets)


def open_store(path: Path, *, create: bool = True, wait_s: float = WAIT_S) -> Store:
    """The record at `path`; made where it is missing.

    Raises InputError where there is none and `create` is false; MachineError where it is damaged, locked for
    `wait_s` seconds, not writable, no record at all, or newer than this version.
    """
    return Store(open_database(path, create=create, wait_s=wait_s))


def restore(source: Path, path: Path, step: Step = silent) -> str:
    """Fill the empty or missing record at `path` from a backup or an export; returns its head.

    Raises InputError where the record is not empty or the source does not prove; then nothing has changed.
    """
    if not source.is_file():
        raise input_error("record.source", f"{source}: there is no such file", do="name a backup or an export")
    refuse_lost(path, prints_too=False)
    made = not path.exists()
    try:
        with Store(open_database(path, create=True, restored=True)) as store:
            fill(store._log, store._assets, source, step)
            return store.head()
    except BaseException:
        if made:
            _remove(path)
        raise


def _remove(path: Path) -> None:
    for ending in ("", "-wal", "-shm", "-journal"):
        with contextlib.suppress(OSError):
            path.with_name(path.name + ending).unlink(missing_ok=True)
