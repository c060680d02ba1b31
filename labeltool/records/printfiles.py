"""The PDFs of prints on record, looked at on disk: missing, altered, or known to no record."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from labeltool.finding import Finding, Where

DRAFT = "draft-"  # begins the names of drafts, which no record knows
DRAWN = "drawn"  # in a print's extra: what drew its file
LEAFLET = "leaflet"  # in a print's extra: the leaflet's pages; in what drew it: the SHA-256 of its file


@dataclass(frozen=True, slots=True)
class PrintFile:
    """A file that a print was written to; where several prints name one file, the last one holds.

    `sha256` is None where the record does not keep it: of leaflets in its first days.
    """

    code: str
    number: int
    name: str
    sha256: str | None


def leaflet_name(labels: str) -> str:
    """The name of the leaflet's file, which lies beside that of the labels."""
    return f"{labels.rpartition('.')[0]}-leaflet.pdf"


def files_of(code: str, number: int, data: Mapping[str, Any]) -> Iterator[PrintFile]:
    """The files of a print's event: the labels, and the leaflet where it has one."""
    yield PrintFile(code, number, data["file"], data["sha256"])
    extra = data.get("extra") or {}
    if extra.get(LEAFLET):
        yield PrintFile(code, number, leaflet_name(data["file"]), (extra.get(DRAWN) or {}).get(LEAFLET))


def file_findings(files: Mapping[str, PrintFile], folder: Path) -> Iterator[Finding]:
    """PDFs that are missing or altered, and those in the prints folder that are on no record."""
    for file in files.values():
        finding = _finding(file, folder / file.name)
        if finding is not None:
            yield finding
    for path in sorted((folder / "prints").glob("*.pdf")):
        name = path.relative_to(folder).as_posix()
        if name not in files and not path.name.startswith(DRAFT):
            text = f"{name} is on no record: its labels may not match any batch"
            yield Finding("record.print-unknown", "warning", text, Where(file=name), do="do not use its labels")


def _finding(file: PrintFile, path: Path) -> Finding | None:
    do = f"labeltool reprint {file.code} --print {file.number} --why TEXT makes the labels anew"
    where = Where(file=file.name)
    try:
        digest = file_sha256(path)
    except FileNotFoundError:
        text = f"{file.name}, print {file.number} of batch {file.code}, is missing"
        return Finding("record.print-missing", "warning", text, where, do=do)
    except OSError as error:
        text = f"{file.name} cannot be read: {error.strerror}"
        return Finding("record.print-unreadable", "warning", text, where, do=do)
    if file.sha256 is not None and digest != file.sha256:
        text = f"{file.name} is not the file that was written with print {file.number} of batch {file.code}"
        return Finding("record.print-altered", "error", text, where, do=do)
    return None


def file_sha256(path: Path) -> str:
    """The SHA-256 of a file's bytes, in hex."""
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()
