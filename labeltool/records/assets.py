"""What is kept once, by its SHA-256: fonts, logos, frozen inputs, frames."""

from __future__ import annotations

import base64
import binascii
import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from labeltool.errors import MachineError, machine_error
from labeltool.records.clean import clean_text, from_text
from labeltool.records.index import INPUTS, Row, insert, rows_of_asset
from labeltool.records.sqlite import Database

_INSERT = "INSERT INTO asset (sha256, kind, coding, data) VALUES (?, ?, ?, ?)"


@dataclass(frozen=True, slots=True)
class Kept:
    """An asset as it lies in the store. `coding` is "text" or "base64"."""

    sha256: Any
    kind: Any
    coding: Any
    data: Any


def coded(kind: str, data: bytes) -> Kept:
    """The form in which bytes are kept: UTF-8 text as it is, all else as base64."""
    name = hashlib.sha256(data).hexdigest()
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text:
        return Kept(name, kind, "base64", base64.b64encode(data).decode("ascii"))
    return Kept(name, kind, "text", text)


def decoded(kept: Kept) -> bytes | None:
    """The bytes of an asset, proved against its name; None where they are not what was kept."""
    try:
        text = str(kept.data).encode("utf-8", "surrogateescape")
        data = text if kept.coding == "text" else base64.b64decode(text, validate=True)
    except (binascii.Error, UnicodeEncodeError):
        return None
    return data if hashlib.sha256(data).hexdigest() == kept.sha256 else None


def rows_of_kept(kept: Kept) -> Iterator[Row]:
    """The rows of the index that an asset brings. Raises ValueError where inputs are no JSON."""
    if kept.kind == INPUTS and kept.coding == "text":
        yield from rows_of_asset(kept.sha256, kept.kind, from_text(kept.data))


class Assets:
    """The assets of one store."""

    def __init__(self, db: Database) -> None:
        self.db = db
        self._values: dict[str, Any] = {}

    def add(self, kind: str, data: bytes) -> str:
        """Keep bytes and return their SHA-256; a second time nothing is written."""
        name = hashlib.sha256(data).hexdigest()
        if not self.has(name):
            with self.db.writing():
                if not self.has(name):
                    self.insert(coded(kind, data))
        return name

    def insert(self, kept: Kept) -> None:
        """Put an asset down as it is; only inside a write transaction."""
        self.db.run(_INSERT, (kept.sha256, kept.kind, kept.coding, kept.data))
        self.enter(kept)

    def enter(self, kept: Kept) -> None:
        """Enter an asset into the index."""
        for table, values in rows_of_kept(kept):
            self.db.run(insert(table), values)

    def has(self, sha256: str) -> bool:
        """Whether these bytes are kept."""
        return self.db.row("SELECT 1 FROM asset WHERE sha256 = ?", sha256) is not None

    def get(self, sha256: str) -> bytes:
        """The bytes of that name, proved. Raises MachineError where they are gone or altered."""
        row = self.db.row("SELECT sha256, kind, coding, data FROM asset WHERE sha256 = ?", sha256)
        data = decoded(Kept(*row)) if row else None
        if data is None:
            raise _lost(sha256, "altered" if row else "gone")
        return data

    def add_value(self, kind: str, value: Any) -> str:
        """Keep a plain value as its canonical text."""
        return self.add(kind, clean_text(value).encode("utf-8"))

    def value(self, sha256: str) -> Any:
        """The plain value of that name; read once a store, so treat it as frozen."""
        if sha256 not in self._values:
            self._values[sha256] = self.value_once(sha256)
        return self._values[sha256]

    def value_once(self, sha256: str) -> Any:
        """The same, not held: for what is asked for once among very many."""
        return from_text(self.get(sha256).decode("utf-8"))

    def count(self) -> int:
        """How many assets there are."""
        row = self.db.row("SELECT COUNT(*) FROM asset")
        return int(row[0]) if row else 0

    def stored(self) -> Iterator[Kept]:
        """All assets as they lie in the store, by name, unproved."""
        for row in self.db.stream("SELECT sha256, kind, coding, data FROM asset ORDER BY sha256"):
            yield Kept(*row)

    def all_of(self, names: Iterable[str]) -> tuple[Any, ...]:
        """Several plain values."""
        return tuple(self.value(name) for name in names)


def _lost(sha256: str, how: str) -> MachineError:
    return machine_error(
        "record.damaged", f"the asset {sha256[:12]} of the record is {how}",
        do="run labeltool records check; then restore the latest backup into an empty folder",
    )
