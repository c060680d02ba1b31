"""What comes due: best before, lots, retained samples, and how long records must be kept."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from labeltool.batch.lots import Lot
from labeltool.coding.dates import add_months

Kind = Literal["best-before", "lot", "sample", "records"]

SAMPLE_MONTHS = 12  # practice: a retained sample is kept for a year past best before
RECORD_MONTHS = 120  # Regulation (EC) No 1223/2009, Art. 11(1): ten years after the last batch was placed on the market
RECORD_MARKETS = ("EU", "UK")


@dataclass(frozen=True, slots=True)
class Dated:
    """A batch with its dates. `placed`: when it went on the market, as far as the record knows (released, or made)."""

    code: str
    product: str
    formula: str
    state: str
    made: dt.date
    placed: dt.date
    best_before: dt.date | None
    markets: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Due:
    """One thing that comes due on a day. `name` is a batch code, a lot, or a formula; `source` says why that day."""

    kind: Kind
    date: dt.date
    name: str
    text: str
    source: str
    overdue: bool = False


def due(batches: Iterable[Dated], lots: Iterable[Lot], today: dt.date, within: dt.timedelta) -> tuple[Due, ...]:
    """Everything that falls due by `today + within`, the earliest first; what has passed is marked overdue.

    Cancelled batches have no dates. A sample or record whose time has passed needs no care any more: it is told while
    it lies ahead, and on its day.
    """
    standing = [batch for batch in batches if batch.state != "cancelled"]
    last = today + within if within < dt.date.max - today else dt.date.max
    found = [*_best_before(standing), *_lots(lots), *_samples(standing), *_records(standing)]
    kept = [item for item in found if item.date <= last and (item.date >= today or item.kind in ("best-before", "lot"))]
    marked = [
        Due(item.kind, item.date, item.name, item.text, item.source, overdue=item.date < today) for item in kept
    ]
    return tuple(sorted(marked, key=lambda item: (item.date, item.kind, item.name)))


def _best_before(batches: Iterable[Dated]) -> Iterator[Due]:
    for batch in batches:
        if batch.best_before is not None:
            text = f"{batch.product}, batch {batch.code} ({batch.state}): best before"
            yield Due("best-before", batch.best_before, batch.code, text, "made date and shelf life")


def _lots(lots: Iterable[Lot]) -> Iterator[Due]:
    for lot in lots:
        if lot.expires is not None and lot.blocked is None:
            yield Due("lot", lot.expires, lot.lot, f"lot {lot.lot} of {lot.material} expires", "the supplier's date")


def _samples(batches: Iterable[Dated]) -> Iterator[Due]:
    for batch in batches:
        if batch.best_before is not None:
            text = f"{batch.product}, batch {batch.code}: retained sample kept until"
            until = add_months(batch.best_before, SAMPLE_MONTHS)
            yield Due("sample", until, batch.code, text, "common practice: a year past best before")


def _records(batches: Iterable[Dated]) -> Iterator[Due]:
    latest: dict[str, Dated] = {}
    for batch in batches:
        if set(batch.markets) & set(RECORD_MARKETS):
            before = latest.get(batch.formula)
            latest[batch.formula] = batch if before is None or batch.placed > before.placed else before
    for batch in latest.values():
        text = f"{batch.product}: records kept until ten years after its last batch, {batch.code}"
        until = add_months(batch.placed, RECORD_MONTHS)
        yield Due("records", until, batch.formula, text, "Regulation (EC) No 1223/2009, Art. 11(1)")
