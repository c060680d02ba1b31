"""One call from a formula's path to everything the maker wrote about it, every fault of all files at once."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from labeltool.finding import Findings
from labeltool.formula.document import read_toml
from labeltool.formula.files import Data
from labeltool.formula.formula_file import formula_at
from labeltool.formula.formula_file import read_formula as read_formula
from labeltool.formula.materials import read_materials as read_materials
from labeltool.formula.materials import read_shelf
from labeltool.formula.model import Formula, Material, Workshop
from labeltool.formula.place import find_workshop as find_workshop
from labeltool.formula.report import Report
from labeltool.formula.resolve import Resolver, below
from labeltool.formula.workshop import NAME, workshop_of
from labeltool.formula.workshop import read_workshop as read_workshop


@dataclass(frozen=True, slots=True)
class Loaded:
    """A formula with its workshop and the materials that it needs, those of materials made here included.

    `folder` is the workshop's, absolute. `materials` and `made_here` are (material key, value) pairs in the order of
    the keys; rows hold today's keys. `files` are (name relative to the folder, SHA-256 in hex) pairs.
    """

    folder: Path
    workshop: Workshop
    materials: tuple[tuple[str, Material], ...]
    formula: Formula
    made_here: tuple[tuple[str, Formula], ...] = ()
    files: tuple[tuple[str, str], ...] = ()


def load(
    formula: Path,
    *,
    workshop: Path | None = None,
    env: Mapping[str, str],
    cwd: Path,
    product_options: Mapping[str, str] | None = None,
) -> tuple[Loaded | None, Findings]:
    """Read a formula and all that belongs to it; None where any file has an error.

    Product facts given as options overrule the file. Raises InputError where there is no workshop folder.
    """
    path = cwd / formula
    folder = find_workshop(formula, workshop=workshop, env=env, cwd=cwd)
    report = Report()
    shop = read_toml(folder / NAME, cwd, report)
    found = workshop_of(shop, report) if shop else None
    shelf, shelf_file = read_shelf(folder, cwd, report)
    resolver = Resolver(folder, shelf, cwd, report)
    resolved = resolver.resolve(formula_at(path, cwd, product_options or {}, report), path)
    findings = _without_markets_note(report.findings(), resolved)
    if findings.errors or resolved is None or found is None or shop is None:
        return None, findings
    files = (shop.data, *((shelf_file.data,) if shelf_file else ()), *resolver.files)
    materials = tuple(sorted(resolver.materials.items(), key=lambda pair: pair[0]))
    return Loaded(folder, found, materials, resolved, below(resolver.made_here), _hashes(files, folder)), findings


def _without_markets_note(findings: Findings, formula: Formula | None) -> Findings:
    """A formula with markets of its own does not miss the workshop's."""
    if formula is None or formula.product.markets is None:
        return findings
    return Findings(tuple(item for item in findings.items if item.rule != "sale.markets"))


def _hashes(files: Iterable[Data], folder: Path) -> tuple[tuple[str, str], ...]:
    return tuple(dict.fromkeys((_relative(data.path, folder), data.sha256) for data in files))


def _relative(path: Path, folder: Path) -> str:
    try:
        return Path(os.path.relpath(path, folder)).as_posix()
    except ValueError:
        return path.name
