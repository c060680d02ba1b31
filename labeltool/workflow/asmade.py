"""What a batch was made of, for its label: the weighed masses once every planned row is weighed, the formula before."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from labeltool.batch.counting import FATES
from labeltool.batch.lots import LotBook
from labeltool.batch.made import complete, partly, shortened
from labeltool.batch.model import Bench, PlanRow
from labeltool.batch.reconcile import Printed, to_print
from labeltool.batch.release import last_reading
from labeltool.coding.dates import best_before
from labeltool.compose.parts import Part, parts_of, parts_of_masses
from labeltool.finding import Finding, Findings
from labeltool.records.model import Batch, PrintRow
from labeltool.records.store import Store
from labeltool.workflow.benchlog import OnBench, on_bench
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.lotbook import lot_book
from labeltool.workflow.madehere import purposes_of, settled
from labeltool.workflow.prepare import Prepared, prepare
from labeltool.workflow.setting import Setting
from labeltool.workflow.shelf import known_keys, shelf_or_none


@dataclass(frozen=True, slots=True)
class AsMade:
    """A batch as far as it was made. `parts` is None while the formula stands for it.

    `best_before` is shortened by lots that expire earlier; None without a shelf life. `printed` are the labels on
    record that a pack can still carry: those of superseded prints left out.
    """

    at: OnBench
    book: LotBook
    parts: tuple[Part, ...] | None
    best_before: dt.date | None
    findings: Findings
    printed: tuple[Printed, ...] = ()

    def to_print(self, label: str, pack: str = "") -> int | None:
        """How many of a pack's label, or of an artwork, the filled packs still need; None where nobody counted them."""
        return to_print(self.at.bench.filled, self.printed, pack, label)


def as_made(
    batch: Batch, store: Store, folder: Path, setting: Setting, inputs: Inputs | None = None, until: int | None = None,
) -> AsMade:
    """What the record knows of the making of a batch.

    `inputs`: those that will be frozen, where not the record's. `until`: what it knew before the event of that number.
    """
    at = on_bench(batch, store, inputs, until)
    shelf = shelf_or_none(folder, setting)
    known = known_keys(shelf, at.materials.values())
    book = lot_book(store, known, (*shelf.materials.values(), *at.materials.values()), lots_of(at), until)
    day, notes = best_before_of(at, book)
    made = parts(at, book) if complete(at.bench) else None
    rows = [row for row in store.prints(batch.code) if not row.superseded]
    return AsMade(at, book, made, day, partly(at.bench) + notes, printed_labels(rows, at.bench))


def lots_of(at: OnBench) -> frozenset[str]:
    """The names of the lots that were weighed."""
    return frozenset(item.lot for item in at.bench.weighed if item.lot)


def best_before_of(at: OnBench, book: LotBook) -> tuple[dt.date | None, Findings]:
    """The batch's best before, shortened by lots that expire earlier; None without a shelf life."""
    life = at.inputs.formula.product.shelf_life
    if life is None:
        return None, Findings()
    return shortened(best_before(at.batch.made, life), at.bench, book.date_of)


def parts(at: OnBench, book: LotBook) -> tuple[Part, ...]:
    """What was weighed, as parts; rows "to pH" that may still be needed stay declared, up to what the formula says."""
    masses, materials, made_here = settled(at, book)
    found = parts_of_masses(masses, materials, made_here, purposes_of(at))
    return (*found, *_not_yet(at))


def _not_yet(at: OnBench) -> tuple[Part, ...]:
    lines = {row.line for row in to_come(at)}
    rows = tuple(row for row in at.inputs.formula.rows if row.line in lines)
    return parts_of(replace(at.inputs.formula, rows=rows), at.materials, at.made_here)


def to_come(at: OnBench) -> tuple[PlanRow, ...]:
    """The rows "to pH" that nothing was added of and whose pH nobody has read in range."""
    span, last = at.inputs.formula.product.ph, last_reading(at.bench, "ph")
    if last is not None and (span is None or span.low <= last.value <= span.high):
        return ()
    return tuple(row for row in at.bench.plan if row.kind == "to-ph" and not at.bench.on_line(row.line))


def labels_of(row: PrintRow) -> dict[str, int]:
    """How many labels of each kind a print holds, by the name of the pack's label, or of the artwork."""
    names = (row.label,) if row.label and len(row.artworks) == 1 else row.artworks
    counts = (row.extra or {}).get("counts") or [row.labels // len(row.artworks)] * len(row.artworks)
    return dict(zip(names, counts, strict=False))


def printed_labels(rows: Iterable[PrintRow], bench: Bench) -> tuple[Printed, ...]:
    """The labels of prints and what became of them, one entry a print and kind."""
    return tuple(
        Printed(row.pack, label, count, *(bench.count(row.number, label, fate) for fate in FATES))
        for row in rows for label, count in labels_of(row).items()
    )


def differences(made: AsMade, on: dt.date) -> Findings:
    """Warnings where the list of what was made is not the formula's: other names, or another order."""
    if made.parts is None:
        return Findings()
    planned, really = prepare(made.at.inputs, on), prepare(made.at.inputs, on, made.parts)
    return Findings(tuple(_differences(planned, really)))


def _differences(planned: Prepared, really: Prepared) -> Iterator[Finding]:
    before, after = planned.declaration.joint.names, really.declaration.joint.names
    new = [name for name in after if name not in before]
    gone = [name for name in before if name not in after]
    do = "look at the new list: the assessment and the notification were made for the formula's"
    if new:
        yield Finding("made.new", "warning", f"in the batch and not in the formula: {', '.join(new)}", do=do)
    if gone:
        yield Finding("made.gone", "warning", f"in the formula and not in the batch: {', '.join(gone)}", do=do)
    yield from _moved(planned, really, do)


def _moved(planned: Prepared, really: Prepared, do: str) -> Iterator[Finding]:
    """Another order: a warning where the law fixes it, a note among what is below 1 %, where it is free."""
    before, after = planned.declaration.joint.names, really.declaration.joint.names
    kept_before = [name for name in before if name in after]
    kept_after = [name for name in after if name in before]
    moved = next(((one, other) for one, other in zip(kept_after, kept_before, strict=True) if one != other), None)
    if moved is None:
        return
    text = f"the weighed masses change the order of the list: {moved[0]} now before {moved[1]}"
    if _main(planned) != _main(really):
        yield Finding("made.order", "warning", text, do=do)
    else:
        yield Finding("made.order", "note", f"{text}, below 1 %, where the order is free")


def _main(prepared: Prepared) -> list[str]:
    """What stands in the order of its weight, in that order."""
    return [item.inci for item in prepared.declaration.lines if item.group == "main"]
