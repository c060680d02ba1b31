"""PDFs read back: before a print goes on record, and whenever a maker asks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from labeltool.errors import input_error, machine_error
from labeltool.finding import Finding, Where
from labeltool.readback.model import Expected, PageSurvey
from labeltool.readback.pictures import kind_of
from labeltool.readback.read import read_back
from labeltool.readback.survey import disagreements, said_of, survey
from labeltool.records.model import Batch, PrintRow
from labeltool.records.store import Store, open_store
from labeltool.stock.model import Stock
from labeltool.workflow.codes import home, record_path
from labeltool.workflow.expecting import expected_of, has_symbol
from labeltool.workflow.grading import KEY, grades_of, kept, with_grades
from labeltool.workflow.kinds import is_draft, no_labels, paper_of, unknown
from labeltool.workflow.photos import verify_picture
from labeltool.workflow.plain import stored
from labeltool.workflow.proof import VERIFIED, verified
from labeltool.workflow.publish import digest
from labeltool.workflow.scanning import Traced, standing_of
from labeltool.workflow.setting import Setting
from labeltool.workflow.verified import Verified

MOST_BYTES = 200_000_000


def check_pages(data: bytes, expected: Expected, stock: Stock, behind: str | None = None) -> dict[str, Any]:
    """Read a new PDF back and predict its labels' grades; what the record keeps of it.

    Raises MachineError where any label is not as it was set.
    """
    result = read_back(data, expected)
    if not result.matches or result.findings:
        wrong = [item.text for item in result.findings] or ["a label does not read back"]
        raise machine_error("verify.new", f"the new PDF does not read back as it was set: {wrong[0]}",
                            do="no print was put on record, no file was left: print again, or see --no-verify")
    return {KEY: kept(grades_of(data, expected, stock, behind)), VERIFIED: verified(result)}


def verify_file(path: Path, setting: Setting) -> Verified:
    """Read every label of a PDF or picture and compare it with the record.

    Raises InputError for a file that cannot be read.
    """
    data = _bytes(path)
    folder = home(setting) or _folder_of(path)
    if kind_of(data) is not None:
        return verify_picture(data, path, folder, setting)
    pages = survey(data)
    title, creator = said_of(data)
    paper = paper_of(title, creator, pages)
    if paper is not None:
        return no_labels(str(path), paper, pages)
    if folder is None or not record_path(folder).exists():
        return unknown(str(path), pages, "no record was found", "name the workshop: --workshop DIR", creator)
    with open_store(record_path(folder), create=False) as store:
        fits = _fits(store, pages, path)
    if is_draft(pages) and not (fits and fits[0].disagreements == 0):
        return no_labels(str(path), "draft", pages)
    if not fits:
        text, do = "no label of a batch on record was found", "is this the right workshop?"
        return unknown(str(path), pages, text, do, creator)
    return _compared(path, data, fits, setting)


@dataclass(frozen=True, slots=True)
class _Fit:
    """A print of the record, what its file should hold, and in how many things this file differs."""

    batch: Batch
    row: PrintRow
    expected: Expected
    disagreements: int


def _fits(store: Store, pages: tuple[PageSurvey, ...], path: Path) -> list[_Fit]:
    """The prints that could be this file, the one that fits best first."""
    found = [_Fit(batch, row, expected, disagreements(pages, expected)) for batch, row in _candidates(store, pages)
             for expected in (expected_of(store, row),)]
    return sorted(found, key=lambda item: (item.disagreements, Path(item.row.file).name != path.name))


def _compared(path: Path, data: bytes, fits: Sequence[_Fit], setting: Setting) -> Verified:
    """The file read back against the print that it fits best."""
    best = fits[0]
    batch, row = best.batch, best.row
    result = read_back(data, best.expected)
    stock: Stock = stored(Stock, row.stock, f"print {row.number}")
    grades = grades_of(data, best.expected, stock, (row.extra or {}).get("behind"))
    findings = (*result.findings, *standing_of(Traced(batch, row, ()), setting.today), *_alike(fits))
    return Verified(str(path), with_grades(result.labels, grades), findings, batch, row,
                    same_bytes=digest(data) == row.sha256)


def _alike(fits: Sequence[_Fit]) -> Iterator[Finding]:
    """A note where nothing on the labels tells their batch."""
    codes = {item.batch.code for item in fits if item.disagreements == fits[0].disagreements}
    mixed = {label.code for page in fits[0].expected.pages for label in page.labels}
    others = sorted(codes - mixed)
    if others:
        yield Finding("verify.alike", "note", "nothing on these labels tells their batch: they fit others as well",
                      do=f"also {', '.join(others[:5])}")


def _bytes(path: Path) -> bytes:
    if path.is_dir() or not path.exists():
        raise input_error("verify.file", f"{path} is no file", where=Where(str(path)), do="name a PDF of labels")
    if path.stat().st_size > MOST_BYTES:
        raise input_error("verify.size", f"{path} is over 200 MB", where=Where(str(path)))
    return path.read_bytes()


def _folder_of(path: Path) -> Path | None:
    """The workshop a PDF lies in: the nearest folder upward with a record."""
    return next((folder for folder in path.resolve().parents if (folder / "workshop.toml").is_file()), None)


def _candidates(store: Store, pages: Sequence[PageSurvey]) -> Iterator[tuple[Batch, PrintRow]]:
    """Prints that could be this file: whose payload or code stands on its pages, or, on labels without, the product."""
    payloads = {symbol.payload for page in pages for symbol in page.symbols}
    words = "".join(page.squashed for page in pages)
    for key, outlines in store.outlines().items():
        batch = store.batch(key)
        if batch is None:
            continue
        named = "".join(batch.product.split()) in words
        if not (named or batch.code in words or any(payload_of(row) in payloads for row in outlines)):
            continue
        for row in store.prints(batch.code):
            if payload_of(row) in payloads or batch.code in words or (named and not has_symbol(row)):
                yield batch, row


def payload_of(row: PrintRow) -> str | None:
    """What the symbols of a print say, as its row keeps it."""
    found = (row.extra or {}).get("payload")
    return str(found) if found is not None else None
