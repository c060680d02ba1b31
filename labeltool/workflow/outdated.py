"""Prints that say something else than the batch is made of by now: the bench, or a lot's date, changed after them.

What the bench said when a print was made and what it says now are worded in the same way, by the law of the print's
day, so that nothing but the making can tell them apart.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from labeltool.coding.pattern import parse_pattern
from labeltool.finding import Finding
from labeltool.formula.model import MARKETS
from labeltool.records.model import PRINT, Batch, PrintRow, Words
from labeltool.records.store import Store
from labeltool.workflow.asmade import AsMade, as_made, lots_of, printed_labels
from labeltool.workflow.benchlog import BENCH
from labeltool.workflow.codes import the_batch
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.issue import printed_words
from labeltool.workflow.lotbook import LOT
from labeltool.workflow.prepare import prepare
from labeltool.workflow.setting import Setting
from labeltool.workflow.words import mark_batch, word

_NAMES = {"declaration": "list", "warnings": "warnings", "date": "date"}


class Bygone:
    """Holds the prints of a batch against what is made of it now."""

    def __init__(self, batch: Batch, now: AsMade, store: Store, folder: Path, setting: Setting) -> None:
        self.batch, self.now, self.store, self.folder, self.setting = batch, now, store, folder, setting
        self.printed = {int(event.nth or 0): event.number for event in store.events(batch.code, PRINT)}
        late = store.events(batch.code, BENCH)[-1:] + store.events_with(LOT, sorted(lots_of(now.at)))[-1:]
        self.last = max((event.number for event in late), default=0)
        self.inside = tuple(self._of_set(item["lot"]) for item in batch.frozen.get("held") or ())
        self._then: dict[int, AsMade] = {}
        self._words: dict[tuple[int, object], Words] = {}

    def differs(self, row: PrintRow, rows: Iterable[PrintRow]) -> tuple[str, ...]:
        """What of list, warnings and date a print does not say as it would now. A reprint says what it repeats."""
        by_number = {one.number: one for one in rows}
        while row.reprint_of in by_number:
            row = by_number[row.reprint_of]
        until = self.printed[row.number]
        found = {name for one in (self, *self.inside) for name in one.changed(row, until)}
        return tuple(name for name in _NAMES.values() if name in found)

    def _of_set(self, code: str) -> Bygone:
        """A batch that lies in this one, a gift set: what changes on its bench changes the set's words."""
        batch = the_batch(code, self.folder, self.store)
        now = as_made(batch, self.store, self.folder, self.setting)
        return Bygone(batch, now, self.store, self.folder, self.setting)

    def changed(self, row: PrintRow, until: int) -> tuple[str, ...]:
        """What a print made before the event of that number says of this batch otherwise than it would now."""
        if until > self.last:
            return ()
        if until not in self._then:
            self._then[until] = as_made(self.batch, self.store, self.folder, self.setting, until=until)
        then = self._then[until]
        if (then.parts, then.best_before) == (self.now.parts, self.now.best_before):
            return ()
        before, after = self._said(row, then, until), self._said(row, self.now, 0)
        return tuple(name for field, name in _NAMES.items() if getattr(before, field) != getattr(after, field))

    def _said(self, row: PrintRow, made: AsMade, moment: int) -> Words:
        """The words for a print's readers, by the law of its day."""
        day = dt.date.fromisoformat((row.extra or {}).get("on") or self.batch.made.isoformat())
        key = moment, (day, row.markets, row.languages)
        if key not in self._words:
            self._words[key] = self._word(_for(made.at.inputs, row), day, made)
        return self._words[key]

    def _word(self, inputs: Inputs, day: dt.date, made: AsMade) -> Words:
        batch = self.batch
        prepared = prepare(inputs, day, made.parts)
        mark, _ = mark_batch(prepared, batch.code, batch.key, batch.made, made.best_before)
        pattern, _ = parse_pattern(inputs.workshop.batch.code)
        assert pattern is not None
        return printed_words(word(prepared, mark, pattern).text)


def _for(inputs: Inputs, row: PrintRow) -> Inputs:
    """The inputs for a print's markets and languages."""
    markets = tuple(market for market in MARKETS if market in row.markets)
    product = replace(inputs.formula.product, markets=markets or inputs.formula.product.markets)
    workshop = replace(inputs.workshop, languages=tuple(row.languages) or inputs.workshop.languages)
    return replace(inputs, formula=replace(inputs.formula, product=product), workshop=workshop)


def outdated(bygone: Bygone, rows: Iterable[PrintRow]) -> dict[int, tuple[str, ...]]:
    """The numbers of prints that do not say what was made, each with what differs."""
    every = tuple(rows)
    found = {row.number: bygone.differs(row, every) for row in every}
    return {number: names for number, names in found.items() if names}


def for_the_filled(made: AsMade, bygone: Bygone, rows: Iterable[PrintRow]) -> AsMade:
    """The same with the labels alone that a pack can still carry: superseded and outdated prints left out."""
    every = tuple(rows)
    old = outdated(bygone, every)
    good = (row for row in every if not row.superseded and row.number not in old)
    return replace(made, printed=printed_labels(good, made.at.bench))


def outdated_findings(numbers: dict[int, tuple[str, ...]], rows: Iterable[PrintRow]) -> tuple[Finding, ...]:
    """A warning for each print that does not say what was made, unless a later print took its place already."""
    return tuple(
        Finding("print.outdated", "warning", f"the {row.labels} labels of print {row.number} say another "
                f"{' and '.join(numbers[row.number])} than what was made: do not use them",
                do=f"print new ones, and count these: labeltool batch bench {row.code} --destroyed {row.number}=N")
        for row in rows if row.number in numbers and not row.superseded
    )
