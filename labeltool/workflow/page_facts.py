"""The public page of every batch out of the record, and the payloads that lead to it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from labeltool.codec import to_plain
from labeltool.coding.payload import page_path, payload
from labeltool.errors import InputError
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Pack
from labeltool.formula.sizes import of_pack, sizes
from labeltool.pages.model import Inside, PublicPage
from labeltool.records.model import Batch, PrintRow
from labeltool.records.store import Store
from labeltool.workflow.asmade import as_made
from labeltool.workflow.benchlog import BENCH
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.plain import stored
from labeltool.workflow.planning import pattern_of
from labeltool.workflow.prepare import Prepared, prepare
from labeltool.workflow.setting import Setting
from labeltool.workflow.telling import TAKEN_BACK, Telling, Told, public_page, told
from labeltool.workflow.words import Mark, OfPack, mark_batch, word


@dataclass(frozen=True, slots=True)
class BatchPage:
    """A batch's public page, and the payload of every label ever printed for it."""

    page: PublicPage
    payloads: tuple[str, ...]
    findings: Findings = field(default_factory=Findings)


class Teller:
    """Tells the pages of one record. What batches share is judged once."""

    def __init__(self, store: Store, folder: Path, setting: Setting) -> None:
        self.store = store
        self.folder = folder
        self.setting = setting
        self._inputs: dict[int, Inputs] = {}
        self._prepared: dict[tuple[int, dt.date], Prepared] = {}

    def tell(self, batch: Batch, rows: Sequence[PrintRow]) -> BatchPage:
        """The page of a batch: from the words of its labels, or of the label that it would get."""
        if not rows:
            return self._unprinted(batch)
        tellings = [self._telling(row, batch) for row in standing(rows)]
        return BatchPage(public_page(batch, tellings, self._inside(batch)), self.payloads(batch, rows))

    def _telling(self, row: PrintRow, batch: Batch) -> Telling:
        kept = self._told(row, batch)
        return Telling(kept.get("text") or self.store.value(row.text), kept, row.pack)

    def _inside(self, batch: Batch) -> tuple[Inside, ...]:
        """The batches that lie in a gift set; none for any other batch."""
        found = []
        for held in batch.frozen.get("held") or ():
            other = self.store.batch(held["lot"])
            if other is not None:
                path = page_path(self.payloads(other, self.store.outlines_of(other.code_key))[0])
                state = other.state if other.state in TAKEN_BACK else ""
                found.append(Inside(other.code, other.product, held["count"], path, state))
        return tuple(found)

    def payloads(self, batch: Batch, rows: Sequence[PrintRow]) -> tuple[str, ...]:
        """The payload of every label ever printed; of a batch without labels, that which its label would have."""
        if rows:
            return tuple(dict.fromkeys(payload_of(row, batch.code) for row in rows))
        inputs = self._thawed(batch)
        numbers = dict.fromkeys(pack.gtin for pack in sizes(inputs.formula))
        return tuple(payload(inputs.workshop.record, batch.code, batch.key, number, made=batch.made,
                             best_before=None)[0] for number in numbers)

    def _told(self, row: PrintRow, batch: Batch) -> Told:
        """The lists and allergens kept with a print; an older print's allergens are those of what the batch froze."""
        kept: Told | None = (row.extra or {}).get("public")
        if kept is not None:
            return kept
        try:
            names = told(self._planned(batch))["allergens"]
        except InputError:
            return {}
        listed = row.words.declaration
        return {"allergens": {market: there for market, items in names.items() if market in row.markets
                              and (there := [item for item in items if item in listed])}}

    def _unprinted(self, batch: Batch) -> BatchPage:
        try:
            prepared, shortened = self._as_made(batch)
            mark, found = mark_batch(prepared, batch.code, batch.key, batch.made, shortened)
            tellings = [_would_tell(prepared, mark, pack) for pack in sizes(prepared.inputs.formula)]
        except InputError as error:
            page = public_page(batch, (), self._inside(batch))
            return BatchPage(page, self.payloads(batch, ()), Findings(tuple(_bare(batch, error))))
        page = public_page(batch, tellings, self._inside(batch))
        return BatchPage(page, self.payloads(batch, ()),
                         Findings(tuple(item for item in found if item.level == "error")))

    def _as_made(self, batch: Batch) -> tuple[Prepared, dt.date | None]:
        """What was made of it as far as that is on record, else what is planned; best before where lots shorten it."""
        if not self.store.events(batch.code, BENCH):
            return self._planned(batch), None
        made = as_made(batch, self.store, self.folder, self.setting)
        if made.parts is None:
            return self._planned(batch), made.best_before
        return prepare(made.at.inputs, self._on(batch), made.parts), made.best_before

    def _planned(self, batch: Batch) -> Prepared:
        same, on = id(batch.frozen), self._on(batch)
        if (same, on) not in self._prepared:
            self._prepared[same, on] = prepare(self._thawed(batch), on)
        return self._prepared[same, on]

    def _thawed(self, batch: Batch) -> Inputs:
        same = id(batch.frozen)
        if same not in self._inputs:
            self._inputs[same] = stored(Inputs, batch.frozen, f"batch {batch.code}")
        return self._inputs[same]

    def _on(self, batch: Batch) -> dt.date:
        return max(batch.made, self.setting.today)


def _would_tell(prepared: Prepared, mark: Mark, pack: Pack) -> Telling:
    """What the label of a pack would tell."""
    inputs = replace(prepared.inputs, formula=of_pack(prepared.inputs.formula, pack))
    worded = word(replace(prepared, inputs=inputs), mark, pattern_of(inputs), OfPack(pack.name, pack.mark))
    return Telling(to_plain(worded.text), told(prepared), pack.name)


def standing(rows: Sequence[PrintRow]) -> tuple[PrintRow, ...]:
    """The prints whose words hold, the newest first: one for each market and language of each label of each pack."""
    chosen: list[PrintRow] = []
    covered: set[tuple[str, ...]] = set()
    for row in sorted(rows, key=lambda item: (item.superseded, -item.number)):
        readers = {(market, lang, row.pack, row.label or "")
                   for market in row.markets or ("",) for lang in row.languages or ("",)}
        if not readers <= covered:
            chosen.append(row)
            covered |= readers
    return tuple(chosen)


def payload_of(row: PrintRow, code: str) -> str:
    """What the QR of a print holds."""
    return str((row.extra or {}).get("payload") or code)


def _bare(batch: Batch, error: InputError) -> list[Finding]:
    reasons = "; ".join(item.text for item in error.findings)
    return [Finding("pages.bare", "warning", f"the page of batch {batch.code} has no list of ingredients: {reasons}",
                    do=f"labeltool print {batch.code} says what is lacking")]
