"""What a print or reprint tells when it is done: the file, the batch, the next free place, the next command."""

from __future__ import annotations

from typing import Any

from labeltool.cli.output import counted, say, show, tell
from labeltool.finding import Finding
from labeltool.workflow.calls import Printed

Told = set[tuple[str, Finding]]


def show_printed(item: Any, told: Told | None = None, *, several: bool = False) -> None:
    """The outcome as text; a stored first answer (a dict) is told as such.

    `told`: what was said of each product before; `several`: there are several products, so each note names its own.
    """
    if isinstance(item, dict):
        say(f"already done: batch {item['code']}, {counted(item['labels'], 'label')}, {item['file']}")
        return
    fresh = [one for one in item.problems if told is None or (item.product, one) not in told]
    show(fresh, item.product if several else "")
    if told is not None:
        told.update((item.product, one) for one in item.problems)
    _show(item)


def _show(item: Printed) -> None:
    artworks = f"artwork {' and '.join(item.artworks)}"
    if item.pack:
        artworks = f"{' and '.join(item.labels_of) or artworks} of the pack {item.pack}"
    pages = counted(item.sheets, "sheet") if item.per_page > 1 else counted(item.sheets, "page")
    batch = f"batch {item.code}" if item.number else f"draft of batch {item.code}, off the record"
    say(f"{item.product}: {batch}, made {item.made}")
    say(f"  {counted(item.labels, 'label')}, {artworks}, on {pages} of {item.stock}: {item.file}")
    say(f"  running text with small letters of {item.x_height_mm:.2f} mm")
    say(f"  QR code: {item.qr}" if item.symbol else "  no QR code on these labels")
    if item.grade:
        say(f"  QR code: {item.grade}")
    if item.leaflet:
        say(f"  leaflets, one for each container, to be cut: {item.leaflet}")
    if item.best_before:
        say(f"  best before: {item.best_before}{_on_label(item)}")
    if item.preview:
        say(f"  preview: {item.preview}")
    _free_place(item)
    if item.wrong:
        say("  a draft only: the errors told above stop a print for the record")
    if item.number:
        tell("print at 100 %, scaling off; look at the first sheet before you print the rest")
        say(f"next: labeltool verify {item.file}")


def _on_label(item: Printed) -> str:
    """What the label says of the date, where that is not the day itself."""
    if not item.date_on_label:
        return "; the label has the open jar instead" if item.date_on_label == "" else ""
    month = len(item.date_on_label) < len("2027-01-01")
    return f"; on the label {item.date_on_label}{', which means the end of that month' if month else ''}"


def _free_place(item: Printed) -> None:
    if item.per_page <= 1:
        return
    if item.next_skip >= item.per_page:
        say("  the last sheet is full")
    else:
        options = f"--stock {item.stock} --skip {item.next_skip}"
        say(f"  next free place on the last sheet: {item.next_skip + 1} of {item.per_page}: {options}")
