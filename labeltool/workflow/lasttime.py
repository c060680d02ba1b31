"""Labels of a batch look as its last ones did, where nothing says otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from labeltool.finding import Finding
from labeltool.formula.sizes import find_pack
from labeltool.records.model import PrintRow
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.layouts import artwork_names, stock_names


def as_last_time(
    call: PrintCall, inputs: Inputs, rows: Sequence[PrintRow], folder: Path,
) -> tuple[PrintCall, tuple[Finding, ...]]:
    """The call with stock and artwork of the batch's latest print, where neither an option nor [print] says one.

    Labels of a pack have their own; a stock or artwork whose file is gone is chosen anew. Artwork follows the stock: on
    another stock than last time the first that fits is taken. A note says what was taken.
    """
    wanted = inputs.workshop.print
    alike = [row for row in rows if row.label is None and call.pack in (None, row.pack)]
    pack = find_pack(inputs.formula, call.pack or "")
    own = pack is not None and pack.labels and not call.artworks
    if not alike or call.labels or own:
        return call, ()
    last = alike[-1]
    stock = str((last.stock or {}).get("name"))
    if call.stock is None and wanted.stock is None and stock in stock_names(folder):
        call = replace(call, stock=stock)
        taken = [f"stock {stock}"]
    else:
        taken = []
    same = (call.stock or wanted.stock) == stock
    if same and not call.artworks and not wanted.artwork and set(last.artworks) <= set(artwork_names(folder)):
        call = replace(call, artworks=last.artworks, leaflet=call.leaflet or bool((last.extra or {}).get("leaflet")))
        taken.append(f"artwork {' and '.join(last.artworks)}")
    if not taken:
        return call, ()
    text = f"{' and '.join(taken)}, as print {last.number} of this batch"
    return call, (Finding("print.as-before", "note", text, do="others: --stock and --artwork"),)
