"""Other records in the workshop folder, as a sync folder leaves them: named where they hold what this one does not."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from labeltool.errors import MachineError
from labeltool.finding import Finding, Where
from labeltool.records.log import Log
from labeltool.records.model import OPEN
from labeltool.records.opening import is_sqlite, open_existing

SHOWN = 5


def copies(log: Log) -> Iterator[Finding]:
    """A finding for each record beside this one that went on without it. Nothing is merged, nothing is dropped."""
    for path in sorted(log.db.path.parent.glob("*.sqlite*")):
        if path.name.startswith(log.db.path.name + "-") or path == log.db.path or not path.is_file():
            continue
        try:
            if is_sqlite(path):
                yield from _compared(log, path)
        except (MachineError, OSError) as error:
            if isinstance(error, OSError) or error.findings[0].rule != "record.foreign":
                text = f"{path.name} lies beside the record and cannot be read: {error}"
                yield Finding("record.copy-unreadable", "warning", text, Where(file=path.name))


def _compared(log: Log, path: Path) -> Iterator[Finding]:
    with open_existing(path) as db:
        other = Log(db)
        fork, (own_end, _), (end, _) = common(log, other), log.head(), other.head()
        if fork == end:
            return
        opened = [str(event.data["code"]) for event in other.after(fork) if event.kind == OPEN]
    twice = [code for code in opened if log.db.row("SELECT 1 FROM opened WHERE code = ?", code)]
    own = f"this record has {own_end - fork} event(s) of its own from there" if own_end > fork else (
        "this record ends there")
    text = (f"{path.name} is a record too, and holds {end - fork} event(s) from event {fork + 1} on that this one "
            f"does not; {own}")
    text += f"; batches opened there: {_some(opened)}" if opened else ""
    text += f"; given out in both: {_some(twice)}" if twice else ""
    do = ("keep both files: nothing is merged. Put the other one as records.sqlite into a copy of the workshop "
          "folder, look with labeltool batch list, and enter here what is missing")
    yield Finding("record.copy", "error", text, Where(file=path.name), do=do)


def _some(codes: list[str]) -> str:
    more = f" and {len(codes) - SHOWN} more" if len(codes) > SHOWN else ""
    return ", ".join(codes[:SHOWN]) + more


def common(log: Log, other: Log) -> int:
    """The number of the last event that two records share: equal hashes mean that all before is equal too."""
    low, high = 0, min(log.head()[0], other.head()[0])
    while low < high:
        middle = (low + high + 1) // 2
        if log.hash_of(middle) == other.hash_of(middle):
            low = middle
        else:
            high = middle - 1
    return low
