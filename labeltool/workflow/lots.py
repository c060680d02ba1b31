"""Lots of raw materials: received, listed, shown with where they went, blocked."""

from __future__ import annotations

import datetime as dt
import difflib
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labeltool.batch.lots import (
    Amended,
    Blocked,
    Lot,
    LotBook,
    LotEntry,
    Received,
    amend_findings,
    block_findings,
    from_record,
    receive_findings,
    stock,
)
from labeltool.codec import to_plain
from labeltool.errors import InputError, input_error
from labeltool.finding import Findings
from labeltool.formula.load import find_workshop, read_workshop
from labeltool.records.model import Once
from labeltool.records.store import Store, open_store
from labeltool.workflow.benchlog import all_weighed, uses
from labeltool.workflow.codes import record_folder, record_path
from labeltool.workflow.lotbook import LOT, lot_book
from labeltool.workflow.setting import Setting
from labeltool.workflow.shelf import known_keys, shelf_or_none, todays_shelf


@dataclass(frozen=True, slots=True)
class Shown:
    """A lot with what is left of it (None: nobody said how much came) and the (batch code, grams) it went into."""

    lot: Lot
    left: Decimal | None
    batches: tuple[tuple[str, Decimal], ...] = ()

    @property
    def unused(self) -> bool:
        """Whether only its name at a bench brought it on record, and no batch holds it: a slip, most likely."""
        return self.lot.typed and not self.batches


@dataclass(frozen=True, slots=True)
class LotCall:
    """The options of `lot receive`."""

    material: str
    lot: str
    expires: dt.date | None = None
    received: dt.date | None = None
    grams: Decimal | None = None
    supplier: str | None = None
    supplier_lot: str | None = None


def receive_lot(call: LotCall, setting: Setting) -> tuple[Lot, Findings]:
    """Put a lot on record, with its material's composition of today. Raises InputError with all against it."""
    folder = find_workshop(None, workshop=setting.workshop, env=setting.env, cwd=setting.cwd)
    shelf = todays_shelf(folder, setting)
    key = shelf.current(call.material)
    if key is None or key not in shelf.materials:
        near = difflib.get_close_matches(call.material, list(shelf.keys), 2, 0.5)
        do = f"did you mean {' or '.join(near)}?" if near else "add it to materials.toml first"
        raise input_error("lot.material", f"there is no material {call.material!r}", do=do)
    entry = Received(key, call.lot.strip(), call.received or setting.today, shelf.materials[key], call.expires,
                     call.grams, call.supplier, call.supplier_lot)
    args = to_plain(entry) | {"command": "lot receive", "received": str(call.received), "composition": None}
    with open_store(record_path(folder)) as store:
        known = known_keys(shelf)
        if _done(store, args, setting):
            return _found(lot_book(store, known, shelf.materials.values()), key, entry.lot), Findings()
        with store.together():
            found = receive_findings(lot_book(store, known, shelf.materials.values()), entry, setting.today)
            _append(entry, found, args, store, setting, by=_by(folder, setting))
        return _found(lot_book(store, known, shelf.materials.values()), key, entry.lot), found


def block_lot(lot: str, material: str | None, why: str, setting: Setting) -> tuple[Lot, Findings]:
    """Block a lot; batches that used it cannot be released any more. Raises InputError with all against it."""
    def wanted(one: Lot, book: LotBook) -> tuple[LotEntry, Findings]:
        entry = Blocked(one.material, one.lot, why)
        return entry, block_findings(book, entry)

    return _after(lot, material, "lot block", wanted, setting)


def correct_lot(call: LotCall, why: str, setting: Setting, *, no_date: bool = False, unblock: bool = False,
                ) -> tuple[Lot, Findings]:
    """Put right what is on record of a lot; what stood stays on record. Raises InputError with all against it."""
    def wanted(one: Lot, book: LotBook) -> tuple[LotEntry, Findings]:
        entry = Amended(one.material, one.lot, why, call.received, call.expires, call.grams, call.supplier,
                        call.supplier_lot, no_date, unblock)
        return entry, amend_findings(book, entry, setting.today)

    return _after(call.lot, call.material or None, "lot correct", wanted, setting)


def _after(lot: str, material: str | None, command: str, wanted: Callable[[Lot, LotBook], tuple[LotEntry, Findings]],
           setting: Setting) -> tuple[Lot, Findings]:
    """A lot on record after one more entry of it."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        book = _book(store, setting)
        one = _one(book, lot, material)
        entry, found = wanted(one, book)
        args = to_plain(entry) | {"command": command}
        if _done(store, args, setting):
            return one, Findings()
        with store.together():
            _append(entry, found, args, store, setting, by=_by(folder, setting))
        return _found(_book(store, setting), one.material, one.lot), found


@dataclass(frozen=True, slots=True)
class LotChange:
    """An entry of a lot's history, besides its receipt: blocked, or put right. `what`: in words."""

    what: str
    why: str
    at: str
    by: str | None


def lot_history(lot: Lot, setting: Setting) -> tuple[LotChange, ...]:
    """When a lot was blocked and put right, by whom and why, first to last."""
    with open_store(record_path(record_folder(setting)), create=False) as store:
        book = _book(store, setting)
        events = [(event, from_record(event.data)) for event in store.events_with(LOT, [lot.lot])]
    return tuple(
        LotChange(_told(entry), entry.why, event.at, event.by) for event, entry in events
        if isinstance(entry, Blocked | Amended) and book.find(entry.material, entry.lot) == lot
    )


def _told(entry: Blocked | Amended) -> str:
    """What a lot's entry says, in words."""
    if isinstance(entry, Blocked):
        return "blocked"
    said = [f"{name} {value}" for name, value in (
        ("received", entry.received), ("expires", entry.expires), ("grams", entry.grams), ("supplier", entry.supplier),
        ("supplier's lot", entry.supplier_lot)) if value is not None]
    said += ["no date"] * entry.no_date + ["not blocked any more"] * entry.unblocked
    return f"corrected: {', '.join(said)}"


def list_lots(setting: Setting) -> tuple[Shown, ...]:
    """Every lot with what is left of it, in the order they were received."""
    with open_store(record_path(record_folder(setting)), create=False) as store:
        return _shown(store, _book(store, setting))


def show_lot(lot: str, material: str | None, setting: Setting) -> Shown:
    """One lot and the batches it went into. Raises InputError where none or several have that name."""
    with open_store(record_path(record_folder(setting)), create=False) as store:
        book = _book(store, setting)
        one = _one(book, lot, material)
        return next(item for item in _shown(store, book) if item.lot == one)


def _book(store: Store, setting: Setting) -> LotBook:
    shelf = shelf_or_none(record_folder(setting), setting)
    return lot_book(store, known_keys(shelf), shelf.materials.values())


def _shown(store: Store, book: LotBook) -> tuple[Shown, ...]:
    benches = all_weighed(store)
    codes = {batch.code_key: batch.code for batch in store.batches()}
    went: dict[tuple[str, str], dict[str, Decimal]] = {}
    for batch, bench in benches.items():
        for item in bench.weighed:
            if item.grams and item.lot:
                one = went.setdefault(book.key(item.material, item.lot), {})
                one[codes[batch]] = one.get(codes[batch], Decimal(0)) + item.grams
    return tuple(
        Shown(lot, left, tuple(went.get(book.key(lot.material, lot.lot), {}).items()))
        for lot, left in stock(book, uses(benches.values()))
    )


def _one(book: LotBook, lot: str, material: str | None) -> Lot:
    wanted = book.key(material, lot)[0] if material is not None else None
    found = [item for item in book.named(lot) if wanted in (None, book.key(item.material, lot)[0])]
    if not found:
        near = difflib.get_close_matches(lot, [item.lot for item in book.lots], 3, 0.5)
        do = f"did you mean {' or '.join(dict.fromkeys(near))}?" if near else "labeltool lot list has them all"
        raise input_error("lot.unknown", f"no lot {lot} is on record", do=do)
    if len(found) > 1:
        names = ", ".join(item.material for item in found)
        raise input_error("lot.several", f"lots of that name: {names}", do="say which: --material NAME")
    return found[0]


def _found(book: LotBook, material: str, lot: str) -> Lot:
    found = book.find(material, lot)
    assert found is not None
    return found


def _append(entry: LotEntry, found: Findings, args: Any, store: Store, setting: Setting, by: str | None) -> None:
    if found.errors:
        raise InputError(found.items)
    store.append(LOT, None, to_plain(entry), by=by, at=setting.now(), once=_once(args, setting))


def _once(args: Any, setting: Setting) -> Once | None:
    return Once(setting.once, args, answer=lambda _: {"lot": args["lot"]}) if setting.once else None


def _done(store: Store, args: Any, setting: Setting) -> bool:
    known = store.answered(_once(args, setting))
    return known is not None and known.done


def _by(folder: Any, setting: Setting) -> str | None:
    workshop, _ = read_workshop(folder, cwd=setting.cwd)
    return setting.by or (workshop.record.by if workshop else None)


def lot_document(item: Shown, changes: tuple[LotChange, ...] = ()) -> dict[str, Any]:
    """A lot as a JSON object; its `changes` only where there are any."""
    lot = item.lot
    made_of = lot.composition.made_of if lot.composition else ()
    return {
        "material": lot.material, "lot": lot.lot, "received": lot.received, "expires": lot.expires, "grams": lot.grams,
        "left": item.left, "supplier": lot.supplier, "supplier-lot": lot.supplier_lot, "blocked": lot.blocked,
        "unused": item.unused,
        "made-of": [{"inci": part.inci, "percent": [part.percent.low, part.percent.high]} for part in made_of],
        "batches": [{"code": code, "grams": grams} for code, grams in item.batches],
    } | ({"changes": [{"what": one.what, "why": one.why, "at": one.at, "by": one.by} for one in changes]}
         if changes else {})
