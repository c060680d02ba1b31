"""A formula read from its file or pair of files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from labeltool.finding import Findings, Where
from labeltool.formula.balance import Balanced, balance
from labeltool.formula.container import container_of, may_contain_of
from labeltool.formula.document import Document, TomlFile, read_toml
from labeltool.formula.drafts import Draft, drafts_of
from labeltool.formula.files import Data, read_data, shown_path
from labeltool.formula.model import Formula, Product, Row
from labeltool.formula.packs import contains_of, packs_of
from labeltool.formula.pairing import Sources, sources_of
from labeltool.formula.product import FILE, OPTIONS, product_of, with_options
from labeltool.formula.quantities import shown
from labeltool.formula.report import Report
from labeltool.formula.scale import scaled
from labeltool.formula.schema import TOP, check_keys
from labeltool.formula.sheet_csv import read_csv
from labeltool.formula.sheet_rows import read_grid
from labeltool.formula.table import Table


@dataclass(frozen=True, slots=True)
class FormulaFile:
    """A formula (None with its faults reported), its rows even so, and the files it was read from."""

    formula: Formula | None
    rows: tuple[Row, ...] = ()
    files: tuple[Data, ...] = ()


@dataclass(frozen=True, slots=True)
class _Rows:
    drafts: tuple[Draft, ...] | None
    where: Where
    files: tuple[Data, ...] = ()


def read_formula(
    path: Path, *, cwd: Path | None = None, product_options: Mapping[str, str] | None = None,
) -> tuple[Formula | None, Findings]:
    """The formula of a file, or None with errors; materials are not looked up. Options overrule [product]."""
    report = Report()
    read = formula_at(path, cwd, product_options or {}, report)
    return read.formula, report.findings()


def formula_at(path: Path, cwd: Path | None, options: Mapping[str, str], report: Report) -> FormulaFile:
    """The formula of a file, faults to the report; everything is read that can be, for all faults at once."""
    count = report.count
    sources = sources_of(path, cwd, report)
    if sources is None:
        return FormulaFile(None)
    toml = read_toml(sources.toml, cwd, report) if sources.toml else None
    rows = _rows(sources, toml, cwd, report)
    files = (*((toml.data,) if toml else ()), *rows.files)
    name = shown_path(sources.main, cwd)
    top = Table(toml.values if toml else {}, toml.document if toml else Document(name), report)
    if toml is not None:
        check_keys(top, FILE, TOP)
    product = _product(top, options) if toml is not None or sources.toml is None else None
    container, may_contain = container_of(top), may_contain_of(top)
    packs, contains = packs_of(top, product), contains_of(top)
    if contains and packs:
        report.error("set.packs", "a set has one size: what it holds is named by [[contains]]", packs[0].where,
                     do="leave [[pack]] out; --artwork names its labels")
    if contains and sources.sheet is not None:
        report.error("set.ingredients", f"the set has ingredients in {shown_path(sources.sheet, cwd)}", Where(name),
                     do="move that file to another folder")
    balanced = Balanced(()) if contains else balance(rows.drafts or (), rows.where, report)
    if report.failed_since(count) or product is None or not balanced.whole:
        return FormulaFile(None, balanced.rows, files)
    formula = Formula(path.stem, product, balanced.rows, may_contain, container, balanced.total_grams, Where(name),
                      packs, contains)
    return FormulaFile(formula, balanced.rows, files)


def _product(top: Table, options: Mapping[str, str]) -> Product | None:
    for key in options:
        if key not in OPTIONS:
            top.report.error("key.unknown", f"{shown(key)} is no product fact", Where(key=f"--{key}"),
                             limit=", ".join(OPTIONS), do=top.report.did_you_mean(key, OPTIONS))
    table = top.table("product")
    if table is None and top.has("product"):
        return None
    values: Mapping[str, Any] = table.values if table is not None else {}
    known = {key: text for key, text in options.items() if key in OPTIONS}
    return product_of(with_options(values, known, top.document, top.report))


def _rows(sources: Sources, toml: TomlFile | None, cwd: Path | None, report: Report) -> _Rows:
    """The rows of whichever file holds them; in both, or in none, is a fault."""
    inside = toml is not None and "ingredient" in toml.values
    if toml is not None and inside:
        where = toml.document.where(("ingredient",))
        if sources.sheet is not None:
            sheet = shown_path(sources.sheet, cwd)
            report.error("formula.both", f"ingredients stand here and in {sheet}", where, limit="one of them",
                         do=f"delete [[ingredient]] here, or move {sheet} to another folder")
        drafts = drafts_of(Table(toml.values, toml.document, report))
        if toml.values["ingredient"] == []:
            report.error("formula.rows", "ingredient is an empty list", where, do="write a row for each material")
        return _Rows(drafts, where)
    if sources.sheet is not None:
        return _sheet_rows(sources.sheet, cwd, report)
    if toml is not None and "contains" not in toml.values:
        _report_no_rows(toml, report)
    return _Rows(None, Where())


def _report_no_rows(toml: TomlFile, report: Report) -> None:
    where = Where(toml.data.name)
    if not toml.data.content.strip():
        report.error("file.empty", f"{toml.data.name} is empty", where)
        return
    stem = toml.data.path.stem
    report.error("formula.rows", f"no [[ingredient]] stands here, and neither {stem}.csv nor {stem}.xlsx beside it",
                 where, do="write a [[ingredient]] for each material")


def _sheet_rows(path: Path, cwd: Path | None, report: Report) -> _Rows:
    data = read_data(path, cwd, report)
    if data is None:
        return _Rows(None, Where())
    where = Where(data.name)
    if path.suffix.lower() == ".csv":
        grid = read_csv(data, report)
        sheet = read_grid(grid, report) if grid else None
        return _Rows(sheet.drafts if sheet else None, where, (data,))
    from labeltool.formula.sheet_xlsx import read_xlsx  # only a spreadsheet needs its reader

    grid = read_xlsx(data, report)
    sheet = read_grid(grid, report) if grid else None
    return _Rows(scaled(sheet, where, report) if sheet else None, where, (data,))
