"""The health of a record: file, schema, chain, assets, index, and the print files that should exist."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from labeltool.errors import MachineError
from labeltool.finding import Finding, Findings, Where
from labeltool.records.assets import Assets, decoded
from labeltool.records.batches import OPEN, PRINT, REVISE
from labeltool.records.chain import GENESIS, Broken, proved
from labeltool.records.log import Log
from labeltool.records.model import Event
from labeltool.records.schema import EVERYTHING

MOST = 20
_RESTORE = "keep the file, and restore the latest good backup into an empty folder: labeltool records restore FILE"


def check(log: Log, assets: Assets, folder: Path, head: str | None = None) -> Findings:
    """Everything wrong with a store and the PDFs under `folder`.

    `head` is what an earlier backup or export printed: without it, events cut off at the end cannot be noticed.
    """
    found: list[Finding] = []
    events: list[Event] = []
    try:
        with log.db.reading():
            found += _shortened(list(_file(log)))
            found += _shortened(list(_chain(log, events)))
            found += _shortened(list(_head(log, head)))
            found += _shortened(list(_index(log, events)))
            found += _shortened(list(_assets(assets, events)))
    except MachineError as error:
        found += error.findings
    return Findings((*found, *_files(events, folder)))


def _damage(rule: str, text: str) -> Finding:
    return Finding(rule, "error", text, do=_RESTORE)


def _shortened(found: list[Finding]) -> list[Finding]:
    if len(found) <= MOST:
        return found
    return [*found[:MOST], _damage("record.more", f"and {len(found) - MOST} more of the same kind")]


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


def _chain(log: Log, events: list[Event]) -> Iterator[Finding]:
    """Faults of the chain; every event that proves right is added to `events`."""
    number, previous = 0, GENESIS
    for stored in log.stored():
        number += 1
        if stored.number != number:
            yield _damage("record.chain", f"event {number} is missing: event {stored.number} stands in its place")
            number = stored.number
        try:
            events.append(proved(stored, previous))
        except Broken as error:
            yield _damage("record.chain", f"event {stored.number} has been altered: {error}")
        previous = str(stored.hash)


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


def _index(log: Log, events: list[Event]) -> Iterator[Finding]:
    names = ("code", "stem", "formula_key", "made")
    opened = {
        (event.batch, *(event.data[name] for name in names), event.number) for event in events if event.kind == OPEN
    }
    rows = set(log.db.rows("SELECT code_key, code, stem, formula, made, event FROM opened"))
    for row in sorted(opened ^ rows, key=str):
        yield _damage("record.index", f"the index of codes and the log differ at batch {row[1]}")
    counts: dict[str, int] = {}
    for event in events:
        if event.kind == PRINT:
            key = str(event.batch)
            counts[key] = counts.get(key, 0) + 1
            if event.nth != counts[key]:
                yield _damage("record.index", f"print {event.nth} of batch {key} follows print {counts[key] - 1}")


def _assets(assets: Assets, events: list[Event]) -> Iterator[Finding]:
    kept = set()
    for asset in assets.stored():
        kept.add(asset.sha256)
        if decoded(asset) is None:
            yield _damage("record.asset", f"the {asset.kind} {str(asset.sha256)[:12]} has been altered")
    for event in events:
        for name in _needs(event):
            if name not in kept:
                yield _damage("record.asset", f"event {event.number} needs {name[:12]}, which is gone")


def _needs(event: Event) -> tuple[str, ...]:
    if event.kind in (OPEN, REVISE):
        return (event.data["frozen"],)
    return (*event.data["frames"], event.data["text"]) if event.kind == PRINT else ()


def _files(events: list[Event], folder: Path) -> Iterator[Finding]:
    """PDFs that are missing or altered; where several prints name one file, the last one holds."""
    codes = {event.batch: event.data["code"] for event in events if event.kind == OPEN}
    latest = {event.data["file"]: event for event in events if event.kind == PRINT}
    for name, event in latest.items():
        finding = _print_file(folder / name, name, event, str(codes.get(event.batch, event.batch)))
        if finding is not None:
            yield finding
    for path in sorted((folder / "prints").glob("*.pdf")):
        name = path.relative_to(folder).as_posix()
        if name not in latest:
            text = f"{name} is on no record: its labels may not match any batch"
            yield Finding("record.print-unknown", "warning", text, Where(file=name), do="do not use its labels")


def _print_file(path: Path, name: str, event: Event, code: str) -> Finding | None:
    do = f"labeltool reprint {code} --print {event.nth} --why TEXT makes the labels anew"
    try:
        data: Any = path.read_bytes()
    except FileNotFoundError:
        text = f"{name}, print {event.nth} of batch {code}, is missing"
        return Finding("record.print-missing", "warning", text, Where(file=name), do=do)
    except OSError as error:
        text = f"{name} cannot be read: {error.strerror}"
        return Finding("record.print-unreadable", "warning", text, Where(file=name), do=do)
    if hashlib.sha256(data).hexdigest() != event.data["sha256"]:
        text = f"{name} is not the file that was written as print {event.nth} of batch {code}"
        return Finding("record.print-altered", "error", text, Where(file=name), do=do)
    return None
