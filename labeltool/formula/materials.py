"""materials.toml: raw materials, and what each one is made of."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from labeltool.finding import Findings, Where
from labeltool.formula.components import allergens, components, only_component
from labeltool.formula.document import TomlFile, read_toml
from labeltool.formula.files import is_there, shown_path
from labeltool.formula.model import INLINE, Component, Material
from labeltool.formula.quantities import shown
from labeltool.formula.report import Report
from labeltool.formula.schema import COMPONENT, MATERIAL, check_keys, home_of
from labeltool.formula.table import Table
from labeltool.formula.values import fold, kind

NAME: Final = "materials.toml"
_OF_COMPONENT = ("colorant", "nano", "names", "purpose")
_NOT_MADE_HERE = ("inci", "made-of", "as-made", "fragrance", "allergens", *_OF_COMPONENT)


@dataclass(frozen=True, slots=True)
class Shelf:
    """All materials of a workshop. `keys` holds the faulty ones too, `former` the keys of before with today's.

    `readable` is False where materials.toml could not be read at all, so that nothing is known to be unknown.
    """

    materials: dict[str, Material] = field(default_factory=dict)
    keys: frozenset[str] = frozenset()
    former: dict[str, str] = field(default_factory=dict)
    readable: bool = True

    def current(self, key: str) -> str | None:
        """Today's key of a material, also where a former one is asked for; None where there is none."""
        return key if key in self.keys else self.former.get(key)


def read_materials(folder: Path, *, cwd: Path | None = None) -> tuple[dict[str, Material], Findings]:
    """The materials of a workshop folder by key, those with faults left out; places are relative to `cwd`."""
    report = Report()
    shelf, _ = read_shelf(folder, cwd, report)
    return shelf.materials, report.findings()


def read_shelf(folder: Path, cwd: Path | None, report: Report) -> tuple[Shelf, TomlFile | None]:
    """All materials of a workshop folder; faults go to the report. Without a materials.toml there are none."""
    for other in ("materials.csv", "materials.xlsx"):
        if is_there(folder / other):
            name = shown_path(folder / other, cwd)
            report.note("materials.sheet", f"{name} is not read: materials stand in {NAME}", Where(name))
    path = folder / NAME
    if not is_there(path):
        return Shelf(), None
    file = read_toml(path, cwd, report)
    return (shelf_of(file, report), file) if file else (Shelf(readable=False), None)


def shelf_of(file: TomlFile, report: Report) -> Shelf:
    """The materials that a file describes."""
    top = Table(file.values, file.document, report)
    found: dict[str, Material] = {}
    for key, value in top.values.items():
        if not isinstance(value, dict):
            _no_material(top, key, value)
        elif (material := _material(top, key, value)) is not None:
            found[key] = material
    return Shelf(found, frozenset(top.values), _former(top))


def _no_material(top: Table, key: str, value: object) -> None:
    home = home_of(key, NAME, "")
    do = f"it belongs in {home}" if home else "a material is a table: [its-key], and below it name and inci or made-of"
    top.report.error("key.misplaced" if home else "value.type", f"{shown(key)} is {kind(value)}, not a material",
                     top.where(key), do=do)


def _material(top: Table, key: str, value: dict[str, object]) -> Material | None:
    table = Table(value, top.document, top.report, (key,))
    count = top.report.count
    if not key.strip() or key != key.strip() or key.startswith(INLINE) or len(key) > 100:
        top.report.error("material.key", f"{shown(key)} cannot be a material's key", table.where(),
                         limit=f'1 to 100 characters, no space at the ends, not beginning with "{INLINE}"')
    check_keys(table, NAME, MATERIAL)
    made_of = _composition(table)
    material = Material(
        key=key,
        name=table.text("name") or key,
        made_of=made_of,
        as_made=components(table, "as-made"),
        fragrance=table.flag("fragrance", False),
        allergens=allergens(table),
        source=table.text("source"),
        was=table.texts("was"),
        lots=table.flag("lots", True),
        formula=_formula(table),
        where=table.where(),
    )
    return None if top.report.failed_since(count) else material


def _composition(table: Table) -> tuple[Component, ...]:
    ways = [key for key in ("inci", "made-of", "formula") if table.has(key)]
    if not ways:
        table.report.error("material.empty", f"{table.path[-1]} says nothing of what it is made of", table.where(),
                           limit="inci, made-of or formula", do='write inci = "…" for a single substance')
    if len(ways) > 1:
        table.report.error("material.both", f"{table.path[-1]} gives {' and '.join(ways)}", table.where(ways[1]),
                           limit="one of inci, made-of, formula")
        return ()
    if ways == ["made-of"]:
        _refuse(table, _OF_COMPONENT, f"it belongs in {COMPONENT}")
        return components(table, "made-of")
    if ways == ["formula"]:
        _refuse(table, _NOT_MADE_HERE, "the formula's own materials say it")
    return only_component(table) if ways == ["inci"] else ()


def _refuse(table: Table, keys: tuple[str, ...], do: str) -> None:
    for key in keys:
        if table.has(key):
            table.report.error("key.misplaced", f"{key} stands in {table.path[-1]} itself", table.where(key), do=do)


def _formula(table: Table) -> str | None:
    name = table.text("formula")
    if name and (any(mark in name for mark in "/\\:") or name.startswith(".")):
        table.report.error("material.formula", f"formula {shown(name)} is no formula's name", table.where("formula"),
                           limit="the name of a file in formulas/, without its ending")
    return name


def _former(top: Table) -> dict[str, str]:
    """Former keys with today's, those of faulty materials too."""
    former: dict[str, str] = {}
    for key, value in top.values.items():
        was = value.get("was") if isinstance(value, dict) else None
        for old in was if isinstance(was, list) else ():
            if isinstance(old, str):
                _report_clash(top, key, fold(old), former)
                former.setdefault(fold(old), key)
    return former


def _report_clash(top: Table, key: str, old: str, former: dict[str, str]) -> None:
    if old in top.values:
        fault = "a material has it today"
    elif old in former:
        fault = f"it is one of {former[old]}"
    else:
        return
    top.report.error("material.was", f"{shown(old)} cannot be a former key of {key}: {fault}",
                     top.where(key, "was"), do="leave it out")
