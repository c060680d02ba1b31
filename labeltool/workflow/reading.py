"""PDFs read back: before a print goes on record, and whenever a maker asks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from labeltool.errors import input_error, machine_error
from labeltool.finding import Finding, Where
from labeltool.readback.model import Expected, LabelReading, PageSurvey
from labeltool.readback.read import read_back
from labeltool.readback.survey import disagreements, survey
from labeltool.records.model import Batch, PrintRow
from labeltool.records.store import Store, open_store
from labeltool.stock.model import Stock
from labeltool.workflow.codes import home, record_path
from labeltool.workflow.expecting import expected_of, has_symbol
from labeltool.workflow.grading import KEY, grades_of, kept, with_grades
from labeltool.workflow.plain import stored
from labeltool.workflow.proof import VERIFIED, verified
from labeltool.workflow.setting import Setting

MOST_BYTES = 200_000_000


@dataclass(frozen=True, slots=True)
class Verified:
    """What reading a file back gave: its labels, and the print of the record it fits best."""

    file: str
    labels: tuple[LabelReading, ...]
    findings: tuple[Finding, ...]
    batch: Batch | None = None
    row: PrintRow | None = None

    @property
    def wrong(self) -> bool:
        """Whether anything is not as the record says."""
        return any(item.level == "error" for item in self.findings) or not all(one.matches for one in self.labels)

    def document(self) -> dict[str, Any]:
        """The documented JSON object of `verify`."""
        return {
            "file": self.file,
            "print": self.row.number if self.row else None,
            "labels": [_label(item) for item in self.labels],
            "problems": [item.as_json() for item in self.findings],
        }


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
    """Read every label of a PDF and compare it with the record. Raises InputError for a file that cannot be read."""
    data = _bytes(path)
    pages = survey(data)
    folder = home(setting) or _folder_of(path)
    if folder is None or not record_path(folder).exists():
        return _unknown(str(path), pages, "no record was found", "name the workshop: --workshop DIR")
    with open_store(record_path(folder), create=False) as store:
        found = [(batch, row, expected_of(store, row)) for batch, row in _candidates(store, pages)]
    if not found:
        return _unknown(str(path), pages, "no label of a batch on record was found", "is this the right workshop?")
    batch, row, expected = min(
        found, key=lambda item: (disagreements(pages, item[2]), Path(item[1].file).name != path.name),
    )
    result = read_back(data, expected)
    stock: Stock = stored(Stock, row.stock, f"print {row.number}")
    grades = grades_of(data, expected, stock, (row.extra or {}).get("behind"))
    return Verified(str(path), with_grades(result.labels, grades), tuple(result.findings), batch, row)


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
    for batch in store.batches():
        for row in store.prints(batch.code):
            named = not has_symbol(row) and "".join(batch.product.split()) in words
            if (row.extra or {}).get("payload") in payloads or batch.code in words or named:
                yield batch, row


def _unknown(file: str, pages: Sequence[PageSurvey], text: str, do: str) -> Verified:
    found = Finding("verify.unknown", "error", text, Where(file), do=do)
    said = [f"page {page.page}: {symbol.payload}" for page in pages for symbol in page.symbols][:5]
    notes = [Finding("verify.symbol", "note", f"a QR symbol on {one}", Where(file)) for one in said]
    return Verified(file, (), (found, *notes))


def _label(item: LabelReading) -> dict[str, Any]:
    return {
        "page": item.page, "label": item.label,
        "decoded": {"zbar": item.decoded.zbar, "zxing": item.decoded.zxing}, "code": item.code,
        "matches-record": item.matches, "grade": item.grade, "limits": list(item.limits),
    }


