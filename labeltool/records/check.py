"""The health of a record: file, schema, chain, assets, index, and the print files that should exist.

One walk over the events, holding none of them: a record of any size is checked in little memory.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from labeltool.errors import MachineError
from labeltool.finding import Finding, Findings
from labeltool.records import index
from labeltool.records.assets import Assets, decoded, rows_of_kept
from labeltool.records.chain import GENESIS, Broken, proved
from labeltool.records.copies import copies
from labeltool.records.log import Log
from labeltool.records.model import OPEN, PRINT, REVISE, Event
from labeltool.records.printfiles import PrintFile, file_findings, files_of
from labeltool.records.progress import Step, silent, told
from labeltool.records.schema import EVERYTHING

MOST = 20
RESTORE = "keep the file, and restore the latest good backup into an empty folder: labeltool records restore FILE"
_ANEW = "labeltool records export -o FILE, then labeltool records restore FILE in an empty folder makes it anew"


@dataclass(slots=True)
class _Seen:
    """What the walk over the events leaves: rows that the index should hold, prints a batch, the last of each file."""

    rows: Counter[str] = field(default_factory=Counter)
    prints: Counter[str] = field(default_factory=Counter)
    codes: dict[str, str] = field(default_factory=dict)
    files: dict[str, PrintFile] = field(default_factory=dict)


def check(log: Log, assets: Assets, folder: Path, head: str | None = None, step: Step = silent) -> Findings:
    """Everything wrong with a store and the PDFs under `folder`.

    `head` is what an earlier backup or export printed: without it, events cut off at the end cannot be noticed.
    """
    found: list[Finding] = []
    seen = _Seen()
    try:
        with log.db.reading():
            found += shortened(_file(log))
            found += shortened(_events(log, seen, step))
            found += shortened(_head(log, head))
            found += shortened(_assets(assets, seen, step))
            found += shortened(_surplus(log, seen))
    except MachineError as error:
        found += error.findings
    return Findings((*found, *file_findings(seen.files, folder), *_beside(log)))


def _beside(log: Log) -> tuple[Finding, ...]:
    try:
        return tuple(copies(log))
    except MachineError as error:
        return tuple(error.findings)


def _damage(rule: str, text: str, do: str = RESTORE) -> Finding:
    return Finding(rule, "error", text, do=do)


def shortened(found: Iterable[Finding]) -> Iterator[Finding]:
    """The findings, of each rule the first twenty and how many more there are."""
    kept: dict[str, list[Finding]] = {}
    more: Counter[str] = Counter()
    for item in found:
        some = kept.setdefault(item.rule, [])
        if len(some) < MOST:
            some.append(item)
        else:
            more[item.rule] += 1
    for rule, some in kept.items():
        yield from some
        if more[rule]:
            yield _damage("record.more", f"and {more[rule]} more of the same kind")


def _file(log: Log) -> Iterator[Finding]:
    for (text,) in log.db.rows("PRAGMA integrity_check(20)"):
        if text != "ok":
            yield _damage("record.damaged", f"the file is damaged: {text}")
    rows = log.db.rows("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL")
    there = {str(name): str(sql) for name, sql in rows}
    for name, sql in EVERYTHING.items():
        if name not in there:
            yield _damage("record.schema", f"{name} is missing: it guards the record")
        elif there[name] != sql:
            yield _damage("record.schema", f"{name} is not what this tool made")
    for name in sorted(there.keys() - EVERYTHING.keys()):
        if not name.startswith("sqlite_"):
            yield _damage("record.schema", f"{name} does not belong in the record")


def _events(log: Log, seen: _Seen, step: Step) -> Iterator[Finding]:
    """Faults of the chain, and of what each event that proves right needs and should have brought."""
    number, previous = 0, GENESIS
    for stored in told(log.stored(), "events", log.count_all(), step):
        number += 1
        if stored.number != number:
            yield _damage("record.chain", f"event {number} is missing: event {stored.number} stands in its place")
            number = stored.number
        try:
            yield from _event(log, proved(stored, previous), seen)
        except Broken as error:
            yield _damage("record.chain", f"event {stored.number} has been altered: {error}")
        except (KeyError, TypeError) as error:
            yield _damage("record.chain", f"event {stored.number} has been altered: its text lacks {error}")
        previous = str(stored.hash)


def _event(log: Log, event: Event, seen: _Seen) -> Iterator[Finding]:
    yield from _missing(log, index.rows_of(event), f"event {event.number}", seen)
    key = str(event.batch)
    if event.kind == OPEN:
        seen.codes[key] = event.data["code"]
    elif event.kind == PRINT:
        seen.prints[key] += 1
        for file in files_of(seen.codes.get(key, key), int(event.nth or 0), event.data):
            seen.files[file.name] = file
        if event.nth != seen.prints[key]:
            yield _damage("record.index", f"print {event.nth} of batch {key} follows print {seen.prints[key] - 1}")
    for name in _needs(event):
        if log.db.row("SELECT 1 FROM asset WHERE sha256 = ?", name) is None:
            yield _damage("record.asset", f"event {event.number} needs {name[:12]}, which is gone")


def _missing(log: Log, rows: Iterable[index.Row], of: str, seen: _Seen) -> Iterator[Finding]:
    for table, values in rows:
        seen.rows[table] += 1
        if log.db.row(index.find(table), *values) is None:
            yield _damage("record.index", f"the index and the log differ: {table} of {of}", _ANEW)


def _surplus(log: Log, seen: _Seen) -> Iterator[Finding]:
    for table in index.COLUMNS:
        row = log.db.row(f"SELECT COUNT(*) FROM {table}")
        surplus = int(row[0]) - seen.rows[table] if row else 0
        if surplus > 0:
            text = f"the index and the log differ: {table} holds {surplus} row(s) too many"
            yield _damage("record.index", text, _ANEW)


def _head(log: Log, head: str | None) -> Iterator[Finding]:
    if head is None:
        return
    number, _, digest = head.strip().partition(":")
    if not number.isdecimal() or len(digest) != len(GENESIS):
        yield Finding("record.head", "error", f"{head[:80]!r} is no head", limit="NUMBER:HASH as backup prints it")
    elif not contains(log, int(number), digest):
        text = f"the record once had event {number}, and does not hold it: it ends at event {log.head()[0]}"
        yield _damage("record.head", text)


def contains(log: Log, number: int, digest: str) -> bool:
    """Whether the chain holds that head: event `number` with that hash."""
    if number == 0:
        return digest == GENESIS
    return log.db.row("SELECT 1 FROM event WHERE number = ? AND hash = ?", number, digest) is not None


def _assets(assets: Assets, seen: _Seen, step: Step) -> Iterator[Finding]:
    for asset in told(assets.stored(), "fonts, frames and inputs", assets.count(), step):
        if decoded(asset) is None:
            yield _damage("record.asset", f"the {asset.kind} {str(asset.sha256)[:12]} has been altered")
            continue
        try:
            yield from _missing(Log(assets.db), rows_of_kept(asset), f"the inputs {asset.sha256[:12]}", seen)
        except ValueError:
            yield _damage("record.asset", f"the {asset.kind} {asset.sha256[:12]} is no JSON")


def _needs(event: Event) -> tuple[str, ...]:
    if event.kind in (OPEN, REVISE):
        return (event.data["frozen"],)
    return (*event.data["frames"], event.data["text"]) if event.kind == PRINT else ()
