"""What was corrected at the bench: what it was, what it is, why, by whom and when."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labeltool.batch.bench import after, corrected, fold
from labeltool.batch.counting import place
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
    Weighing,
    Yield,
)
from labeltool.batch.plan import STEP_G
from labeltool.formula.model import Row


@dataclass(frozen=True, slots=True)
class Change:
    """One correction in words. `line` is the weighed line, None for what is none."""

    what: str
    was: str
    now: str
    why: str
    at: str
    by: str | None
    line: int | None = None

    def __str__(self) -> str:
        return f"{self.what}: {self.now} instead of {self.was}"


def history(
    rows: Sequence[Row], size_g: Decimal | None, log: Iterable[Logged], step_g: Decimal = STEP_G,
) -> tuple[Change, ...]:
    """Every correction of a batch's log, in order; the arguments are those of `fold`."""
    entries = tuple(log)
    bench = fold(rows, size_g, (item for item in entries if isinstance(item.entry, Size)), step_g)
    found = []
    for item in entries:
        if isinstance(item.entry, Correction):
            found.append(change(bench, item))
        bench = after(bench, item)
    return tuple(found)


def change(bench: Bench, item: Logged) -> Change:
    """What a correction changes of the bench as it stands before it."""
    assert isinstance(item.entry, Correction)
    instead = item.entry.entry
    line = instead.line if isinstance(instead, Weighing) else None
    was, now = _masses(bench, instead) if isinstance(instead, Weighing) else _values(bench, instead)
    return Change(_what(instead), was or "nothing", now, item.entry.why, item.at, item.by, line)


def told(entry: Entry) -> str:
    """An entry in words, as it goes on record."""
    if isinstance(entry, Correction):
        return told(entry.entry)
    if isinstance(entry, Weighing):
        return f"{_what(entry)}: {_mass(entry.grams, entry.lot)}"
    if isinstance(entry, Reading):
        return f"{entry.name} {_value(entry)} read"
    if isinstance(entry, Size):
        return f"size {entry.grams} g"
    if isinstance(entry, Note):
        return entry.text
    return f"{_what(entry)}: {f'{entry.grams} g' if isinstance(entry, Yield) else entry.count}"


def _what(entry: Entry) -> str:
    if isinstance(entry, Weighing):
        return entry.material if entry.line is None else f"line {entry.line} {entry.material}"
    if isinstance(entry, Reading):
        return entry.name
    if isinstance(entry, Counted):
        return f"{entry.fate} of {place(entry)}"
    if isinstance(entry, Filled):
        return f"filled of {entry.pack}" if entry.pack else "filled"
    return "yield"


def _masses(bench: Bench, entry: Weighing) -> tuple[str, str]:
    """What stands on the line that a correction is about, and what will; a lot that it does not name stays."""
    meant = corrected(bench, entry)
    was = " and ".join(_mass(item.grams, item.lot) for item in meant)
    return was, _mass(entry.grams, entry.lot or (meant[0].lot if meant else None))


def _values(bench: Bench, entry: Reading | Yield | Filled | Counted) -> tuple[str, str]:
    if isinstance(entry, Reading):
        last = next((item for item in reversed(bench.readings) if item.name == entry.name), None)
        return _value(last) if last else "", _value(entry)
    if isinstance(entry, Yield):
        return "" if bench.yield_g is None else f"{bench.yield_g} g", f"{entry.grams} g"
    count = bench.count(*entry.place) if isinstance(entry, Counted) else dict(bench.filled).get(entry.pack)
    return "" if count is None else str(count), str(entry.count)


def _mass(grams: Decimal, lot: str | None) -> str:
    return f"{grams} g, lot {lot}" if lot else f"{grams} g"


def _value(item: Reading | Measured) -> str:
    at = f" at {item.celsius} °C" if item.celsius is not None else ""
    return f"{item.value}{f' {item.unit}' if item.unit else ''}{at}"
