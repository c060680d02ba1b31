"""The events of a batch in words, first to last."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from labeltool.batch.bench import from_record
from labeltool.batch.history import told
from labeltool.batch.model import Correction, Note, Weighing
from labeltool.pages.model import Moment
from labeltool.records.model import Event


def moments(events: Iterable[Event]) -> tuple[Moment, ...]:
    """What happened to a batch, first to last."""
    return tuple(Moment(item.at, item.by or "", _said(item)) for item in events)


def _said(event: Event) -> str:
    say = _KINDS.get(event.kind)
    try:
        return say(event.data) if say else event.kind
    except (KeyError, ValueError, TypeError):
        return event.kind


def _opened(data: Mapping[str, Any]) -> str:
    size = f", {data['size_g']} g" if data.get("size_g") else ""
    return f"opened{size}"


def _state(data: Mapping[str, Any]) -> str:
    return f"{data['state']}{_why(data)}"


def _revised(data: Mapping[str, Any]) -> str:
    return f"words and formula frozen anew{_why(data)}"


def _printed(data: Mapping[str, Any]) -> str:
    again = f", print {data['reprint_of']} again" if data.get("reprint_of") else ""
    pack = f" for {data['pack']}" if data.get("pack") else ""
    labels = f"{data['labels']} label{'' if data['labels'] == 1 else 's'}"
    return f"printed {labels}, {', '.join(data['artworks'])}{pack}: {data['file']}{again}{_why(data)}"


def _benched(data: Mapping[str, Any]) -> str:
    entry = from_record(data["entry"])
    if isinstance(entry, Correction):
        return f"corrected: {told(entry)}; why: {entry.why}"
    if isinstance(entry, Weighing) and entry.note:
        return f"{told(entry)} ({entry.note})"
    return f"note: {entry.text}" if isinstance(entry, Note) else told(entry)


def _why(data: Mapping[str, Any]) -> str:
    return f"; why: {data['why']}" if data.get("why") else ""


_KINDS: dict[str, Callable[[Mapping[str, Any]], str]] = {
    "open": _opened, "state": _state, "revise": _revised, "print": _printed, "bench": _benched,
}
