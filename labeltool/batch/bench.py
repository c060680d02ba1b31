"""The bench log folded to the state it leaves. Nothing is overwritten: corrections replace what stands, not the log."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from labeltool.batch.model import (
    Bench,
    Correction,
    Counted,
    Entry,
    Filled,
    Logged,
    Measured,
    Note,
    Reading,
    Size,
    Weighed,
    Weighing,
    Yield,
)
from labeltool.batch.plan import STEP_G, plan
from labeltool.codec import from_plain, to_plain
from labeltool.formula.model import Row


def fold(rows: Sequence[Row], size_g: Decimal | None, log: Iterable[Logged], step_g: Decimal = STEP_G) -> Bench:
    """The bench of a batch: its formula's rows, the size it was opened with, and all that was entered, in order."""
    entries = tuple(log)
    sizes = [item.entry.grams for item in entries if isinstance(item.entry, Size)]
    size = size_g if size_g is not None else (sizes[0] if sizes else None)
    bench = Bench(size, plan(rows, size, step_g))
    for item in entries:
        bench = after(bench, item)
    return bench


def after(bench: Bench, item: Logged) -> Bench:
    """The bench after one more entry (a size excepted: it makes the plan anew, so fold again)."""
    return _STEPS[type(item.entry)](bench, item, item.entry)


def to_record(entry: Entry) -> Any:
    """An entry as plain JSON, for the record."""
    return to_plain(entry)


def from_record(plain: Any) -> Entry:
    """The entry that the record holds. Raises ValueError where it holds something else."""
    entry: Entry = from_plain(Entry, plain)  # type: ignore[arg-type]
    return entry


def _weigh(bench: Bench, item: Logged, entry: Weighing) -> Bench:
    line = entry.line if entry.line is not None else bench.next_line
    row = bench.row(line)
    weighed = Weighed(
        line, row.phase if row else "", entry.material, entry.grams, entry.lot, entry.expires, entry.note, item.at,
        item.by,
    )
    return replace(bench, weighed=(*bench.weighed, weighed))


def _read(bench: Bench, item: Logged, entry: Reading) -> Bench:
    measured = Measured(entry.name, entry.value, entry.unit, entry.celsius, item.at, item.by)
    return replace(bench, readings=(*bench.readings, measured))


def _yield(bench: Bench, item: Logged, entry: Yield) -> Bench:
    return replace(bench, yield_g=entry.grams)


def _fill(bench: Bench, item: Logged, entry: Filled) -> Bench:
    others = tuple(pair for pair in bench.filled if pair[0] != entry.pack)
    return replace(bench, filled=(*others, (entry.pack, entry.count)))


def _count(bench: Bench, item: Logged, entry: Counted) -> Bench:
    others = tuple(one for one in bench.counts if one.place != entry.place)
    return replace(bench, counts=(*others, entry))


def _note(bench: Bench, item: Logged, entry: Note) -> Bench:
    return replace(bench, notes=(*bench.notes, item))


def _size(bench: Bench, item: Logged, entry: Size) -> Bench:
    return bench


def _correct(bench: Bench, item: Logged, entry: Correction) -> Bench:
    kept = replace(bench, corrections=(*bench.corrections, item))
    instead = entry.entry
    if isinstance(instead, Weighing):
        return _weigh_again(kept, item, instead, entry.why)
    if isinstance(instead, Reading):
        last = max((place for place, one in enumerate(kept.readings) if one.name == instead.name), default=None)
        others = tuple(one for place, one in enumerate(kept.readings) if place != last)
        kept = replace(kept, readings=others)
    return after(kept, replace(item, entry=instead))


def _weigh_again(bench: Bench, item: Logged, entry: Weighing, why: str) -> Bench:
    meant = corrected(bench, entry)
    if not meant:
        return _weigh(bench, item, entry)
    first = meant[0]
    anew = replace(
        first, grams=entry.grams, lot=entry.lot or first.lot, expires=_expires(entry, first), at=item.at, by=item.by,
        note=entry.note or first.note, why=why,
        before=tuple(mass for one in meant for mass in (*one.before, one.grams)),
    )
    gone = {id(one) for one in meant[1:]}
    weighed = tuple(anew if one is first else one for one in bench.weighed if id(one) not in gone)
    return replace(bench, weighed=weighed)


def _expires(entry: Weighing, first: Weighed) -> Any:
    same_lot = entry.lot is None or entry.lot == first.lot
    return entry.expires or (first.expires if same_lot else None)


def corrected(bench: Bench, entry: Weighing) -> tuple[Weighed, ...]:
    """The weighings that a correction of a line replaces.

    Where the line holds several lots: the one without a lot that is given its lot, by its mass; those of the lot it
    names; else, of a lot that was written down wrongly, the one of the same mass.
    """
    standing = tuple(item for item in bench.on_line(entry.line or 0) if item.material == entry.material)
    of_lot = tuple(item for item in standing if item.lot == entry.lot)
    of_mass = tuple(item for item in standing if item.grams == entry.grams)
    nameless = tuple(item for item in of_mass if item.lot is None)
    if len(standing) < 2:
        return standing
    if entry.lot is not None and nameless:
        return nameless[:1]
    return of_lot or (of_mass if len(of_mass) == 1 else standing)


_STEPS: dict[type, Callable[[Bench, Logged, Any], Bench]] = {
    Weighing: _weigh, Reading: _read, Yield: _yield, Filled: _fill, Counted: _count, Note: _note,
    Size: _size, Correction: _correct,
}
