"""Lots of raw materials out of the record, batches that serve as lots of materials made here among them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any

from labeltool.batch.lots import Inside, Lot, LotBook, LotEntry, fold_lots, from_record, lot_of_batch
from labeltool.batch.made import complete
from labeltool.coding.dates import best_before
from labeltool.errors import machine_error
from labeltool.formula.model import Material
from labeltool.records.model import Batch, Event
from labeltool.records.store import Store
from labeltool.workflow.benchlog import on_bench
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.madehere import inside
from labeltool.workflow.plain import stored

LOT = "lot"


def lot_book(
    store: Store, known: Mapping[str, str], materials: Iterable[Material], only: Collection[str] | None = None,
    until: int | None = None, within: frozenset[str] = frozenset(),
) -> LotBook:
    """All lots on record, or those of the names `only`; `materials` tells which are made here, by which formula.

    `until`: those on record before the event of that number. Batches that are named as lots bring what they were made
    of, those `within` aside: they are being looked at.
    """
    events = store.events(kind=LOT) if only is None else store.events_with(LOT, only)
    events = tuple(event for event in events if until is None or event.number < until)
    return fold_lots(map(_entry, events), known, _made_here(store, known, materials, only, within))


def _entry(event: Event) -> LotEntry:
    try:
        return from_record(event.data)
    except (ValueError, TypeError, KeyError) as error:
        raise machine_error("record.value", f"event {event.number}, a lot, cannot be read: {error}",
                            do="run labeltool records check") from error


def _made_here(
    store: Store, known: Mapping[str, str], materials: Iterable[Material], only: Collection[str] | None,
    within: frozenset[str],
) -> Iterator[Lot]:
    by_formula: dict[str, list[str]] = {}
    for material in materials:
        if material.formula is not None:
            by_formula.setdefault(material.formula, []).append(material.key)
    for batch in _batches(store, only) if by_formula else ():
        keys = dict.fromkeys(by_formula.get(batch.formula_key, ()))
        made = _inside(batch, store, known, within) if keys and only is not None else None
        for key in keys:
            yield lot_of_batch(key, batch.code, batch.made, _best_before(batch), batch.state, made)


def _inside(batch: Batch, store: Store, known: Mapping[str, str], within: frozenset[str]) -> Inside | None:
    """What a batch was made of; None while it is not weighed whole."""
    at = on_bench(batch, store)
    if batch.code in within or not complete(at.bench):
        return None
    lots = frozenset(item.lot for item in at.bench.weighed if item.lot)
    return inside(at, lot_book(store, known, at.materials.values(), lots, within=within | {batch.code}))


def _batches(store: Store, only: Collection[str] | None) -> Iterable[Batch]:
    if only is None:
        return store.batches()
    named = (store.batch(lot) for lot in sorted(only))
    return [batch for batch in named if batch is not None]


def _best_before(batch: Any) -> Any:
    inputs: Inputs = stored(Inputs, batch.frozen, f"batch {batch.code}")
    life = inputs.formula.product.shelf_life
    return best_before(batch.made, life) if life else None
