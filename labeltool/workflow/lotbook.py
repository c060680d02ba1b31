"""Lots of raw materials out of the record, batches that serve as lots of materials made here among them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from labeltool.batch.lots import Lot, LotBook, LotEntry, fold_lots, from_record, lot_of_batch
from labeltool.coding.dates import best_before
from labeltool.errors import machine_error
from labeltool.formula.model import Material
from labeltool.records.model import Event
from labeltool.records.store import Store
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.plain import stored

LOT = "lot"


def lot_book(
    store: Store, known: Mapping[str, str], materials: Iterable[Material], more: Iterable[LotEntry] = (),
) -> LotBook:
    """All lots on record, and `more` entries after them; `materials` tells which are made here, by which formula."""
    entries = (*(_entry(event) for event in store.events(kind=LOT)), *more)
    return fold_lots(entries, known, _made_here(store, materials))


def _entry(event: Event) -> LotEntry:
    try:
        return from_record(event.data)
    except (ValueError, TypeError, KeyError) as error:
        raise machine_error("record.value", f"event {event.number}, a lot, cannot be read: {error}",
                            do="run labeltool records check") from error


def _made_here(store: Store, materials: Iterable[Material]) -> Iterator[Lot]:
    by_formula: dict[str, list[str]] = {}
    for material in materials:
        if material.formula is not None:
            by_formula.setdefault(material.formula, []).append(material.key)
    for batch in store.batches() if by_formula else ():
        for key in dict.fromkeys(by_formula.get(batch.formula_key, ())):
            yield lot_of_batch(key, batch.code, batch.made, _best_before(batch), batch.state)


def _best_before(batch: Any) -> Any:
    inputs: Inputs = stored(Inputs, batch.frozen, f"batch {batch.code}")
    life = inputs.formula.product.shelf_life
    return best_before(batch.made, life) if life else None
