"""printers.toml of a workshop: read, chosen from, and written after a measurement."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from labeltool.errors import InputError, input_error
from labeltool.finding import Finding, Where
from labeltool.formula.document import Document, read_toml
from labeltool.formula.load import read_workshop
from labeltool.formula.report import Report
from labeltool.formula.tomllines import KeyPath
from labeltool.records.files import replacing
from labeltool.stock.model import Stock
from labeltool.stock.printerfile import header_of, line_of, with_correction
from labeltool.stock.printers import FILE, Correction, Printer, off_page, parse_printers
from labeltool.workflow.place import Laid

ALIGN = "labeltool stock align {stock}, then again with --printer {printer} and two --read, measures it"


@dataclass(frozen=True, slots=True)
class Chosen:
    """The printer of a print, None where none is named, and its correction on the stock, None where it has none."""

    printer: str | None = None
    correction: Correction | None = None
    findings: tuple[Finding, ...] = ()


def read_printers(folder: Path, cwd: Path | None = None) -> tuple[Printer, ...]:
    """The printers of a workshop; none where it has no printers.toml. Raises InputError with every fault of it."""
    path = folder / FILE
    if not path.exists():
        return ()
    report = Report()
    file = read_toml(path, cwd, report)
    if file is None:
        raise InputError(report.findings())
    printers, faults = parse_printers(file.values)
    if faults:
        raise InputError([replace(item, where=_place(item.where, file.document)) for item in faults])
    return printers


def _place(where: Where, document: Document) -> Where:
    """The line of the longest known key path that the place's key, joined by dots, stands for."""
    key = where.key or ""
    paths = [path for path in document.lines.lines if ".".join(map(str, path)) == key]
    return document.where(paths[0]) if paths else Where(document.file, _outer(key, document), key=key)


def _outer(key: str, document: Document) -> int | None:
    around: list[KeyPath] = [path for path in document.lines.lines if key.startswith(".".join(map(str, path)) + ".")]
    return document.lines.line(max(around, key=len)) if around else None


def default_printer(folder: Path) -> str | None:
    """The printer that [print] of today's workshop.toml names; None where none is, or the file cannot be read."""
    workshop, _ = read_workshop(folder)
    return workshop.print.printer if workshop is not None else None


def choose_printer(folder: Path, named: str | None, stock: Stock, before: str | None = None) -> Chosen:
    """The printer named in the call, else in [print], else the one used `before`, with its correction of today.

    Raises InputError for a printer that printers.toml does not have, and for faults of that file.
    """
    usual = default_printer(folder) if named is None else None
    printers = {item.name: item for item in read_printers(folder)}
    if named is None and usual is None and before in printers:
        usual = before
    name = named if named is not None else usual
    if name is None:
        return Chosen()
    if name not in printers:
        if named is None and not printers:
            return Chosen(name, None, (_unmeasured(name, stock),))
        raise _unknown(name, tuple(printers), stock)
    correction = printers[name].on(stock.name)
    return Chosen(name, correction, () if correction is not None else (_unmeasured(name, stock),))


def _unknown(name: str, known: Sequence[str], stock: Stock) -> InputError:
    near = difflib.get_close_matches(name[:60], known, 1, 0.4)
    where = Where(FILE)
    do = f"did you mean {near[0]}?" if near else ALIGN.format(stock=stock.name, printer=name[:60])
    return input_error("printer.unknown", f"there is no printer {name[:60]!r}", where=where, do=do,
                       limit=", ".join(known) or None)


def _unmeasured(name: str, stock: Stock) -> Finding:
    text = f"the printer {name} has no correction for {stock.name}: labels lie where the stock says"
    return Finding("printer.stock", "note", text, do=ALIGN.format(stock=stock.name, printer=name))


def corrected(laid: Laid, chosen: Chosen) -> Laid:
    """The labels with the printer's correction. Raises InputError where it would push print off the page."""
    if chosen.correction is None:
        return laid
    stock = laid.stock
    over = off_page(stock, chosen.correction, list({(place.x_mm, place.y_mm) for _, place in laid.labels}))
    if over > 0:
        raise input_error(
            "printer.off-page", f"the correction of {chosen.printer} puts print {over:.2f} mm off the page of "
            f"{stock.name}", limit=f"the safe edge of {stock.safe_mm:g} mm", where=Where(FILE),
            do="move the paper guides of the printer, and measure again with labeltool stock align",
        )
    return replace(laid, correction=chosen.correction)


def store_correction(folder: Path, printer: str, stock: str, correction: Correction) -> Path:
    """Write a correction into printers.toml, whole or not at all; all else in it stays as it is.

    Raises InputError where the file has faults, or its form leaves no sure place for the line.
    """
    path = folder / FILE
    read_printers(folder)
    data = path.read_bytes() if path.exists() else b""
    mark = b"\xef\xbb\xbf" if data.startswith(b"\xef\xbb\xbf") else b""
    text = with_correction(data[len(mark):].decode(), printer, stock, correction)
    if text is None or tomllib.loads(text) == {}:
        line = f"{header_of(printer)} with {line_of(stock, correction)}"
        raise input_error("printer.file", f"{FILE} is written in a way that cannot be changed safely",
                          where=Where(FILE), do=f"write into it: {line}")
    with replacing(path) as part:
        part.write_bytes(mark + text.encode())
    return path
