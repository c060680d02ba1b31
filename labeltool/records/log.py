"""The event log over one database: append, read, and answer repeated calls with their first outcome."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from labeltool.errors import MachineError, input_error, machine_error
from labeltool.records import index
from labeltool.records.chain import EVENT_FORMAT, GENESIS, Broken, Stored, link, proved
from labeltool.records.clean import args_hash, clean_text
from labeltool.records.model import Event, Once, Onced
from labeltool.records.sqlite import Database
from labeltool.records.words import folded

COLUMNS = "number, id, kind, batch, nth, once_key, once_step, body, previous, hash"
_INSERT = f"INSERT INTO event ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"

_WITH_WORD = f"""
SELECT {", ".join(f"event.{name}" for name in COLUMNS.split(", "))} FROM mention JOIN event ON number = mention.event
WHERE word = ? AND kind = ?
"""


@dataclass(frozen=True, slots=True)
class Draft:
    """An event before it has its place. `outcome` is what the verb will return: the once result is made from it."""

    kind: str
    batch: str | None
    data: Any
    by: str | None
    at: str
    once: Once | None = None
    id: str = ""
    nth: int | None = None
    outcome: Any = None


def damaged(number: object, reason: str) -> MachineError:
    """The error for an event that is not what was written."""
    return machine_error(
        "record.damaged", f"event {number} of the record has been altered: {reason}",
        do="run labeltool records check; then restore the latest backup into an empty folder",
    )


class Log:
    """The events of one store. Every event read is proved against its own hash."""

    def __init__(self, db: Database) -> None:
        self.db = db

    def head(self) -> tuple[int, str]:
        """Number and hash of the last event; (0, zeros) while there is none."""
        row = self.db.row("SELECT number, hash FROM event ORDER BY number DESC LIMIT 1")
        return (int(row[0]), str(row[1])) if row else (0, GENESIS)

    def append(self, draft: Draft) -> Event:
        """Write an event at the end of the chain; only inside a write transaction."""
        number, previous = self.head()
        envelope = _envelope(draft, number + 1)
        body = clean_text(envelope)
        once = envelope["once"] or {}
        stored = Stored(
            envelope["number"], envelope["id"], draft.kind, draft.batch, draft.nth,
            once.get("key"), once.get("step"), body, previous, link(previous, body),
        )
        event = proved(stored)
        self.insert(stored, event)
        return event

    def insert(self, stored: Stored, event: Event) -> None:
        """Put an event down as it is, with its rows of the index; its place and hashes are the caller's to prove."""
        self.db.run(_INSERT, [getattr(stored, name) for name in COLUMNS.split(", ")])
        self.enter(event)

    def enter(self, event: Event) -> None:
        """Enter an event into the index."""
        for table, values in index.rows_of(event):
            self.db.run(index.insert(table), values)

    def stored(self) -> Iterator[Stored]:
        """All events as they lie in the store, first to last, unproved."""
        for row in self.db.stream(f"SELECT {COLUMNS} FROM event ORDER BY number"):
            yield Stored(*row)

    def hash_of(self, number: int) -> str | None:
        """The hash of one event, unproved; None where there is none."""
        row = self.db.row("SELECT hash FROM event WHERE number = ?", number)
        return str(row[0]) if row else None

    def after(self, number: int) -> Iterator[Event]:
        """The events after one of them, each proved against its own hash."""
        for row in self.db.stream(f"SELECT {COLUMNS} FROM event WHERE number > ? ORDER BY number", number):
            yield _proved(Stored(*row))

    def of_kind(self, kind: str, since: int = 0) -> Iterator[Event]:
        """The events of a kind from the number `since` on, one by one, each proved against its own hash."""
        sql = f"SELECT {COLUMNS} FROM event WHERE kind = ? AND number >= ? ORDER BY number"
        for row in self.db.stream(sql, kind, since):
            yield _proved(Stored(*row))

    def count_all(self) -> int:
        """How many events there are."""
        row = self.db.row("SELECT COUNT(*) FROM event")
        return int(row[0]) if row else 0

    def walk(self) -> Iterator[Event]:
        """All events one by one, first to last, each proved to follow the one before. Raises MachineError."""
        previous = GENESIS
        for stored in self.stored():
            try:
                yield proved(stored, previous)
            except Broken as error:
                raise damaged(stored.number, str(error)) from error
            previous = str(stored.hash)

    def events(self, batch: str | None = None, kinds: Iterable[str] = ()) -> tuple[Event, ...]:
        """Events of one batch (a code key) or all, of some kinds or all, first to last."""
        names = tuple(kinds)
        if batch is not None:  # asked for both, the database would walk all events of the kind
            found = map(_stored, self.db.rows(f"SELECT {COLUMNS} FROM event WHERE batch = ? ORDER BY number", batch))
            return tuple(_proved(stored) for stored in found if not names or stored.kind in names)
        where = f" WHERE kind IN ({', '.join('?' * len(names))})" if names else ""
        rows = self.db.rows(f"SELECT {COLUMNS} FROM event{where} ORDER BY number", *names)
        return tuple(_proved(Stored(*row)) for row in rows)

    def with_words(self, kind: str, words: Iterable[str]) -> tuple[Event, ...]:
        """The events of a kind that hold any of these words, first to last."""
        found: dict[int, Stored] = {}
        for word in frozenset(map(folded, words)):
            rows = self.db.rows(_WITH_WORD, word, kind)
            found |= {int(row[0]): Stored(*row) for row in rows}
        return tuple(_proved(found[number]) for number in sorted(found))

    def event(self, number: int) -> Event:
        """One event by its number."""
        row = self.db.row(f"SELECT {COLUMNS} FROM event WHERE number = ?", number)
        if row is None:
            raise damaged(number, "it is gone")
        return _proved(Stored(*row))

    def count(self, batch: str, kind: str) -> int:
        """How many events of a kind a batch has."""
        row = self.db.row("SELECT COUNT(*) FROM event WHERE batch = ? AND kind = ?", batch, kind)
        return int(row[0]) if row else 0

    def once(self, key: str) -> Onced | None:
        """What was done under a key, or None. Its steps stand in the order they were done."""
        rows = self.db.rows(f"SELECT {COLUMNS} FROM event WHERE once_key = ? ORDER BY number", key)
        events = [_proved(Stored(*row)) for row in rows]
        if not events:
            return None
        marks = [event.once or {} for event in events]
        results = [mark["result"] for mark in marks if mark["done"]]
        steps = tuple((str(mark["step"]), event.number) for mark, event in zip(marks, events, strict=True))
        return Onced(key, str(marks[0]["args"]), bool(results), results[-1] if results else None, steps)

    def repeated(self, kind: str, id: str, once: Once | None) -> Event | None:
        """The event that this very call wrote before, or None.

        Raises InputError where the id or the once key was used for something else.
        """
        found = self._by_id(id) or self._by_once(once)
        if found is not None and found.kind != kind:
            raise input_error(
                "call.once", f"the key {once.key if once else id} was used for another operation",
                do="give each operation a key of its own",
            )
        return found

    def _by_id(self, id: str) -> Event | None:
        row = self.db.row(f"SELECT {COLUMNS} FROM event WHERE id = ?", id) if id else None
        return _proved(Stored(*row)) if row else None

    def _by_once(self, once: Once | None) -> Event | None:
        known = self.answered(once)
        number = dict(known.steps).get(once.step) if known and once else None
        return self.event(number) if number is not None else None

    def answered(self, once: Once | None) -> Onced | None:
        """What was done under this key with these arguments, or None. Raises InputError for other arguments."""
        known = self.once(once.key) if once else None
        if once and known and known.args_sha256 != args_hash(once.args):
            raise input_error(
                "call.once", f"--once {once.key} was used before with other arguments",
                limit="the same key goes with the same arguments", do="take a new key for a new operation",
            )
        return known


def _stored(row: tuple[Any, ...]) -> Stored:
    return Stored(*row)


def _proved(stored: Stored) -> Event:
    try:
        return proved(stored)
    except Broken as error:
        raise damaged(stored.number, str(error)) from error


def _envelope(draft: Draft, number: int) -> dict[str, Any]:
    return {
        "format": EVENT_FORMAT, "number": number, "id": draft.id or str(uuid.uuid4()), "kind": draft.kind,
        "batch": draft.batch, "nth": draft.nth, "by": draft.by, "at": draft.at, "data": draft.data,
        "once": _once(draft.once, draft.outcome),
    }


def _once(once: Once | None, outcome: Any) -> dict[str, Any] | None:
    if once is None:
        return None
    result = once.answer(outcome) if once.answer else None
    done = once.answer is not None
    return {"key": once.key, "step": once.step, "args": args_hash(once.args), "done": done, "result": result}
