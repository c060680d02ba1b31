"""Batches: opened once, their state told by the events that follow."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.records.assets import Assets
from labeltool.records.log import Draft, Log
from labeltool.records.model import OPEN, PRINT, REVISE, STATE, Batch, CodeTaken, Event, Listed, Once, Opening, State
from labeltool.records.words import folded

_ALLOWED: dict[State, tuple[State, ...]] = {
    "open": ("released",),
    "released": ("open",),
    "withdrawn": ("open", "released"),
    "recalled": ("open", "released", "withdrawn"),
    "cancelled": ("open",),
}
_FACTS = ("code", "code_key", "stem", "product", "formula_key", "version", "key")
_LISTED = """
SELECT code, product, version, made,
  (SELECT state FROM changed WHERE batch = code_key ORDER BY changed.event DESC LIMIT 1),
  opened_by, size_g,
  (SELECT SUM(labels) FROM printed WHERE batch = code_key),
  (SELECT COUNT(*) FROM printed WHERE batch = code_key)
FROM opened ORDER BY event
"""
_WITH_WORD = """
SELECT opened.code_key, opened.event FROM opened WHERE opened.code_key IN (
  SELECT event.batch FROM mention JOIN event ON event.number = mention.event WHERE mention.word = ?
  UNION ALL
  SELECT event.batch FROM named JOIN mention ON mention.word = named.asset JOIN event ON event.number = mention.event
  WHERE named.word = ?
)
"""


class Batches:
    """The batches of one store."""

    def __init__(self, log: Log, assets: Assets) -> None:
        self.log = log
        self.assets = assets
        self.db = log.db

    def open(self, opening: Opening) -> Batch:
        """Open a batch. Raises CodeTaken where the code was used meanwhile, in whatever spelling."""
        with self.db.writing():
            before = self.log.repeated(OPEN, opening.id, opening.once)
            if before is not None:
                return self.get(str(before.batch))
            if self.taken(opening.code_key):
                raise CodeTaken(opening.code)
            return self._opened(opening)

    def _opened(self, opening: Opening) -> Batch:
        data: dict[str, Any] = {name: getattr(opening, name) for name in _FACTS}
        data |= {"made": opening.made, "size_g": opening.size_g}
        data["frozen"] = self.assets.add_value("inputs", opening.frozen)
        batch = _batch(data | {"made": opening.made.isoformat()}, opening.frozen, opening.by, opening.at)
        draft = Draft(
            OPEN, opening.code_key, data, opening.by, opening.at, opening.once, opening.id, nth=1, outcome=batch,
        )
        self.log.append(draft)
        return batch

    def find(self, code: str) -> Batch | None:
        """The batch of a code or code key; dashes, spaces and case are no matter."""
        key = self.key_of(code)
        return self._fold(self.log.events(key, (OPEN, STATE, REVISE)))[0] if key else None

    def get(self, code: str) -> Batch:
        """The batch of a code. Raises InputError where it is not on record."""
        found = self.find(code)
        if found is None:
            do = "labeltool batch list shows all codes"
            raise input_error("batch.unknown", f"no batch {code} is on record", do=do)
        return found

    def key_of(self, code: str) -> str | None:
        """The code key of a code as typed, or None where no such batch is on record."""
        bare = "".join(char for char in code if char.isalnum())
        row = self.db.row(
            "SELECT code_key FROM opened WHERE code_key IN (?, ?, ?) OR code = ?",
            code, bare.upper(), bare.lower(), code,
        )
        return str(row[0]) if row else None

    def all(self) -> tuple[Batch, ...]:
        """All batches, in the order they were opened."""
        return self._fold(self.log.events(kinds=(OPEN, STATE, REVISE)))

    def listed(self) -> Iterator[Listed]:
        """All batches as rows of a list, in the order they were opened."""
        for row in self.db.stream(_LISTED):
            code, product, version, made, state, by, size, labels, prints = row
            yield Listed(
                code, product, version, dt.date.fromisoformat(made), state or "open", by,
                None if size is None else Decimal(size), labels or 0, prints,
            )

    def with_words(self, words: Iterable[str]) -> tuple[str, ...]:
        """The code keys of batches that froze or recorded any of these words, in the order they were opened."""
        found: dict[str, int] = {}
        for word in frozenset(map(folded, words)):
            found |= dict(self.db.rows(_WITH_WORD, word, word))
        return tuple(sorted(found, key=lambda key: found[key]))

    def in_order(self, codes: Iterable[str]) -> tuple[str, ...]:
        """The codes, as the record spells them, in the order they were opened."""
        found = (self.db.row("SELECT event, code FROM opened WHERE code = ?", code) for code in codes)
        return tuple(str(row[1]) for row in sorted(row for row in found if row))

    def same_day(self, formula_key: str, made: dt.date) -> tuple[Batch, ...]:
        """The batches of a formula and made date that are still open."""
        rows = self.db.rows(
            "SELECT code_key FROM opened WHERE formula = ? AND made = ? ORDER BY event", formula_key, made.isoformat(),
        )
        found = [self.get(row[0]) for row in rows]
        return tuple(batch for batch in found if batch.state == "open")

    def taken(self, code_key: str) -> bool:
        """Whether a code of this key was ever given out."""
        return self.db.row("SELECT 1 FROM opened WHERE code_key = ?", code_key) is not None

    def code_of(self, code_key: str) -> str | None:
        """The code of this key, as it was given out; None where there is none."""
        row = self.db.row("SELECT code FROM opened WHERE code_key = ?", code_key)
        return str(row[0]) if row else None

    def codes(self, stem: str | None = None) -> tuple[str, ...]:
        """All codes ever used, or those of one stem, in the order they were opened."""
        if stem is None:
            rows = self.db.rows("SELECT code FROM opened ORDER BY event")
        else:
            rows = self.db.rows("SELECT code FROM opened WHERE stem = ? ORDER BY event", stem)
        return tuple(str(row[0]) for row in rows)

    def change(
        self, codes: Sequence[str], state: State, *, by: str | None, at: str, why: str | None, once: Once | None,
    ) -> tuple[Batch, ...]:
        """Bring batches into a state, all or none. Raises InputError with every reason against it."""
        with self.db.writing():
            if self.log.answered(once) is not None:
                return tuple(self.get(code) for code in codes)
            before = [self.get(code) for code in dict.fromkeys(codes)]
            self._refuse(before, state)
            after = tuple(replace(batch, state=state, since=at, why=why) for batch in before)
            for place, batch in enumerate(after):
                last = place == len(after) - 1
                step = replace(once, step=batch.code_key, answer=once.answer if last else None) if once else None
                data = {"state": state, "why": why}
                self.log.append(Draft(STATE, batch.code_key, data, by, at, step, outcome=after))
        return after

    def _refuse(self, batches: Iterable[Batch], state: State) -> None:
        found = [reason for batch in batches if (reason := self._reason(batch, state))]
        if found:
            raise InputError(found)

    def _reason(self, batch: Batch, state: State) -> Finding | None:
        if state not in _ALLOWED or batch.state not in _ALLOWED[state]:
            allowed = " or ".join(_ALLOWED.get(state, ())) or "nothing"
            text = f"batch {batch.code} is {batch.state} and cannot become {state}"
            return Finding("batch.state", "error", text, limit=f"only what is {allowed} can become {state}")
        if state == "cancelled" and self.log.count(batch.code_key, PRINT):
            text = f"batch {batch.code} has labels and cannot be cancelled"
            do = f"labeltool batch withdraw {batch.code} --why TEXT takes it back"
            return Finding("batch.printed", "error", text, limit="cancelled while nothing was printed", do=do)
        return None

    def _fold(self, events: Iterable[Event]) -> tuple[Batch, ...]:
        found: dict[str, Batch] = {}
        frozen: dict[str, str] = {}
        for event in events:
            key = str(event.batch)
            if event.kind == OPEN:
                found[key] = _batch(event.data, None, event.by, event.at)
                frozen[key] = event.data["frozen"]
            elif event.kind == REVISE:
                found[key] = replace(found[key], revisions=found[key].revisions + 1)
                frozen[key] = event.data["frozen"]
            else:
                found[key] = replace(found[key], state=event.data["state"], since=event.at, why=event.data["why"])
        return tuple(replace(batch, frozen=self.assets.value(frozen[key])) for key, batch in found.items())

    def revise(self, code: str, frozen: Any, *, by: str | None, at: str, why: str, once: Once | None, id: str) -> Batch:
        """Freeze new inputs for a batch; earlier ones stay on record."""
        with self.db.writing():
            done = self.log.repeated(REVISE, id, once)
            if done is not None:
                return self.get(str(done.batch))
            before = self.get(code)
            batch = replace(before, frozen=frozen, revisions=before.revisions + 1)
            data = {"frozen": self.assets.add_value("inputs", frozen), "why": why}
            self.log.append(Draft(REVISE, batch.code_key, data, by, at, once, id, outcome=batch))
            return batch


def _batch(data: Mapping[str, Any], frozen: Any, by: str | None, at: str) -> Batch:
    size = None if data["size_g"] is None else Decimal(data["size_g"])
    facts = {name: data[name] for name in _FACTS}
    return Batch(**facts, made=dt.date.fromisoformat(data["made"]), size_g=size, frozen=frozen, by=by, at=at, since=at)
