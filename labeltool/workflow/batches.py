"""Batches opened, listed and shown."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

from labeltool.coding.dates import made_findings
from labeltool.coding.link import new_key
from labeltool.coding.sequence import next_code
from labeltool.errors import InputError
from labeltool.finding import Finding
from labeltool.records.model import Batch, CodeTaken, Once, PrintRow
from labeltool.records.store import open_store
from labeltool.workflow.arguments import formula_path
from labeltool.workflow.codes import record_folder, record_path
from labeltool.workflow.inputs import read_inputs
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
    found = made_findings(day, setting.today)
    if found.errors:
        raise InputError(found.errors)
    args = {"command": "batch open", "formula": inputs.formula.key, "size": str(size_g), "made": str(made),
            "facts": facts or {}}
    once = Once(setting.once, args, step="open", answer=lambda batch: {"code": batch.code}) if setting.once else None
    pattern = pattern_of(inputs)
    with open_store(record_path(opened.folder)) as store:
        while True:
            code = next_code(pattern, day, inputs.formula.product.code, store.all_codes())
            opening = opening_of(inputs, pattern, code, new_key(setting.chance()), day, size_g, setting, once)
            try:
                return store.open_batch(opening).code, (*opened.findings, *found)
            except CodeTaken:
                continue


def list_batches(setting: Setting) -> list[tuple[Batch, tuple[PrintRow, ...]]]:
    """Every batch with its prints, in the order they were opened."""
    with open_store(record_path(record_folder(setting)), create=False) as store:
        return [(batch, tuple(store.prints(batch.code))) for batch in store.batches()]


def short_document(batch: Batch, prints: tuple[PrintRow, ...]) -> dict[str, Any]:
    """A batch as a row of `batch list`."""
    return {
        "code": batch.code, "product": batch.product, "version": batch.version, "made": batch.made.isoformat(),
        "state": batch.state, "by": batch.by, "size": batch.size_g, "labels": sum(row.labels for row in prints),
        "prints": len(prints),
    }


def print_document(row: PrintRow) -> dict[str, Any]:
    """A print as a JSON object."""
    return {
        "number": row.number, "pack": row.pack, "artwork": list(row.artworks), "labels": row.labels, "good": None,
        "spoiled": None, "skip": row.skip, "stock": (row.stock or {}).get("name"), "printer": row.printer,
        "file": row.file, "why": row.why, "at": row.at, "sha256": row.sha256, "superseded": row.superseded,
        "reset": row.reset,
    }
