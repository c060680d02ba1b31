"""Where a lot, a material, an ingredient went, what went into a batch, and what comes due; read from the record."""

from __future__ import annotations

import datetime as dt
import difflib
import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labeltool.batch.due import Dated, Due, due
from labeltool.batch.lots import Lot, LotBook
from labeltool.batch.made import complete, unweighed
from labeltool.batch.trace import Trace, Traced, Use, trace
from labeltool.coding.shape import code_key
from labeltool.compose.compose import compose
from labeltool.compose.identity import PARFUM
from labeltool.compose.names import key, part_nano
from labeltool.compose.parts import Part, parts_of
from labeltool.formula.materials import Shelf
from labeltool.records.model import STATE, Batch
from labeltool.records.store import Store, open_store
from labeltool.workflow.asmade import best_before_of, lots_of, parts
from labeltool.workflow.benchlog import OnBench, on_bench
from labeltool.workflow.codes import record_folder, record_path
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.lotbook import LOT, lot_book
from labeltool.workflow.plain import stored
from labeltool.workflow.prepare import colours, markets_of, names
from labeltool.workflow.setting import Setting
from labeltool.workflow.shelf import known_keys, shelf_or_none

_COLOUR = re.compile("ci[0-9]")


@dataclass(frozen=True, slots=True)
class World:
    """Batches at their benches, their lots, and every key that ever named one of their materials."""

    batches: tuple[OnBench, ...]
    book: LotBook
    known: dict[str, str]


def trace_term(term: str, setting: Setting) -> tuple[Trace, ...]:
    """Every reading of the term that touches a batch."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        shelf = shelf_or_none(folder, setting)
        batches = candidates(term, store, shelf)
        lots = {lot for at in batches for lot in lots_of(at)}
        world = _world(batches, store, shelf, lots)
        traced = [_traced(at, world, store, term) for at in batches]
    return trace(term, traced, world.known)


def nothing_touched(term: str, setting: Setting) -> tuple[tuple[Lot, ...], list[str]]:
    """Where a term touches no batch: the lots of that name; lots, materials and codes that are spelled nearly so."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        shelf = shelf_or_none(folder, setting)
        book = lot_book(store, known_keys(shelf), shelf.materials.values())
        known = [lot.lot for lot in book.lots] + list(book.known) + list(store.all_codes())
    return book.named(term), list(dict.fromkeys(difflib.get_close_matches(term, known, 3, 0.7)))


def _world(batches: tuple[OnBench, ...], store: Store, shelf: Shelf, lots: Collection[str] | None = None) -> World:
    """`lots`: the names of those that are asked for; None for all."""
    materials = {name: item for at in batches for name, item in at.materials.items()} | shelf.materials
    known = known_keys(shelf, materials.values())
    return World(batches, lot_book(store, known, materials.values(), lots), known)


def candidates(term: str, store: Store, shelf: Shelf) -> tuple[OnBench, ...]:
    """The batches that the term could touch, by the words of the record: rather too many than too few.

    A batch that is a lot itself leads on to those it went into, a lot that holds the name to those it went into, and
    a material to its other keys, until nothing new is found. What could stand under many names is sought everywhere.
    """
    found: dict[str, OnBench] = {}
    thawed: dict[int, Inputs] = {}
    asked: set[str] = set()
    everywhere = _COLOUR.match(key(term)) is not None or key(term) == key(PARFUM)
    ahead = {term}
    while ahead:
        asked |= ahead
        batches = store.batches() if everywhere else _with(ahead, store)
        new = [on_bench(batch, store, _inputs(batch, thawed)) for batch in batches if batch.code not in found]
        found |= {at.batch.code: at for at in new}
        known = known_keys(shelf, (item for at in found.values() for item in at.materials.values()))
        ahead = {at.batch.code for at in new} | _other_keys(term, known) | _lots_that_hold(term, store)
        ahead = set() if everywhere else ahead - asked
    return tuple(found[code] for code in store.in_order(found))


def _with(words: set[str], store: Store) -> tuple[Batch, ...]:
    own = (store.batch(code) for word in words if (code := store.code_of(code_key(word))) is not None)
    return (*store.batches_with(words), *(batch for batch in own if batch is not None))


def _other_keys(term: str, known: Mapping[str, str]) -> set[str]:
    today = known.get(term, term)
    return {today} | {name for name, now in known.items() if now == today}


def _lots_that_hold(term: str, store: Store) -> set[str]:
    return {event.data["lot"] for event in store.events_with(LOT, [term])}


def _inputs(batch: Batch, thawed: dict[int, Inputs]) -> Inputs:
    """What the batch froze; batches that froze the same share it."""
    same = id(batch.frozen)
    if same not in thawed:
        thawed[same] = stored(Inputs, batch.frozen, f"batch {batch.code}")
    return thawed[same]


def _traced(at: OnBench, world: World, store: Store, term: str) -> Traced:
    batch, bench = at.batch, at.bench
    prints = store.outlines_of(batch.code_key)
    used = [Use(item.material, item.lot, item.grams) for item in bench.weighed if item.grams]
    used += [Use(row.material, None, row.grams) for row in (unweighed(bench) if batch.state != "cancelled" else ())]
    used += [Use(item.formula, item.lot, None) for item in at.inputs.held]
    weighed = sum((item.grams for item in bench.weighed), Decimal(0))
    return Traced(
        batch.code, batch.product, batch.made.isoformat(), batch.state, tuple(used), _names(at, world, term),
        weighed if complete(bench) else bench.size_g, sum(row.labels for row in prints), len(prints),
    )


def _names(at: OnBench, world: World, term: str) -> tuple[tuple[str, Decimal], ...]:
    """What the batch is made of, by name; nothing where the term is surely none of these names."""
    made = parts(at, world.book) if complete(at.bench) else parts_of(at.inputs.formula, at.materials, at.made_here)
    wanted = key(part_nano(term)[0])
    if wanted not in _said(at, made) and not wanted.startswith("ci"):
        return ()
    return tuple(_composed(at, made))


def _said(at: OnBench, made: tuple[Part, ...]) -> set[str]:
    """The keys of all names that the materials state, a perfume's own name with them; colour indices vary more."""
    found = {key(item.inci) for item in at.inputs.formula.may_contain} | {key(PARFUM)}
    for part in made:
        found |= {key(part_nano(item.inci)[0]) for item in (*part.material.made_of, *part.material.as_made)}
        found |= {key(item.name) for item in part.material.allergens}
    return found


def _composed(at: OnBench, made: tuple[Part, ...]) -> Iterator[tuple[str, Decimal]]:
    composition = compose(made, at.inputs.formula.may_contain, names(), colours())
    for item in composition.substances:
        yield item.inci, item.percent.nominal
    inside = {item.inci for item in composition.substances}
    for line in composition.lines:
        if line.inci not in inside:
            yield line.inci, line.percent.nominal


def due_within(within: dt.timedelta, setting: Setting) -> tuple[Due, ...]:
    """Everything that falls due by then, the earliest first."""
    with open_store(record_path(record_folder(setting)), create=False) as store:
        thawed: dict[int, Inputs] = {}
        batches = tuple(on_bench(batch, store, _inputs(batch, thawed)) for batch in store.batches())
        world = _world(batches, store, shelf_or_none(record_folder(setting), setting))
        released = {str(event.batch): dt.date.fromisoformat(event.at[:10])
                    for event in store.events(kind=STATE) if event.data["state"] == "released"}
    dated = [_dated(at, world.book, released.get(at.batch.code_key)) for at in world.batches]
    made_here = {at.batch.code for at in world.batches}
    lots = [lot for lot in world.book.lots if lot.lot not in made_here]
    return due(dated, lots, setting.today, within)


def _dated(at: OnBench, book: LotBook, released: dt.date | None) -> Dated:
    batch = at.batch
    return Dated(batch.code, batch.product, batch.formula_key, batch.state, batch.made, released or batch.made,
                 best_before_of(at, book)[0], markets_of(at.inputs))


def trace_document(term: str, found: tuple[Trace, ...]) -> dict[str, Any]:
    """The documented JSON object of `trace`; further readings of the term under "also"."""
    if not found:
        return {"term": term, "kind": None, "batches": []}
    return {"term": term} | _reading(found[0]) | {"also": [_reading(item) for item in found[1:]]}


def _reading(item: Trace) -> dict[str, Any]:
    return {
        "kind": item.kind,
        "batches": [
            {"code": one.batch.code, "product": one.batch.product, "made": one.batch.made, "state": one.batch.state,
             "grams": one.grams, "labels": one.batch.labels, "prints": one.batch.prints}
            for one in item.batches
        ],
    } | ({"went-in": [{"material": use.material, "lot": use.lot, "grams": use.grams} for use in item.uses]}
         if item.kind == "code" else {})


def due_document(item: Due) -> dict[str, Any]:
    """One thing that comes due, as a JSON object."""
    return {"kind": item.kind, "date": item.date, "name": item.name, "text": item.text, "source": item.source,
            "overdue": item.overdue}
