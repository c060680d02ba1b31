"""Stocks and artworks by name: the maker's own first, then the built-in ones."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from labeltool import tables
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding, Where
from labeltool.formula.document import Document, read_toml
from labeltool.formula.report import Report
from labeltool.stock.model import Stock
from labeltool.stock.parse import parse_stock
from labeltool.symbol.logo import MOST_BYTES


def stocks(workshop: Path | None) -> dict[str, Stock]:
    """Every stock by name, in order of name. Raises InputError with every fault of the maker's files."""
    files = _files("stocks", workshop)
    found: dict[str, Stock] = {}
    faults: list[Finding] = []
    for name in sorted(files):
        try:
            found[name] = _stock(name, files[name])
        except InputError as error:
            faults += error.findings
    if faults:
        raise InputError(faults)
    return found


def stock(name: str, workshop: Path | None) -> Stock:
    """The stock of a name. Raises InputError with its faults, or with the nearest names where it is unknown."""
    return _stock(name, _file("stocks", name, workshop))


def stock_names(workshop: Path | None) -> tuple[str, ...]:
    """The names of all stocks, those with faulty files too."""
    return tuple(sorted(_files("stocks", workshop)))


def artwork_names(workshop: Path | None) -> tuple[str, ...]:
    """The names of all artworks."""
    return tuple(sorted(_files("artwork", workshop)))


def artwork_table(name: str, workshop: Path | None) -> dict[str, Any]:
    """The table of an artwork's file. Raises InputError as `stock` does."""
    return _read(_file("artwork", name, workshop))[0]


def logo_bytes(artwork: str, file: str, workshop: Path | None) -> bytes:
    """The logo that lies beside an artwork's file. Raises InputError where it is not there or too large to be one."""
    path = _file("artwork", artwork, workshop).parent / file
    if not path.is_file():
        raise input_error("artwork.logo", f"{artwork}: there is no file {file} beside the artwork",
                          where=Where(str(path)), limit="an SVG or PNG", do=f"put it into {path.parent}")
    with path.open("rb") as stream:
        return stream.read(MOST_BYTES + 1)


def artwork_tables(workshop: Path | None) -> dict[str, dict[str, Any]]:
    """Every artwork's table by name, in order of name. Raises InputError with every fault of the maker's files."""
    files = _files("artwork", workshop)
    return {name: _read(files[name])[0] for name in sorted(files)}


def _stock(name: str, path: Path) -> Stock:
    table, document = _read(path)
    value, findings = parse_stock(name, table)
    if value is None:
        raise InputError(_placed(findings, document))
    return value


def _placed(findings: Iterable[Finding], document: Document) -> list[Finding]:
    """The findings with the file and line of the key that they are about."""
    return [replace(item, where=document.where((item.where.key,) if item.where.key else ())) for item in findings]


def _files(kind: str, workshop: Path | None) -> dict[str, Path]:
    folders = [tables.layout_folder() / kind, *([workshop / "layouts" / kind] if workshop else [])]
    return {path.stem: path for folder in folders if folder.is_dir() for path in sorted(folder.glob("*.toml"))}


def _file(kind: str, name: str, workshop: Path | None) -> Path:
    files = _files(kind, workshop)
    if name in files:
        return files[name]
    word = "stock" if kind == "stocks" else "artwork"
    near = difflib.get_close_matches(name[:60], list(files), 3, 0.4)
    raise input_error(
        f"{word}.unknown", f"there is no {word} {name[:60]!r}", limit=f"`labeltool {word} list` shows all",
        do=f"did you mean {' or '.join(near)}?" if near else f"put it into layouts/{kind}/ of the workshop",
    )


def _read(path: Path) -> tuple[dict[str, Any], Document]:
    report = Report()
    file = read_toml(path, Path.cwd(), report)
    if file is None:
        raise InputError(report.findings())
    return _floats(file.values), file.document


def _floats(value: Any) -> Any:
    """The values with floats where the file had decimals: layouts are measures, not percents."""
    if isinstance(value, dict):
        return {key: _floats(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_floats(item) for item in value]
    return float(value) if isinstance(value, Decimal) else value
