"""The hash chain: every event's text is hashed together with the hash before it. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from labeltool.records.clean import from_text, sha256_of
from labeltool.records.model import Event

GENESIS = "0" * 64
EVENT_FORMAT = 1
_KEYS = {"format", "number", "id", "kind", "batch", "nth", "by", "at", "once", "data"}


@dataclass(frozen=True, slots=True)
class Stored:
    """An event as it lies in the store: looked-up columns, the exact text that was hashed, and both hashes."""

    number: Any
    id: Any
    kind: Any
    batch: Any
    nth: Any
    once_key: Any
    once_step: Any
    body: Any
    previous: Any
    hash: Any


class Broken(ValueError):
    """An event that is not what was written; the message says how it shows."""


def link(previous: str, body: str) -> str:
    """The hash of an event: SHA-256 over the previous hash, a newline, and the event's text."""
    return sha256_of(f"{previous}\n{body}")


def proved(stored: Stored, previous: str | None = None) -> Event:
    """The event, proved against its own hash, its columns and (where given) the hash before it. Raises Broken."""
    if not isinstance(stored.body, str) or not isinstance(stored.previous, str):
        raise Broken("its text is missing")
    if link(stored.previous, stored.body) != stored.hash:
        raise Broken("its text and its hash differ")
    if previous is not None and stored.previous != previous:
        raise Broken("it does not follow the event before it")
    return _event(stored, _envelope(stored.body))


def _envelope(body: str) -> dict[str, Any]:
    try:
        found = from_text(body)
    except ValueError as error:
        raise Broken("its text is not JSON") from error
    if not isinstance(found, dict) or found.keys() != _KEYS or found["format"] != EVENT_FORMAT:
        raise Broken("its text is no event of this format")
    return found


def _event(stored: Stored, found: dict[str, Any]) -> Event:
    once = found["once"] or {}
    for name in ("number", "id", "kind", "batch", "nth"):
        if found[name] != getattr(stored, name):
            raise Broken(f"its {name} and its text differ")
    if (once.get("key"), once.get("step")) != (stored.once_key, stored.once_step):
        raise Broken("its once key and its text differ")
    names = ("number", "id", "kind", "batch", "nth", "by", "at", "data", "once")
    return Event(**{name: found[name] for name in names}, hash=stored.hash)
