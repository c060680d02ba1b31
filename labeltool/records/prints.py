"""Prints: what was put on paper, with the words and frames that make it printable again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, replace
from typing import Any

from labeltool.codec import to_plain
from labeltool.errors import input_error
from labeltool.records.assets import Assets
from labeltool.records.batches import Batches
from labeltool.records.log import Draft, Log
from labeltool.records.model import PRINT, PRINTABLE, Batch, Event, PrintFacts, PrintOrder, PrintRow, Words

_APART = {"code", "frames", "text", "words", "file", "at", "by"}
_FACTS = tuple(item.name for item in fields(PrintFacts) if item.name not in _APART)
_NTH_LAST = """
SELECT MIN(event) FROM printed WHERE (file, sha256) = (
  SELECT file, sha256 FROM printed ORDER BY event DESC LIMIT 1 OFFSET ?
)
"""
_LISTS = ("artworks", "places", "markets", "languages")


class Prints:
    """The prints of one store."""

    def __init__(self, log: Log, assets: Assets, batches: Batches) -> None:
        self.log = log
        self.assets = assets
        self.batches = batches
        self.db = log.db

    def add(self, order: PrintOrder) -> PrintRow:
        """Put a print on record; its number is given here. Raises InputError where the batch prints no more."""
        with self.db.writing():
            before = self.log.repeated(PRINT, order.id, order.once)
            if before is not None:
                return self.of(str(before.batch))[int(before.nth or 0) - 1]
            batch = self.batches.get(order.code)
            _refuse(batch)
            return self._added(batch, order)

    def _added(self, batch: Batch, order: PrintOrder) -> PrintRow:
        number = self.log.count(batch.code_key, PRINT) + 1
        row = _row(order, batch.code, number)
        data: dict[str, Any] = {name: getattr(row, name) for name in _FACTS}
        data |= {
            "file": row.file,
            "words": {"declaration": row.words.declaration, "warnings": row.words.warnings, "date": row.words.date},
            "frames": [self.assets.add_value("frame", frame) for frame in row.frames],
            "text": self.assets.add_value("label-text", row.text),
        }
        draft = Draft(PRINT, batch.code_key, data, order.by, order.at, order.once, order.id, number, outcome=row)
        self.log.append(draft)
        return row

    def of(self, code: str) -> tuple[PrintRow, ...]:
        """The prints of a batch, in order; none for a code that is not on record."""
        key = self.batches.key_of(code)
        if key is None:
            return ()
        batch = self.batches.get(key)
        return _judged([self._read(batch.code, event) for event in self.log.events(key, (PRINT,))])

    def outlines(self) -> dict[str, tuple[PrintRow, ...]]:
        """Every print by its batch's code key, in order: without frames, `text` the name under which it is kept."""
        found: dict[str, list[PrintRow]] = {}
        for event in self.log.events(kinds=(PRINT,)):
            found.setdefault(str(event.batch), []).append(_outline(event))
        return {key: _judged(rows) for key, rows in found.items()}

    def outlines_of(self, key: str) -> tuple[PrintRow, ...]:
        """The same of one batch."""
        return _judged([_outline(event) for event in self.log.events(key, (PRINT,))])

    def walk(self, last: int | None = None) -> Iterator[PrintRow]:
        """Every print in the order they went on record, or about the `last` ones: whole files, so rather too many.

        `code` is the code key; `text` and `frames` are the names under which they are kept.
        """
        for event in self.log.of_kind(PRINT, self._since(last)):
            yield replace(_outline(event), frames=tuple(event.data["frames"]))

    def count(self, last: int | None = None) -> int:
        """How many prints `walk` gives."""
        row = self.db.row("SELECT COUNT(*) FROM printed WHERE event >= ?", self._since(last))
        return int(row[0]) if row else 0

    def _since(self, last: int | None) -> int:
        """The event of the first of the `last` prints, and of those that share its file."""
        row = self.db.row(_NTH_LAST, last - 1) if last else None
        return int(row[0]) if row and row[0] is not None else 0

    def files_of(self, sha256: str) -> tuple[str, ...]:
        """The files, as prints name them, that were written with this hash."""
        return tuple(str(row[0]) for row in self.db.rows("SELECT file FROM printed WHERE sha256 = ?", sha256))

    def folders(self) -> tuple[str, ...]:
        """Every folder that a print went to, as the record names it; "" is the workshop's own."""
        return tuple(sorted({file.rpartition("/")[0] for (file,) in self.db.stream("SELECT file FROM printed")}))

    def _read(self, code: str, event: Event) -> PrintRow:
        row = _outline(event)
        return replace(row, code=code, frames=self.assets.all_of(event.data["frames"]),
                       text=self.assets.value(event.data["text"]))


def _outline(event: Event) -> PrintRow:
    data = event.data
    words = Words(data["words"]["declaration"], tuple(data["words"]["warnings"]), data["words"]["date"])
    facts: dict[str, Any] = {name: data[name] for name in _FACTS if name in data}
    facts |= {name: tuple(data[name]) for name in _LISTS}
    return PrintRow(**facts, code=str(event.batch), number=int(event.nth or 0), file=data["file"], words=words,
                    at=event.at, by=event.by, frames=(), text=data["text"])


def _judged(rows: list[PrintRow]) -> tuple[PrintRow, ...]:
    return tuple(replace(row, superseded=_superseded(row, rows)) for row in rows)


def _refuse(batch: Batch) -> None:
    if batch.state not in PRINTABLE:
        raise input_error(
            "batch.state", f"batch {batch.code} is {batch.state}: no labels are printed for it",
            limit=f"labels for a batch that is {' or '.join(PRINTABLE)}", do=f"labeltool batch show {batch.code}",
        )


def _row(order: PrintOrder, code: str, number: int) -> PrintRow:
    facts = {name: getattr(order, name) for name in _FACTS}
    plain = {name: to_plain(facts[name]) for name in ("stock", "correction", "extra")}
    return PrintRow(
        **(facts | plain), code=code, number=number, file=order.file.replace("{n}", str(number)), words=order.words,
        at=order.at, by=order.by, frames=tuple(to_plain(frame) for frame in order.frames), text=to_plain(order.text),
    )


def _superseded(row: PrintRow, rows: list[PrintRow]) -> bool:
    """Whether a later first print of the same readers says another list, other warnings or another date.

    A reprint says what its original said: it stands where that stood, and supersedes nothing.
    """
    origin = _origin(row, rows)
    later = [other for other in rows if other.number > origin and other.reprint_of is None]
    return any(other.words != row.words and _stands_for(other, row) for other in later)


def _origin(row: PrintRow, rows: list[PrintRow]) -> int:
    while row.reprint_of is not None and 0 < row.reprint_of < row.number:
        row = rows[row.reprint_of - 1]
    return row.number


def _stands_for(other: PrintRow, row: PrintRow) -> bool:
    """Whether another print has the same readers; another label of the pack only where it has exactly those."""
    if (other.pack, other.label) == (row.pack, row.label):
        return _same_readers(other, row)
    return (other.markets, other.languages) == (row.markets, row.languages)


def _same_readers(one: PrintRow, other: PrintRow) -> bool:
    return _shared(one.markets, other.markets) and _shared(one.languages, other.languages)


def _shared(one: tuple[str, ...], other: tuple[str, ...]) -> bool:
    return not one or not other or bool(set(one) & set(other))
