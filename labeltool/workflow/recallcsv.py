"""The recall sheet as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from labeltool.batch.sheet import guarded
from labeltool.batch.trace import Trace

COLUMNS = ("term", "kind", "code", "product", "made", "state", "grams", "labels", "prints")


def recall_csv(found: Iterable[Trace]) -> str:
    """One row a batch and reading of the term; no cell that a spreadsheet would take for a formula."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS)
    for item in found:
        for one in item.batches:
            batch = one.batch
            mass = "" if one.grams is None else f"{one.grams:f}"
            cells = (item.term, item.kind, batch.code, batch.product, batch.made, batch.state, mass)
            writer.writerow([*map(guarded, cells), batch.labels, batch.prints])
    return stream.getvalue()
