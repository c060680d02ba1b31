"""Every printed file drawn anew from the record, in memory, and held against the hash that it was printed with."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

from labeltool.errors import InputError
from labeltool.output.drawing import drawing
from labeltool.raster import Pdf
from labeltool.records.model import PrintRow
from labeltool.records.printfiles import DRAWN, LEAFLET, file_sha256, leaflet_name
from labeltool.typeset.frame import Frame
from labeltool.workflow.expecting import counts_of, laid_of
from labeltool.workflow.issue import Job, make_leaflets, make_pdf
from labeltool.workflow.leaflet import Leaflets, stored_leaflet
from labeltool.workflow.publish import digest

LOOK_DPI = 150
FILES_HELD = 64
Pixels = Literal["same", "other", "no file"]


@dataclass(frozen=True, slots=True)
class Redrawn:
    """A file drawn anew. `then` and `now`: versions of what drew it, `then` None where the record keeps none.

    `pixels`: whether the file as printed shows the same, looked at only where the bytes differ.
    """

    name: str
    same: bool
    then: Mapping[str, str] | None
    now: Mapping[str, str]
    pixels: Pixels | None = None

    @property
    def changed(self) -> tuple[str, ...]:
        """What draws in another version now, as words: "reportlab 4.4 → 4.5"."""
        then = self.then or {}
        names = sorted(then.keys() | self.now.keys())
        return tuple(f"{name} {then.get(name, 'none')} → {self.now.get(name, 'none')}" for name in names
                     if then.get(name) != self.now.get(name))


def by_file(rows: Iterable[PrintRow]) -> Iterator[tuple[PrintRow, ...]]:
    """Prints in the order they went on record, those that share a file together."""
    group: list[PrintRow] = []
    for row in rows:
        if group and not _shares(group, row):
            yield tuple(group)
            group = []
        group.append(row)
    if group:
        yield tuple(group)


def _shares(group: Sequence[PrintRow], row: PrintRow) -> bool:
    """Whether a print lies in the file of those before it: said to share one, and none of them once more."""
    first = group[0]
    one_file = bool((row.extra or {}).get("shared")) and (row.file, row.sha256) == (first.file, first.sha256)
    return one_file and _label(row) not in map(_label, group)


def _label(row: PrintRow) -> tuple[str, str, str | None]:
    return row.code, row.pack, row.label


def keeping(asset: Callable[[str], bytes]) -> Callable[[str], bytes]:
    """The same reader of fonts and pictures, which holds on to the last ones: most prints share them."""
    return lru_cache(FILES_HELD)(asset)


def redrawn(outlines: Sequence[PrintRow], value: Callable[[str], Any], asset: Callable[[str], bytes],
            folder: Path) -> Iterator[Redrawn]:
    """The file of these prints drawn anew, and its leaflets where it has any; `frames` of a print are names.

    Raises MachineError where the record does not hold what is needed, InputError where it cannot be drawn.
    """
    rows = [replace(row, frames=tuple(map(value, row.frames))) for row in outlines]
    first = rows[0]
    kept = (first.extra or {}).get(DRAWN) or {}
    job, fonts = _job(rows, asset)
    now = drawing(job.frames)
    yield _held(make_pdf(job, fonts), first.file, first.sha256, kept.get("by"), now, folder)
    leaflets = make_leaflets(job, fonts)
    if leaflets is not None and LEAFLET in kept:
        yield _held(leaflets, leaflet_name(first.file), kept[LEAFLET], kept.get("by"), now, folder)


def _job(rows: Sequence[PrintRow], asset: Callable[[str], bytes]) -> tuple[Job, dict[str, bytes]]:
    """What was written, as far as its bytes hang on it, and the fonts and pictures it needs."""
    laid, frames = laid_of(rows)
    extra = rows[0].extra or {}
    title = (extra.get(DRAWN) or {}).get("title") or extra.get("title", "")
    leaflets = next((found for row in rows if (found := _leaflets(row)) is not None), None)
    wanted: list[Frame] = [*frames, *(leaflets.leaflet.pages if leaflets else ())]
    fonts = {sha: asset(sha) for frame in wanted for sha in frame.files}
    return Job(frames, laid, title, extra.get("author", ""), leaflets=leaflets), fonts


def _leaflets(row: PrintRow) -> Leaflets | None:
    extra = row.extra or {}
    leaflet = stored_leaflet(extra)
    return Leaflets(leaflet, max(counts_of(row)), extra.get("title", "")) if leaflet else None


def _held(data: bytes, name: str, sha256: str, then: Mapping[str, str] | None, now: Mapping[str, str],
          folder: Path) -> Redrawn:
    same = digest(data) == sha256
    return Redrawn(name, same, then, now, None if same else _pixels(data, folder / name, sha256))


def _pixels(data: bytes, path: Path, sha256: str) -> Pixels:
    """Whether the file as it was printed shows what is drawn now; that it is missing or altered is told elsewhere."""
    try:
        if file_sha256(path) != sha256:
            return "no file"
        return "same" if _look_alike(Pdf(path.read_bytes()), Pdf(data)) else "other"
    except (OSError, InputError):
        return "no file"


def _look_alike(one: Pdf, other: Pdf) -> bool:
    return one.page_count == other.page_count and all(
        one.size_mm(page) == other.size_mm(page)
        and one.grey(page, LOOK_DPI).pixels == other.grey(page, LOOK_DPI).pixels
        for page in range(one.page_count))
