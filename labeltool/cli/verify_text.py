"""What `verify` says: what was checked against which print, what was found, and what only eyes can judge."""

from __future__ import annotations

from collections.abc import Iterable

from labeltool.cli.output import counted, say, show
from labeltool.readback.model import LabelReading
from labeltool.readback.read import named
from labeltool.workflow.grading import told
from labeltool.workflow.proof import CHECKED, readers
from labeltool.workflow.verified import Verified

_EYES = "by eye: the paper itself (true size, smudges, scratches), its colour, how the label sits on its container"


def tell_verified(found: Verified) -> None:
    """All of it on the terminal."""
    show(found.findings)
    if found.kind in ("labels", "picture"):
        say(_title(found))
        _tell_labels(found)
    if found.wrong:
        say(_after_wrong(found))
    elif found.batch is not None:
        say(f"next: print at 100 %; later: labeltool reprint {found.batch.code} --why TEXT" if found.kind == "labels"
            else f"next: labeltool batch show {found.batch.code}")


def _title(found: Verified) -> str:
    if found.batch is None or found.row is None:
        return f"{found.file}: {counted(len(found.labels), 'code')}"
    batches = dict.fromkeys(item.code for item in found.labels if item.code and item.code != found.batch.code)
    others = counted(len(batches), 'other batch', 'other batches')
    more = f" and {others}: {', '.join(map(str, list(batches)[:5]))}" if batches else ""
    if found.kind == "picture":
        return f"{found.file}: labels of batch {found.batch.code}, {found.batch.product}{more}"
    bytes_ = "the file on record, byte for byte" if found.same_bytes else "a copy, not the very file on record"
    return f"{found.file}: print {found.row.number} of batch {found.batch.code}, {found.batch.product}{more}; {bytes_}"


def _tell_labels(found: Verified) -> None:
    good = [item for item in found.labels if item.matches]
    if found.labels:
        kind, said = ("code", "as printed") if found.kind == "picture" else ("label", "as on record")
        say(f"  {len(good)} of {counted(len(found.labels), kind)} {said}")
    for payload in dict.fromkeys(item.decoded.zxing or item.decoded.zbar for item in found.labels):
        same = [item for item in found.labels if payload in (item.decoded.zxing, item.decoded.zbar)]
        both = sum(item.decoded.zxing == item.decoded.zbar for item in same)
        if payload is not None:
            say(f"  QR: {payload}: {counted(len(same), 'time')}, {both} read alike by both decoders")
    _tell_grades(found)
    _tell_measures(found)
    for text, labels in _wrong(found.labels).items():
        say(f"  WRONG: {text.format(named([item.label for item in labels]))}")
    if found.labels and found.kind == "labels":
        by = ", ".join(f"{name} {version}" for name, version in readers().items() if name != "pdfium")
        say(f"  checked against print {found.row.number if found.row else '?'}: {', '.join(CHECKED)} ({by})")
        say(f"  {_EYES}")


def _tell_grades(found: Verified) -> None:
    graded = [(item.grade, item.limits) for item in found.labels if item.grade is not None]
    for grade, limits in sorted(dict.fromkeys(graded)):
        text = told(grade, limits)
        if found.kind == "picture":
            text = text.replace("predicted grade", "grade as far as a picture tells:")
        say(f"  {counted(graded.count((grade, limits)), 'label')}: {text}")


def _tell_measures(found: Verified) -> None:
    measured = [item for item in found.measured if item is not None]
    sized = [item.side_mm for item in measured if item.side_mm is not None]
    if sized:
        say(f"  the codes measure {_span(sized, 'mm', 1)} a side, at the resolution that the picture states")
    contrast = [item.contrast for item in measured if item.contrast is not None]
    if contrast:
        growth = [100 * max(item.growth, key=abs) for item in measured if item.growth]
        say(f"  contrast of ink and label in red light {_span(contrast, '', 2)}; print growth {_span(growth, '%', 0)}"
            " of a module")


def _span(values: Iterable[float], unit: str, places: int) -> str:
    """The values as one figure, or from the least to the most."""
    ends = dict.fromkeys(f"{value:.{places}f}".replace("-0", "0", value > -0.5) for value in sorted(values))
    first, *_, last = (*ends, *ends)
    return f"{first if len(ends) == 1 else f'{first} to {last}'} {unit}".rstrip()


def _wrong(labels: Iterable[LabelReading]) -> dict[str, list[LabelReading]]:
    """Labels that are not as printed, by page and by what was read of them; {} in the key stands for their numbers."""
    groups: dict[str, list[LabelReading]] = {}
    for item in labels:
        if not item.matches:
            read = item.decoded.zxing or item.decoded.zbar
            said = f"its code says {read}" if read else "no code was read"
            groups.setdefault(f"page {item.page}, {{}}: {_safe(said)}", []).append(item)
    return groups


def _safe(text: str) -> str:
    return text.replace("{", "{{").replace("}", "}}")


def _after_wrong(found: Verified) -> str:
    if found.kind == "picture":
        return "next: take a better picture, or verify the PDF; use no label that the record does not know"
    if found.kind == "labels":
        code = found.batch.code if found.batch else "CODE"
        return f"next: do not use these labels; labeltool reprint {code} --why TEXT makes them again"
    return "next: labeltool batch list shows what is on record"
