"""One batch as the record knows it: plan, what was weighed and read, what was made of it, its prints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from labeltool.batch.history import Change, history
from labeltool.batch.made import complete
from labeltool.batch.model import Weighed
from labeltool.batch.reconcile import Account, accounts, reconciliation
from labeltool.batch.release import reasons
from labeltool.finding import Finding, Findings
from labeltool.records.model import STATE, PrintRow, State
from labeltool.records.store import open_store
from labeltool.workflow.asmade import AsMade, as_made, differences, printed_labels
from labeltool.workflow.batches import listed, print_document, short_document
from labeltool.workflow.codes import record_folder, record_path, the_batch
from labeltool.workflow.declaring import declared
from labeltool.workflow.judging import judged
from labeltool.workflow.outdated import Bygone, outdated, outdated_findings
from labeltool.workflow.prepare import Prepared, prepare
from labeltool.workflow.setting import Setting, shown_path


@dataclass(frozen=True, slots=True)
class Decision:
    """A batch brought into a state: when, by whom, why."""

    state: State
    at: str
    by: str | None
    why: str | None

    def document(self) -> dict[str, Any]:
        """The decision as a JSON object."""
        return {"state": self.state, "at": self.at, "by": self.by, "why": self.why}


@dataclass(frozen=True, slots=True)
class ShownBatch:
    """A batch to be shown. `prepared`: what was made, judged today; None while the formula stands for it.

    `history`: corrections, first to last; `decisions`: released, opened again, taken back; `against`: what refuses a
    release, once all is weighed.
    """

    made: AsMade
    prints: tuple[PrintRow, ...]
    prepared: Prepared | None
    accounts: tuple[Account, ...]
    findings: Findings
    history: tuple[Change, ...] = ()
    decisions: tuple[Decision, ...] = ()
    against: tuple[Finding, ...] = ()

    def document(self) -> dict[str, Any]:
        """The documented JSON object of `batch show`."""
        at = self.made.at
        batch, bench = at.batch, at.bench
        return short_document(listed(batch, self.prints)) | {
            "size": bench.size_g, "since": batch.since, "why": batch.why, "released": self._released(),
            "revisions": batch.revisions, "best-before": self.made.best_before,
            "plan": [{"line": row.line, "phase": row.phase, "material": row.material, "grams": row.grams}
                     for row in bench.plan],
            "weighed": [self._weighed(item) for item in bench.weighed],
            "readings": [{"name": item.name, "value": item.value, "unit": item.unit, "celsius": item.celsius,
                          "at": item.at, "by": item.by} for item in bench.readings],
            "yield": bench.yield_g, "filled": dict(bench.filled),
            "notes": [{"text": text, "at": at, "by": by} for text, at, by in self.notes()],
            "corrections": [{"what": item.what, "line": item.line, "was": item.was, "now": item.now, "why": item.why,
                             "at": item.at, "by": item.by} for item in self.history],
            "decisions": [item.document() for item in self.decisions],
            "as-made": declared(self.prepared) if self.prepared else None,
            "prints": [print_document(row, printed_labels([row], bench)) for row in self.prints],
            "accounts": [{"pack": item.pack, "artwork": item.artwork, "printed": item.printed, "good": item.usable,
                          "spoiled": item.spoiled, "left": item.spare, "destroyed": item.destroyed, "used": item.used,
                          "filled": item.filled, "missing": item.missing, "over": item.over} for item in self.accounts],
            "problems": [item.as_json() for item in self.findings],
        } | ({"holds": [{"code": one.lot, "formula": one.formula, "pack": one.pack, "count": one.count}
                        for one in at.inputs.held]} if at.inputs.held else {})

    def _released(self) -> dict[str, Any] | None:
        """The release that stands."""
        standing = self.made.at.batch.state == "released" and self.decisions
        return self.decisions[-1].document() if standing else None

    def _weighed(self, item: Weighed) -> dict[str, Any]:
        return {
            "line": item.line, "phase": item.phase, "material": item.material, "grams": item.grams, "lot": item.lot,
            "expires": self.expires(item), "note": item.note, "at": item.at, "by": item.by,
            "before": list(item.before), "why": item.why,
        }

    def expires(self, item: Weighed) -> Any:
        """The date of a weighed lot, as the bench or the lot on record says."""
        return self.made.book.date_of(item.material, item.lot, item.expires)

    def notes(self) -> Iterator[tuple[str, str, str | None]]:
        """(text, at, by) of every note."""
        for item in self.made.at.bench.notes:
            yield getattr(item.entry, "text", ""), item.at, item.by

    @property
    def weighed_g(self) -> Decimal:
        """All that was weighed."""
        return sum((item.grams for item in self.made.at.bench.weighed), Decimal(0))


def show_batch_whole(code: str, setting: Setting) -> ShownBatch:
    """One batch with all that is on record of it. Raises InputError with the codes it could have meant."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        batch = the_batch(code, folder, store)
        made = as_made(batch, store, folder, setting)
        rows = store.outlines_of(batch.code_key)
        old = outdated(Bygone(batch, made, store, folder, setting), rows)
        decisions = tuple(Decision(event.data["state"], event.at, event.by, event.data["why"])
                          for event in store.events(batch.code, STATE))
    on = max(batch.made, setting.today)
    prepared = prepare(made.at.inputs, on, made.parts) if made.parts is not None else None
    filled, labels = made.at.bench.filled, printed_labels(rows, made.at.bench)
    found = made.findings + differences(made, on) + (reconciliation(filled, labels) if filled else ())
    found += outdated_findings(old, [replace(row, code=batch.code) for row in rows])
    prints = tuple(replace(row, code=batch.code, file=shown_path(folder / row.file, setting.cwd),
                           superseded=row.superseded or row.number in old) for row in rows)
    at = made.at
    changes = history(at.inputs.formula.rows, batch.size_g, at.log, at.step_g)
    against = reasons(judged(made, setting)) if batch.state == "open" and complete(at.bench) else ()
    return ShownBatch(made, prints, prepared, accounts(filled, labels), found, changes, decisions, against)
