"""Payloads of scanned symbols, found on record."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from labeltool.coding.scanned import codes_in, same_link
from labeltool.coding.shape import code_key
from labeltool.finding import Finding
from labeltool.records.model import Batch, PrintRow
from labeltool.records.store import Store
from labeltool.typeset.frame import Frame, Modules
from labeltool.workflow.codes import code_in
from labeltool.workflow.expecting import payloads_of
from labeltool.workflow.plain import stored

TAKEN_BACK = ("withdrawn", "recalled", "cancelled")


@dataclass(frozen=True, slots=True)
class Traced:
    """A payload on record: its batch, the latest print that says exactly this (None: no print does), what they say."""

    batch: Batch
    row: PrintRow | None
    said: tuple[str, ...]

    def symbol(self) -> Modules | None:
        """The symbol as that print set it."""
        frames = (stored(Frame, plain, "print") for plain in (self.row.frames if self.row else ()))
        return next((item for frame in frames for item in frame.symbols), None)


def traced(payload: str, store: Store, folder: Path) -> Traced | None:
    """The batch that a payload belongs to: its code in any spelling, in a link of the maker's, in a GS1 link."""
    for text in codes_in(payload):
        code = code_in(text, folder, store)
        batch = store.batch(code_key(code)) if code is not None else None
        if batch is not None:
            rows = store.prints(batch.code)
            exact = [row for row in rows if payload in payloads_of([row])]
            return Traced(batch, exact[-1] if exact else None, tuple(sorted(payloads_of(rows))))
    return None


def standing_of(found: Traced, today: dt.date) -> Iterator[Finding]:
    """What the record says against using a label of this batch."""
    batch, row = found.batch, found.row
    if batch.state in TAKEN_BACK:
        yield Finding("verify.state", "warning", f"batch {batch.code} is {batch.state}",
                      do=f"labeltool batch show {batch.code} says why")
    if row is None:
        return
    if row.superseded:
        yield Finding("verify.superseded", "warning",
                      f"print {row.number} of batch {batch.code} is superseded: a later one says something else",
                      do=f"labeltool batch show {batch.code}")
    best = (row.extra or {}).get("best-before")
    if best and dt.date.fromisoformat(best) < today:
        yield Finding("verify.past", "note", f"batch {batch.code} is past its best before, {best}")


def written_otherwise(payload: str, found: Traced) -> bool:
    """Whether the payload is one of the batch's, only spelled in another way."""
    return any(same_link(payload, said) or code_key(payload) == code_key(said) for said in found.said)
