"""A scan, photo or screenshot of labels against the record: what the symbols say, and what the picture cannot tell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from labeltool.finding import Finding, Where
from labeltool.readback.grade import known_symbol
from labeltool.readback.measure import LEAST_MODULE, MOST_SLANT, Measured, is_blank, measured
from labeltool.readback.model import Decoded, LabelReading
from labeltool.readback.photo import PhotoSymbol, symbols_in
from labeltool.readback.pictures import Photo, read_picture
from labeltool.records.store import open_store
from labeltool.typeset.frame import Modules
from labeltool.workflow.codes import record_path
from labeltool.workflow.grading import rules
from labeltool.workflow.scanning import Traced, standing_of, traced, written_otherwise
from labeltool.workflow.setting import Setting
from labeltool.workflow.verified import Verified

MOST_SCALE = 0.02
_BETTER = "take it nearer and straight on, in even light, sharp, with the white around the code in the picture"


@dataclass(frozen=True, slots=True)
class _Seen:
    """One symbol, what is on record of it, and what was measured."""

    number: int
    symbol: PhotoSymbol
    found: Traced | None
    measured: Measured | None


def verify_picture(data: bytes, path: Path, folder: Path | None, setting: Setting) -> Verified:
    """Read all symbols of a picture and find their batches. Raises InputError for one that cannot be read."""
    photo = read_picture(data)
    symbols = symbols_in(photo)
    seen = tuple(_traced(photo, symbols, folder))
    where = Where(str(path))
    findings = [replace(item, where=where) for item in (*_faults(photo, seen, folder), *_notes(photo, seen))]
    findings += _standing(seen, setting)
    first = next((item.found for item in seen if item.found), None)
    return Verified(str(path), tuple(_reading(item) for item in seen), tuple(findings),
                    first.batch if first else None, first.row if first else None, "picture",
                    measured=tuple(item.measured for item in seen))


def _traced(photo: Photo, symbols: Sequence[PhotoSymbol], folder: Path | None) -> Iterator[_Seen]:
    if folder is None or not record_path(folder).exists():
        yield from (_Seen(number, symbol, None, None) for number, symbol in enumerate(symbols, 1))
        return
    known: dict[str, Traced | None] = {}
    with open_store(record_path(folder), create=False) as store:
        for number, symbol in enumerate(symbols, 1):
            if symbol.payload not in known:
                known[symbol.payload] = traced(symbol.payload, store, folder)
            found = known[symbol.payload]
            item = found.symbol() if found else None
            size = measured(photo, symbol, known_symbol(item), rules()) if item and symbol.corners else None
            yield _Seen(number, symbol, found, size)


def _reading(item: _Seen) -> LabelReading:
    decoded = Decoded(item.symbol.zbar, item.symbol.zxing)
    code = item.found.batch.code if item.found else None
    grade = item.measured.grade if item.measured else None
    return LabelReading(1, item.number, decoded, code, item.found is not None and item.found.row is not None
                        and not _differ(item.symbol), grade.value if grade else None, grade.limits if grade else ())


def _differ(symbol: PhotoSymbol) -> bool:
    return None not in (symbol.zxing, symbol.zbar) and symbol.zxing != symbol.zbar


def _faults(photo: Photo, seen: Sequence[_Seen], folder: Path | None) -> Iterator[Finding]:
    if not seen:
        why = "the picture is all one tone" if is_blank(photo.grey) else "no QR code was found in the picture"
        yield Finding("picture.none", "error", why, do=f"{_BETTER}; a label without a code is verified as PDF only")
    if seen and (folder is None or not record_path(folder).exists()):
        yield Finding("verify.unknown", "error", "no record was found", do="name the workshop: --workshop DIR")
        folder = None
    for item in seen:
        if _differ(item.symbol):
            yield Finding("readback.payload", "error", f"label {item.number}: the decoders read different things:"
                          f" zxing {item.symbol.zxing!a}, zbar {item.symbol.zbar!a}", do=_BETTER)
        if item.symbol.negative:
            yield Finding("picture.negative", "error", f"label {item.number}: the code is light on dark",
                          do="print it dark on light: many phones do not read it otherwise")
        if folder is not None:
            yield from _record_faults(item)


def _record_faults(item: _Seen) -> Iterator[Finding]:
    payload = f"{item.symbol.payload[:120]!a}"
    if item.found is None:
        yield Finding("verify.unknown", "error", f"label {item.number}: no batch on record has this symbol: {payload}",
                      do="is this the right workshop? do not use labels that the record does not know")
    elif item.found.row is None:
        batch = item.found.batch
        said = f"its labels say {item.found.said[0]!a}" if item.found.said else "no label of it was printed"
        how = "only spelled otherwise" if written_otherwise(item.symbol.payload, item.found) else "and leads elsewhere"
        yield Finding("verify.payload", "error", f"label {item.number}: the symbol names batch {batch.code}, but"
                      f" {said}; this one says {payload}, {how}", do="do not use labels that the record does not know")


def _notes(photo: Photo, seen: Sequence[_Seen]) -> Iterator[Finding]:
    if any(item.symbol.zbar is None or item.symbol.zxing is None for item in seen):
        count = sum(item.symbol.zbar is None or item.symbol.zxing is None for item in seen)
        yield Finding("picture.one-decoder", "note", f"{_codes(count)} read by one decoder alone", do=_BETTER)
    coarse = [item for item in seen if item.measured and item.measured.module_px < LEAST_MODULE]
    if coarse:
        least = min(item.measured.module_px for item in coarse if item.measured)
        yield Finding("picture.coarse", "note", f"{_codes(len(coarse))} too small in the picture to be measured:"
                      f" {least:.1f} pixels a module", limit=f"{LEAST_MODULE:g} pixels a module", do="take it nearer")
    slant = max((item.symbol.slant for item in seen if item.symbol.corners), default=0.0)
    if slant > MOST_SLANT:
        yield Finding("picture.slant", "note", f"the picture was taken at an angle (sides differ by {slant:.0%}):"
                      " proportions and grade are not told", do="take it straight on")
    yield from _count_note(seen)
    yield from _size_notes(photo, seen)
    if any(item.found for item in seen):
        yield Finding("picture.words", "note", "words, dates and letter heights are not read from a picture",
                      do="read the label against the record, or verify the PDF")


def _count_note(seen: Sequence[_Seen]) -> Iterator[Finding]:
    """A note where a sheet was scanned and some of its labels did not read, or lie outside the picture."""
    rows = {(row.code, row.number): row.labels for item in seen if item.found and (row := item.found.row)}
    total = sum(rows.values())
    if len(seen) > 1 and len(seen) != total:
        yield Finding("picture.count", "note", f"{len(seen)} codes were read, and there are {total} labels in"
                      f" {'this print' if len(rows) == 1 else 'these prints'}",
                      do="is the whole sheet in the picture? look at the labels that are not told above")


def _codes(count: int) -> str:
    return "1 code is" if count == 1 else f"{count} codes are"


def _size_notes(photo: Photo, seen: Sequence[_Seen]) -> Iterator[Finding]:
    """The symbol's size against what was set, where the picture says how large it is; else that it does not."""
    sized = [(item, set_) for item in seen if item.measured and item.found and (set_ := item.found.symbol())]
    if not sized:
        return
    item, symbol = sized[0]
    wanted = len(symbol.rows) * symbol.module_mm
    if item.measured is None or item.measured.side_mm is None:
        yield Finding("picture.no-scale", "note", "the picture does not say how large it is on paper; sizes are open",
                      do=f"hold a ruler to the code: it should measure {wanted:.1f} mm a side; or scan at 300 dpi")
        return
    yield from _scale_note(item.measured.side_mm, wanted, symbol, photo.dpi or 0.0)


def _scale_note(side_mm: float, wanted_mm: float, symbol: Modules, dpi: float) -> Iterator[Finding]:
    share = side_mm / wanted_mm
    if abs(share - 1) > MOST_SCALE:
        yield Finding("picture.scale", "warning", f"at the picture's {dpi:g} dpi the code measures {side_mm:.1f} mm"
                      f" a side instead of {wanted_mm:.1f} mm: {share:.0%}", limit=f"{len(symbol.rows)} modules of"
                      f" {symbol.module_mm:.3f} mm", do="if this is a scan, the print was scaled: print at 100 %")


def _standing(seen: Sequence[_Seen], setting: Setting) -> list[Finding]:
    told: dict[Finding, None] = {}
    for item in seen:
        if item.found is not None:
            told |= dict.fromkeys(standing_of(item.found, setting.today))
    return list(told)
