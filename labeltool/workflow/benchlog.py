"""The bench of a batch out of the record: what was entered, folded over what the batch froze."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from labeltool.batch.bench import fold, from_record, to_record
from labeltool.batch.model import Bench, Entry, Logged
from labeltool.batch.readings import PH
from labeltool.codec import to_plain
from labeltool.errors import machine_error
from labeltool.formula.model import Formula, Material, Span
from labeltool.records.model import Batch, Event
from labeltool.records.store import Store
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.plain import stored
from labeltool.workflow.shelf import Brought

BENCH = "bench"


@dataclass(frozen=True, slots=True)
class OnBench:
    """A batch at the bench: what it froze and what came in since, and the log folded to its state."""

    batch: Batch
    inputs: Inputs
    log: tuple[Logged, ...]
    bench: Bench
    materials: dict[str, Material] = field(default_factory=dict)
    made_here: dict[str, Formula] = field(default_factory=dict)

    @property
    def without_lot(self) -> frozenset[str]:
        """The materials of which no lot is asked."""
        return frozenset(key for key, item in self.materials.items() if not item.lots)

    @property
    def step_g(self) -> Decimal:
        """One step of the balance."""
        return self.inputs.workshop.batch.balance_g

    @property
    def ranges(self) -> dict[str, Span]:
        """What the last readings must keep, by name."""
        span = self.inputs.formula.product.ph
        return {PH: span} if span else {}

    @property
    def tolerance(self) -> str:
        """The workshop's tolerance, as written."""
        return self.inputs.workshop.batch.tolerance


def on_bench(batch: Batch, store: Store, inputs: Inputs | None = None, until: int | None = None) -> OnBench:
    """The batch as it stands on the bench. `inputs`: those to fold over, else what the record froze.

    `until`: as it stood before the event of that number.
    """
    found: Inputs = inputs or stored(Inputs, batch.frozen, f"batch {batch.code}")
    events = tuple(event for event in store.events(batch.code, BENCH) if until is None or event.number < until)
    brought = [stored(Brought, event.data["brought"], "materials") for event in events if event.data.get("brought")]
    log = logged(events)
    materials = {key: item for one in brought for key, item in one.materials} | found.by_key
    made_here = {key: item for one in brought for key, item in one.made_here} | dict(found.made_here)
    bench = folded(found, batch.size_g, log)
    return OnBench(batch, found, log, bench, materials, made_here)


def folded(inputs: Inputs, size_g: Decimal | None, log: Sequence[Logged]) -> Bench:
    """The bench that a log leaves over the inputs' formula."""
    return fold(inputs.formula.rows, size_g, log, inputs.workshop.batch.balance_g)


def logged(events: Iterable[Event]) -> tuple[Logged, ...]:
    """The entries of bench events. Raises MachineError where one cannot be read."""
    return tuple(Logged(_entry(event), event.at, event.by) for event in events)


def _entry(event: Event) -> Entry:
    try:
        return from_record(event.data["entry"])
    except (ValueError, TypeError, KeyError) as error:
        raise machine_error("record.value", f"event {event.number}, an entry of the bench, cannot be read: {error}",
                            do="run labeltool records check") from error


def body(entry: Entry, brought: Brought | None) -> Any:
    """An entry as the record keeps it."""
    return {"entry": to_record(entry), "brought": to_plain(brought) if brought else None}


def all_weighed(store: Store, lots: Iterable[str] | None = None) -> dict[str, Bench]:
    """What was weighed for every batch with a bench log, by code key; without plans, which need the formulas.

    `lots`: only those batches that weighed one of these are wanted.
    """
    if lots is None:
        found = store.events(kind=BENCH)
    else:
        keys = {str(event.batch): None for event in store.events_with(BENCH, lots)}
        found = tuple(event for key in keys for event in store.events(key, BENCH))
    by_batch: dict[str, list[Event]] = {}
    for event in found:
        by_batch.setdefault(str(event.batch), []).append(event)
    return {key: fold((), None, logged(events)) for key, events in by_batch.items()}


def uses(benches: Iterable[Bench]) -> tuple[tuple[str, str | None, Decimal], ...]:
    """(material, lot, grams) of everything weighed."""
    return tuple((item.material, item.lot, item.grams) for bench in benches for item in bench.weighed)
