"""The events of a batch in words, first to last."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from labeltool.batch.bench import from_record
from labeltool.batch.model import Correction, Entry, Filled, Note, Reading, Size, Weighing, Yield
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
    return f"printed {data['labels']} label(s), {', '.join(data['artworks'])}{pack}: {data['file']}{again}{_why(data)}"


def _benched(data: Mapping[str, Any]) -> str:
    return _entry(from_record(data["entry"]))


def _entry(entry: Entry) -> str:
    if isinstance(entry, Weighing):
        line = f"line {entry.line}, " if entry.line is not None else ""
        lot = f" of lot {entry.lot}" if entry.lot else ""
        return f"weighed {line}{entry.material}: {entry.grams} g{lot}{f' ({entry.note})' if entry.note else ''}"
    if isinstance(entry, Reading):
        warm = f" at {entry.celsius} °C" if entry.celsius is not None else ""
        return f"read {entry.name} {entry.value}{f' {entry.unit}' if entry.unit else ''}{warm}"
    if isinstance(entry, Correction):
        return f"corrected: {_entry(entry.entry)}; why: {entry.why}"
    return _counted(entry)


def _counted(entry: Entry) -> str:
    if isinstance(entry, Yield):
        return f"yield {entry.grams} g"
    if isinstance(entry, Filled):
        return f"filled {entry.count}{f' of {entry.pack}' if entry.pack else ''}"
    if isinstance(entry, Size):
        return f"size {entry.grams} g"
    return f"note: {entry.text}" if isinstance(entry, Note) else type(entry).__name__.lower()


def _why(data: Mapping[str, Any]) -> str:
    return f"; why: {data['why']}" if data.get("why") else ""


_KINDS: dict[str, Callable[[Mapping[str, Any]], str]] = {
    "open": _opened, "state": _state, "revise": _revised, "print": _printed, "bench": _benched,
}
