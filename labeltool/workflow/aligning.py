"""The alignment page of a stock, and what two readings of it tell of a printer."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from labeltool.errors import input_error
from labeltool.finding import Finding
from labeltool.formula.load import find_workshop
from labeltool.output.align_page import align_page
from labeltool.stock.align import Point, correction_of, marks
from labeltool.stock.model import Stock
from labeltool.stock.places import places
from labeltool.stock.printers import Correction, off_page
from labeltool.workflow import layouts
from labeltool.workflow.codes import home
from labeltool.workflow.printers import store_correction
from labeltool.workflow.publish import check_target, publish
from labeltool.workflow.setting import Setting, shown_path


@dataclass(frozen=True, slots=True)
class Aligned:
    """An alignment page written, or a correction stored: then printer and correction are told."""

    stock: Stock
    file: str
    marks: tuple[Point, Point]
    printer: str | None = None
    correction: Correction | None = None
    findings: tuple[Finding, ...] = ()

    def document(self) -> dict[str, Any]:
        """The JSON object of `stock align`."""
        known = {} if self.correction is None else {
            "nudge": list(self.correction.nudge_mm), "scale": list(self.correction.scale)}
        return {"stock": self.stock.name, "file": self.file, "marks": [list(mark) for mark in self.marks],
                "printer": self.printer, **known, "problems": [item.as_json() for item in self.findings]}


def write_align_page(name: str, output: Path | None, setting: Setting) -> Aligned:
    """Write the page: to -o, else align-NAME.pdf in the workshop's prints folder, or here outside a workshop."""
    folder = home(setting)
    stock = layouts.stock(name, folder)
    target = setting.cwd / output if output is not None else _usual(name, folder, setting)
    check_target(target)
    publish(align_page(stock), target.parent, lambda: target, lambda _: None)
    return Aligned(stock, shown_path(target, setting.cwd), marks(stock))


def _usual(name: str, folder: Path | None, setting: Setting) -> Path:
    if folder is None:
        return setting.cwd / f"align-{name}.pdf"
    (folder / "prints").mkdir(exist_ok=True)
    return folder / "prints" / f"align-{name}.pdf"


def read_align_page(name: str, printer: str, read: tuple[Point, Point], setting: Setting) -> Aligned:
    """Store what two readings give for a printer. Raises InputError where no printer prints so."""
    folder = find_workshop(None, workshop=setting.workshop, env=setting.env, cwd=setting.cwd)
    stock = layouts.stock(name, folder)
    if not printer.strip() or not printer.isprintable() or len(printer) > 60:
        raise input_error("printer.name", f"{printer[:60]!r} is no name for a printer",
                          limit="1 to 60 printable characters")
    correction, findings = correction_of(marks(stock), read)
    spots = [(place.x_mm, place.y_mm) for place in places(stock, stock.per_page)]
    over = off_page(stock, correction, spots)
    if over > 0:
        findings += (Finding("printer.edge", "warning", f"with this correction the outer labels would be printed "
                             f"{over:.2f} mm off the page, so print refuses them",
                             do="move the paper guides of the printer, print the page again and measure again"),)
    path = store_correction(folder, printer, name, correction)
    return Aligned(stock, shown_path(path, setting.cwd), marks(stock), printer, correction, findings)
