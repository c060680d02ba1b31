"""The record as text: one JSON document a line, complete, for any reader in any decade.

The first line is the header, then assets, then events with the exact text that was hashed, then a line that
counts and hashes all before it. Lines end with a newline; the text is UTF-8.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

from labeltool.errors import input_error
from labeltool.records.assets import Assets, Kept, decoded
from labeltool.records.chain import GENESIS, Broken, Stored, proved
from labeltool.records.log import Log, damaged
from labeltool.records.progress import Step, silent, told

EXPORT = "labeltool record"
EXPORT_FORMAT = 1
EVENT_KEYS = ("body", "hash", "previous")


def export_lines(log: Log, assets: Assets, step: Step = silent) -> Iterator[str]:
    """The lines of an export, each with its newline; proves every event and asset on the way."""
    digest, count = hashlib.sha256(), 0
    with log.db.reading():
        for document in told(_documents(log, assets), "lines", 1 + assets.count() + log.count_all(), step):
            line = json.dumps(document, ensure_ascii=False, separators=(",", ":")) + "\n"
            digest.update(line.encode("utf-8"))
            count += 1
            yield line
    yield json.dumps({"end": {"lines": count, "sha256": digest.hexdigest()}}, separators=(",", ":")) + "\n"


def _documents(log: Log, assets: Assets) -> Iterator[dict[str, Any]]:
    number, digest = log.head()
    yield {"export": EXPORT, "format": EXPORT_FORMAT, "events": number, "head": digest}
    for kept in assets.stored():
        if decoded(kept) is None:
            raise damaged(f"asset {kept.sha256}", "its bytes and its hash differ")
        yield {"asset": asdict(kept)}
    previous = GENESIS
    for stored in log.stored():
        try:
            proved(stored, previous)
        except Broken as error:
            raise damaged(stored.number, str(error)) from error
        previous = stored.hash
        yield {"event": {name: getattr(stored, name) for name in EVENT_KEYS}}


def read_header(source: Path) -> dict[str, Any] | None:
    """The first line of an export; None where the file is something else."""
    with source.open("rb") as stream:
        return _header(stream.readline(10_000))


def _header(line: bytes) -> dict[str, Any] | None:
    try:
        found = json.loads(line)
    except ValueError:
        return None
    known = isinstance(found, dict) and found.get("export") == EXPORT
    whole = known and isinstance(found.get("events"), int) and isinstance(found.get("head"), str)
    return found if whole else None


def read_export(source: Path) -> Iterator[Kept | Stored]:
    """The assets and events of an export, as they lie there. Raises InputError where the file is cut or altered."""
    digest, count, ended = hashlib.sha256(), 0, False
    with source.open("rb") as stream:
        for count, line in enumerate(stream):
            document = _document(line, count + 1)
            if ended:
                raise _bad(count + 1, "more follows after the end")
            ended = "end" in document
            if ended and document["end"] != {"lines": count, "sha256": digest.hexdigest()}:
                raise _bad(count + 1, "its lines are not those that were written")
            digest.update(line)
            if count and not ended:
                yield _entry(document, count + 1)
    if not ended:
        raise _bad(count + 1, "the end is missing")


def _document(line: bytes, number: int) -> dict[str, Any]:
    try:
        found = json.loads(line.decode("utf-8"))
    except ValueError as error:
        raise _bad(number, "it is no JSON") from error
    if not isinstance(found, dict):
        raise _bad(number, "it is no entry of a record")
    return found


def _entry(document: dict[str, Any], number: int) -> Kept | Stored:
    try:
        if "asset" in document:
            return Kept(**document["asset"])
        return _stored(**document["event"])
    except (KeyError, TypeError, ValueError) as error:
        raise _bad(number, "it is no entry of a record") from error


def _stored(body: str, hash: str, previous: str) -> Stored:
    """An event's columns, made anew from its text; `proved` compares them afterwards."""
    found = json.loads(body)
    once = found["once"] or {}
    names = ("number", "id", "kind", "batch", "nth")
    facts = {name: found[name] for name in names}
    return Stored(
        **facts, once_key=once.get("key"), once_step=once.get("step"), body=body, previous=previous, hash=hash,
    )


def _bad(line: int, why: str) -> Exception:
    return input_error("record.source", f"line {line} of the export: {why}", do="take another export or backup")
