"""What can be looked up without reading the log: rows derived from each event and asset, and from nothing else.

They are written in the event's own transaction, made anew by restore and migration, and compared with the log by check.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from labeltool.records.model import OPEN, PRINT, REVISE, STATE, Event
from labeltool.records.words import words_of

INPUTS = "inputs"
COLUMNS = {
    "opened": ("code_key", "code", "stem", "formula", "made", "event", "product", "version", "size_g", "opened_by"),
    "changed": ("batch", "event", "state"),
    "printed": ("batch", "nth", "event", "labels", "file", "sha256"),
    "mention": ("word", "event"),
    "named": ("word", "asset"),
}

Row = tuple[str, tuple[Any, ...]]


def insert(table: str) -> str:
    """The statement that enters a row."""
    columns = COLUMNS[table]
    return f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({', '.join('?' * len(columns))})"


def find(table: str) -> str:
    """The statement that asks whether a row is there."""
    return f"SELECT 1 FROM {table} WHERE {' AND '.join(f'{name} IS ?' for name in COLUMNS[table])}"


def rows_of(event: Event) -> Iterator[Row]:
    """The rows of one event. Raises KeyError or TypeError where its data lack what they need."""
    data, number = event.data, event.number
    if event.kind == OPEN:
        yield "opened", (
            event.batch, data["code"], data["stem"], data["formula_key"], data["made"], number, data["product"],
            data["version"], data["size_g"], event.by,
        )
    if event.kind in (OPEN, REVISE):
        yield "mention", (data["frozen"], number)
    elif event.kind == STATE:
        yield "changed", (event.batch, number, data["state"])
    elif event.kind == PRINT:
        yield "printed", (event.batch, event.nth, number, data["labels"], data["file"], data["sha256"])
    else:
        for word in sorted(words_of(data)):
            yield "mention", (word, number)


def rows_of_asset(sha256: str, kind: str, value: Any) -> Iterator[Row]:
    """The rows of one asset: of frozen inputs, the words in them."""
    if kind == INPUTS:
        for word in sorted(words_of(value)):
            yield "named", (word, sha256)
