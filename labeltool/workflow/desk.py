"""Entries held against the bench one after the other, so that all faults of a call are told before any is kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from labeltool.batch.accept import Rules, accept
from labeltool.batch.bench import after
from labeltool.batch.lots import Lot, LotBook, Received, fold_lots, overdrawn
from labeltool.batch.model import Bench, Correction, Entry, Logged, Size, Weighing
from labeltool.errors import InputError
from labeltool.finding import NOWHERE, Finding, Findings, Where
from labeltool.formula.materials import Shelf
from labeltool.formula.sizes import pack_names
from labeltool.records.store import Store
from labeltool.workflow.asmade import labels_of
from labeltool.workflow.benchlog import OnBench, all_weighed, folded, on_bench, uses
from labeltool.workflow.lotbook import lot_book
from labeltool.workflow.setting import Setting
from labeltool.workflow.shelf import Brought, bring, known_keys, shelf_or_none

_ANOTHER = "use another lot: a release is refused"


@dataclass(frozen=True, slots=True)
class Wanted:
    """Something to enter: `read` gives the entry, or what is wrong with it, from the bench as it stands by then.

    `beyond`: it comes on top of the plan.
    """

    read: Callable[[Bench], Entry | str]
    beyond: bool = False
    where: Where = NOWHERE
    rule: str = "bench.typed"


@dataclass(slots=True)
class Desk:
    """The bench while a call's entries are taken one by one."""

    at: OnBench
    bench: Bench
    book: LotBook
    rules: Rules
    shelf: Shelf
    store: Store
    folder: Path
    setting: Setting
    found: list[Finding] = field(default_factory=list)
    taken: list[tuple[Entry, Brought | None]] = field(default_factory=list)
    received: list[Received] = field(default_factory=list)

    def take(self, wanted: Wanted) -> None:
        """Accept one entry, or keep what is wrong with it."""
        entry = wanted.read(self.bench)
        if isinstance(entry, str):
            self.found.append(Finding(wanted.rule, "error", entry, wanted.where))
            return
        settled, found = accept(self.bench, entry, self.rules, beyond=wanted.beyond, where=wanted.where)
        self.found += found
        if found.errors:
            return
        weighing = _weighing(settled)
        brought = self._brought(weighing, wanted.where) if weighing else None
        if weighing is not None:
            self._lot(weighing, wanted.where)
        self.taken.append((settled, brought))
        self._fold(settled)

    def _fold(self, entry: Entry) -> None:
        logged = Logged(entry, self.setting.now())
        if isinstance(entry, Size):
            added = tuple(Logged(one, logged.at) for one, _ in self.taken)
            self.bench = folded(self.at.inputs, self.at.batch.size_g, (*self.at.log, *added))
        else:
            self.bench = after(self.bench, logged)

    def _brought(self, entry: Weighing, where: Where) -> Brought | None:
        if entry.material in self.at.materials:
            return None
        try:
            brought = bring(entry.material, self.shelf, self.folder, self.setting)
        except InputError as error:
            self.found += [replace(item, where=item.where if item.where.file else where) for item in error.findings]
            return None
        text = f"{entry.material} is not in the formula: the label will declare it"
        self.found.append(Finding("bench.new-material", "warning", text, where))
        return brought

    def _lot(self, entry: Weighing, where: Where) -> None:
        if entry.lot is None:
            return
        lot = self.book.find(entry.material, entry.lot)
        key = self.rules.known.get(entry.material, entry.material)
        material = self.shelf.materials.get(key) or self.at.materials.get(entry.material)
        if lot is None and material is not None and material.formula is not None:
            text = f"no batch {entry.lot} is on record, of which {entry.material} could be a lot"
            self.found.append(Finding("bench.lot-unknown", "warning", text, where, do="name the batch it was made as"))
        elif lot is None:
            received = Received(key, entry.lot, self.setting.today, material, entry.expires, typed=True)
            self.received.append(received)
            one = fold_lots((received,), self.book.known)
            self.book = LotBook({**self.book.by_key, **one.by_key}, self.book.known)
        else:
            self.found += self._against(lot, entry, where)

    def _against(self, lot: Lot, entry: Weighing, where: Where) -> Iterator[Finding]:
        """What speaks against using a lot that is on record."""
        name, used = f"lot {lot.lot} of {entry.material}", self.rules.used
        if lot.blocked is not None:
            yield Finding("lot.blocked", "warning", f"{name} is blocked: {lot.blocked}", where, do=_ANOTHER)
        if lot.expires and lot.expires < used and not (entry.expires and entry.expires < used):
            yield Finding("bench.expired", "warning", f"{name} expired on {lot.expires}", where, do=_ANOTHER)
        if lot.later_than(used):
            text = f"{name} was received on {lot.received}, and the batch was made on {used}"
            yield Finding("bench.lot-later", "warning", text, where, do=_ANOTHER)

    def findings(self) -> Findings:
        """Everything found, and lots of which more was weighed than came."""
        touched = {self.book.key(item.material, item.lot) for entry, _ in self.taken
                   if (item := _weighing(entry)) is not None and item.lot}
        counted = {key: lot for key, lot in self.book.by_key.items() if key in touched and lot.grams is not None}
        return Findings(tuple(self.found)) + self._overdrawn(LotBook(counted, self.book.known)) + self._new_lots()

    def _overdrawn(self, book: LotBook) -> Findings:
        if not book.by_key:
            return Findings()
        benches = all_weighed(self.store, [lot.lot for lot in book.lots]) | {self.at.batch.code_key: self.bench}
        return overdrawn(book, uses(benches.values()))

    def _new_lots(self) -> Iterator[Finding]:
        names = ", ".join(f"{item.lot} of {item.material}" for item in self.received)
        if names:
            do = "add what is known: labeltool lot receive MATERIAL LOT --expires DATE --supplier NAME"
            yield Finding("lot.received-now", "note", f"lots that were not on record are received now: {names}", do=do)


def open_desk(code: str, store: Store, folder: Path, setting: Setting) -> Desk:
    """The bench of a batch, ready to take entries."""
    batch = store.batch(code)
    assert batch is not None
    at = on_bench(batch, store)
    shelf = shelf_or_none(folder, setting)
    known = known_keys(shelf, at.materials.values())
    book = lot_book(store, known, (*shelf.materials.values(), *at.materials.values()))
    bare = at.without_lot | {key for key, item in shelf.materials.items() if not item.lots}
    rules = Rules(known, batch.made, at.tolerance, at.step_g, packs=pack_names(at.inputs.formula),
                  without_lot=frozenset(bare), ranges=at.ranges,
                  prints={row.number: labels_of(row) for row in store.outlines_of(batch.code_key)})
    return Desk(at, at.bench, book, rules, shelf, store, folder, setting)


def _weighing(entry: Entry) -> Weighing | None:
    instead = entry.entry if isinstance(entry, Correction) else entry
    return instead if isinstance(instead, Weighing) else None
