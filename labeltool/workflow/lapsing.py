"""What comes to the bench after the decision: it lapses a release, and of a batch taken back only corrections come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from labeltool.batch.history import change, told
from labeltool.batch.model import Bench, Correction, Counted, Entry, Logged, Note, Reading, Size, Weighing
from labeltool.finding import Finding
from labeltool.records.model import STATE, Batch
from labeltool.records.store import Store

TAKEN_BACK = ("withdrawn", "recalled", "cancelled")


def refused(batch: Batch, entries: Iterable[Entry]) -> Iterator[Finding]:
    """An error for a batch that was taken back, where something new comes: only notes, counts, corrections do."""
    new = [entry for entry in entries if not isinstance(entry, Note | Counted | Correction)]
    if new and batch.state in TAKEN_BACK:
        text = f"batch {batch.code} is {batch.state}: nothing new is entered for it"
        limit = "notes, counts of its labels, and corrections with their reason"
        do = "--note TEXT, or --correct LINE=GRAMS@LOT --why TEXT"
        yield Finding("batch.closed", "error", text, limit=limit, do=do)


def judged_again(bench: Bench, entries: Iterable[Entry], ranges: Iterable[str]) -> tuple[str, ...]:
    """What of the entries a release was held against, in words: masses, lots, the size, readings with a range."""
    found = []
    for entry in entries:
        inner = entry.entry if isinstance(entry, Correction) else entry
        if isinstance(inner, Weighing | Size) or (isinstance(inner, Reading) and inner.name in ranges):
            found.append(str(change(bench, Logged(entry, ""))) if isinstance(entry, Correction) else told(entry))
    return tuple(found)


def lapsed(batch: Batch, changes: tuple[str, ...], store: Store) -> Finding:
    """A warning that a release is no longer one: who released, what changed, how many labels were printed before."""
    by = next((event.by for event in reversed(store.events(batch.code, STATE))), None)
    rows = store.outlines_of(batch.code_key)
    labels = f"; {sum(row.labels for row in rows)} labels were printed before" if rows else ""
    text = (f"batch {batch.code} was released{f' by {by}' if by else ''} on {batch.since[:10]}, and is open again, as "
            f"this changed: {'; '.join(changes)}{labels}")
    do = f"look at it again, and where it holds: labeltool batch release {batch.code} --by NAME"
    return Finding("bench.lapsed", "warning", text, do=do)


def late(batch: Batch, entries: Iterable[Entry]) -> Iterator[Finding]:
    """A warning where corrections come to a batch that was taken back."""
    if batch.state in TAKEN_BACK and any(isinstance(entry, Correction) for entry in entries):
        why = f" ({batch.why})" if batch.why else ""
        text = f"batch {batch.code} is {batch.state}{why}: the correction goes on record, and it stays {batch.state}"
        yield Finding("bench.late", "warning", text, do=f"look at it: labeltool batch show {batch.code}")
