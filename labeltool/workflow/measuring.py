"""A maker's own stock made from ruler readings."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from labeltool.errors import InputError, input_error
from labeltool.finding import Finding, Where
from labeltool.formula.load import find_workshop
from labeltool.records.files import replacing
from labeltool.stock.measure import Measured, Readings, like, measured, table_of, toml_of
from labeltool.stock.model import Stock
from labeltool.stock.parse import parse_stock
from labeltool.workflow import layouts
from labeltool.workflow.setting import Setting, shown_path

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,59}")


@dataclass(frozen=True, slots=True)
class NewStock:
    """A stock written to a file: what it is, where, how far its places may be off (across, down), and notes."""

    stock: Stock
    file: str
    off_mm: tuple[float, float]
    findings: tuple[Finding, ...]


def measure_stock(name: str, readings: Readings, setting: Setting) -> NewStock:
    """Write layouts/stocks/NAME.toml in the workshop.

    Raises InputError for readings that cannot be, or a name in use.
    """
    folder = find_workshop(None, workshop=setting.workshop, env=setting.env, cwd=setting.cwd)
    _check_name(name, folder)
    found, faults = measured(readings)
    if found is None:
        raise InputError(faults)
    table = table_of(readings, found)
    stock, findings = parse_stock(name, table)
    if stock is None:
        raise InputError([replace(item, where=Where(key=item.where.key)) for item in findings])
    target = folder / "layouts" / "stocks" / f"{name}.toml"
    target.parent.mkdir(parents=True, exist_ok=True)
    with replacing(target) as part:
        part.write_text(_head(found) + toml_of(table), encoding="utf-8")
    return NewStock(stock, shown_path(target, setting.cwd), found.off, tuple(_notes(stock)))


def _check_name(name: str, folder: Path) -> None:
    if not _NAME.fullmatch(name) or name.lower().endswith(".toml"):
        raise input_error("stock.name", f"{name[:60]!r} is no name for a stock",
                          limit="letters, digits, - . and _, at most 60",
                          do="name it by its measures: a4-3x8-63.5x33.9")
    if name.lower() in {known.lower() for known in layouts.stock_names(folder)}:
        raise input_error("stock.exists", f"there is a stock {name} already, and it stays",
                          do=f"take another name; labeltool stock show {name} tells its measures")


def _head(found: Measured) -> str:
    return (f"# Measured with a ruler: the place of a label may be off by {found.off[0]:.2g} mm across and "
            f"{found.off[1]:.2g} mm down.\n"
            "# Put right what else is known of it: shape, corner, safe, face, print, dpi.\n")


def _notes(stock: Stock) -> Iterator[Finding]:
    near = like(stock, layouts.stocks(None).values())
    if near is not None:
        yield Finding("stock.like", "note", f"within what a ruler may be off, this is the built-in stock {near.name}",
                      do=f"use --stock {near.name}, whose measures are exact")
