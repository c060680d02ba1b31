"""Today's materials: which keys are known, and what a material that a batch did not freeze brings with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from labeltool.errors import InputError
from labeltool.formula.formula_file import FormulaFile
from labeltool.formula.materials import Shelf, read_shelf
from labeltool.formula.model import Formula, Material, Row
from labeltool.formula.report import Report
from labeltool.formula.resolve import Resolver, below
from labeltool.workflow.setting import Setting


@dataclass(frozen=True, slots=True)
class Brought:
    """Materials by key, and the formulas of those made here, that came into a batch after it was frozen."""

    materials: tuple[tuple[str, Material], ...] = ()
    made_here: tuple[tuple[str, Formula], ...] = ()


def todays_shelf(folder: Path, setting: Setting) -> Shelf:
    """The materials of the workshop. Raises InputError with every fault of materials.toml."""
    report = Report()
    shelf, _ = read_shelf(folder, setting.cwd, report)
    found = report.findings()
    if found.errors:
        raise InputError(found.items)
    return shelf


def shelf_or_none(folder: Path, setting: Setting) -> Shelf:
    """The materials as far as they can be read: what is on record does not wait for a file to be put right."""
    try:
        return read_shelf(folder, setting.cwd, Report())[0]
    except InputError:
        return Shelf(readable=False)


def known_keys(shelf: Shelf, frozen: Iterable[Material] = ()) -> dict[str, str]:
    """Every key that names a material, former ones too, with today's key."""
    known: dict[str, str] = {}
    for material in frozen:
        known |= dict.fromkeys(material.was, material.key) | {material.key: material.key}
    return known | shelf.former | {key: key for key in shelf.materials}


def bring(key: str, shelf: Shelf, folder: Path, setting: Setting) -> Brought:
    """What a material needs that a batch did not freeze. Raises InputError where its files have faults."""
    report = Report()
    resolver = Resolver(folder, shelf, setting.cwd, report)
    resolver.resolve(FormulaFile(None, (Row(1, key, "amount", Decimal(100)),)), folder)
    found = report.findings()
    if found.errors:
        raise InputError(found.items)
    return Brought(tuple(sorted(resolver.materials.items())), below(resolver.made_here))
