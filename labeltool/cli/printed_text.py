"""What a print or reprint tells when it is done: the file, the batch, the next free place, the next command."""

from __future__ import annotations

from typing import Any

from labeltool.cli.output import say, show, tell
from labeltool.finding import Finding
from labeltool.workflow.calls import Printed


def show_printed(item: Any, told: set[Finding] | None = None) -> None:
    """The outcome as text; a stored first answer (a dict) is told as such. `told`: what was said of files before."""
    if isinstance(item, dict):
        say(f"already done: batch {item['code']}, {item['labels']} label(s), {item['file']}")
        return
    show(one for one in item.problems if told is None or one not in told)
    if told is not None:
        told.update(item.problems)
    _show(item)


def _show(item: Printed) -> None:
    artworks = f"artwork {' and '.join(item.artworks)}"
    if item.pack:
        artworks = f"{' and '.join(item.labels_of) or artworks} of the pack {item.pack}"
    pages = f"{item.sheets} sheet(s)" if item.per_page > 1 else f"{item.sheets} page(s)"
    batch = f"batch {item.code}" if item.number else f"draft of batch {item.code}, off the record"
    say(f"{item.product}: {batch}, made {item.made}")
    say(f"  {item.labels} label(s), {artworks}, on {pages} of {item.stock}: {item.file}")
    say(f"  running text {item.x_height_mm:.2f} mm x-height; QR: {item.qr}")
    if item.grade:
        say(f"  {item.grade}")
    if item.leaflet:
        say(f"  leaflets, one for each container, four a sheet or one a page: {item.leaflet}")
    if item.best_before:
        say(f"  best before: {item.best_before}")
    if item.preview:
        say(f"  preview: {item.preview}")
    _free_place(item)
    if item.number:
        tell("print at 100 %, scaling off; look at the first sheet before you print the rest")
        say(f"next: labeltool verify {item.file}")


def _free_place(item: Printed) -> None:
    if item.per_page <= 1:
        return
    if item.next_skip >= item.per_page:
        say("  the last sheet is full")
    else:
        options = f"--stock {item.stock} --skip {item.next_skip}"
        say(f"  next free place on the last sheet: {item.next_skip + 1} of {item.per_page}: {options}")
