"""From a formula's rows to the materials they name, those made here with their own formulas."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path

from labeltool.formula.components import WHOLE
from labeltool.formula.files import Data
from labeltool.formula.formula_file import FormulaFile, formula_at
from labeltool.formula.materials import Shelf
from labeltool.formula.model import INLINE, Component, Formula, Material, Row
from labeltool.formula.pairing import formula_names, formula_path
from labeltool.formula.quantities import shown
from labeltool.formula.report import Report

MOST_DEEP = 20


@dataclass(slots=True)
class Resolver:
    """Looks up the materials of formulas; collects what they need, each file read once."""

    folder: Path
    shelf: Shelf
    cwd: Path
    report: Report
    materials: dict[str, Material] = field(default_factory=dict)
    made_here: dict[str, Formula] = field(default_factory=dict)
    files: list[Data] = field(default_factory=list)
    _read: dict[str, Formula | None] = field(default_factory=dict)

    def resolve(self, read: FormulaFile, path: Path) -> Formula | None:
        """The formula with today's keys in its rows, its materials and those below collected; None where it has faults.

        The materials of a faulty formula are looked up all the same.
        """
        return self._resolve(read, (_identity(path),))

    def _resolve(self, read: FormulaFile, chain: tuple[str, ...]) -> Formula | None:
        self.files += read.files
        rows = tuple(self._row(row, chain) for row in read.rows)
        return replace(read.formula, rows=rows) if read.formula else None

    def _row(self, row: Row, chain: tuple[str, ...]) -> Row:
        if row.material.startswith(INLINE):
            self.materials.setdefault(row.material, _inline(row))
            return row
        key = self.shelf.current(row.material)
        if key is None:
            self._report_unknown(row)
            return row
        material = self.shelf.materials.get(key)
        if material is not None and key not in self.materials:
            self.materials[key] = material
        if material is not None and material.formula is not None:
            self._made_here(material, material.formula, chain)
        return row if key == row.material else replace(row, material=key)

    def _report_unknown(self, row: Row) -> None:
        if not self.shelf.readable:
            return
        known = (*self.shelf.keys, *self.shelf.former)
        do = self.report.did_you_mean(row.material, sorted(known))
        if not known:
            do = 'describe it in materials.toml, or write inci = "…" instead'
        self.report.error("material.unknown", f"{shown(row.material)} is no material", row.where,
                          limit="a key of materials.toml", do=do)

    def _made_here(self, material: Material, name: str, chain: tuple[str, ...]) -> None:
        home = _identity(self.folder / "formulas" / name)
        if home in chain:
            ring = " → ".join(Path(item).name for item in (*chain[chain.index(home):], home))
            self.report.error("material.circular", f"{material.key} is made of itself: {ring}", material.where,
                              do="give one of these formulas another material")
        elif len(chain) > MOST_DEEP:
            self.report.error("material.deep", f"{material.key} is made here of materials made here, more than "
                              f"{MOST_DEEP} deep", material.where)
        elif material.key not in self.made_here:
            formula = self._formula(material, name, (*chain, home))
            if formula is not None:
                self.made_here[material.key] = formula

    def _formula(self, material: Material, name: str, chain: tuple[str, ...]) -> Formula | None:
        if name not in self._read:
            self._read[name] = None
            path = formula_path(self.folder, name)
            if path is None:
                do = self.report.did_you_mean(name, formula_names(self.folder))
                self.report.error("material.formula", f"formulas/ holds no formula {shown(name)}", material.where,
                                  do=do)
                return None
            self._read[name] = self._resolve(formula_at(path, self.cwd, {}, self.report), chain)
        return self._read[name]


def _identity(path: Path) -> str:
    """One name for a formula, whichever of its files is meant."""
    bare = path.with_suffix("") if path.suffix.lower() in (".toml", ".csv", ".xlsx") else path
    return os.path.realpath(bare)


def _inline(row: Row) -> Material:
    name = row.material.removeprefix(INLINE)
    return Material(row.material, name, (Component(name, WHOLE, where=row.where),), lots=False, where=row.where)


def below(made_here: Mapping[str, Formula]) -> tuple[tuple[str, Formula], ...]:
    """(material key, formula) pairs in the order of the keys."""
    return tuple(sorted(made_here.items(), key=lambda pair: pair[0]))
