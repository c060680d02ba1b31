"""Batches opened, listed and shown."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any

from labeltool.batch.reconcile import Printed
from labeltool.coding.dates import made_findings
from labeltool.coding.link import new_key
from labeltool.errors import InputError
from labeltool.finding import Finding
from labeltool.records.model import Batch, CodeTaken, Listed, Once, PrintRow
from labeltool.records.store import open_store
from labeltool.workflow.arguments import formula_path
from labeltool.workflow.codes import next_free, record_folder, record_path
from labeltool.workflow.inputs import read_inputs, refuse_set
from labeltool.workflow.opening import opening_of
from labeltool.workflow.planning import pattern_of
from labeltool.workflow.setting import Setting


def open_formula(
    formula: str, size_g: Decimal | None, made: dt.date | None, setting: Setting,
    facts: dict[str, str] | None = None,
) -> tuple[str, tuple[Finding, ...]]:
    """Open a batch of a formula; returns its code. Raises InputError with all faults of the files."""
    opened = read_inputs(formula_path(formula, setting), setting, facts)
    inputs, day = opened.inputs, made or setting.today
    refuse_set(inputs.formula, "weigh")
    found = made_findings(day, setting.today)
    if found.errors:
        raise InputError(found.errors)
    args = {"command": "batch open", "formula": inputs.formula.key, "size": str(size_g), "made": str(made),
            "facts": facts or {}}
    once = Once(setting.once, args, step="open", answer=lambda batch: {"code": batch.code}) if setting.once else None
    pattern = pattern_of(inputs)
    with open_store(record_path(opened.folder)) as store:
        while True:
            code = next_free(store, pattern, day, inputs.formula.product.code)
            opening = opening_of(inputs, pattern, code, new_key(setting.chance()), day, size_g, setting, once)
            try:
                return store.open_batch(opening).code, (*opened.findings, *found)
            except CodeTaken:
                continue


def list_batches(setting: Setting) -> list[Listed]:
    """Every batch, in the order they were opened."""
    with open_store(record_path(record_folder(setting)), create=False) as store:
        return list(store.listed())


def listed(batch: Batch, prints: tuple[PrintRow, ...]) -> Listed:
    """One batch as a row of `batch list`."""
    return Listed(batch.code, batch.product, batch.version, batch.made, batch.state, batch.by, batch.size_g,
                  sum(row.labels for row in prints), len(prints))


def short_document(item: Listed) -> dict[str, Any]:
    """A row of `batch list` as a JSON object."""
    return {
        "code": item.code, "product": item.product, "version": item.version, "made": item.made.isoformat(),
        "state": item.state, "by": item.by, "size": item.size_g, "labels": item.labels, "prints": item.prints,
    }


def print_document(row: PrintRow, counted: Sequence[Printed] = ()) -> dict[str, Any]:
    """A print as a JSON object. `counted`: what became of its labels, one entry a kind; None until somebody counted."""
    good = sum(item.good for item in counted) if any(item.counted for item in counted) else None
    return {
        "number": row.number, "pack": row.pack, "artwork": list(row.artworks), "labels": row.labels, "good": good,
        "spoiled": _sum(item.spoiled for item in counted), "left": _sum(item.left for item in counted),
        "destroyed": _sum(item.destroyed for item in counted), "skip": row.skip,
        "stock": (row.stock or {}).get("name"), "printer": row.printer,
        "file": row.file, "why": row.why, "at": row.at, "sha256": row.sha256, "superseded": row.superseded,
        "reset": row.reset, "unreleased": (row.extra or {}).get("unreleased"),
    } | ({"label": row.label} if row.label is not None else {})


def _sum(counts: Iterable[int | None]) -> int | None:
    known = [count for count in counts if count is not None]
    return sum(known) if known else None
