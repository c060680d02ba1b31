"""What a PDF of labels should hold: from labels about to be printed, or from a print on record."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from labeltool.readback.model import Expected, Least, expect
from labeltool.records.model import PrintRow
from labeltool.records.store import Store
from labeltool.stock.model import Stock
from labeltool.stock.printers import Correction
from labeltool.typeset.frame import Frame
from labeltool.wording.model import LabelText
from labeltool.workflow.curving import KEY as DIAMETERS
from labeltool.workflow.place import Laid, Wish, lay, sheets
from labeltool.workflow.plain import stored


def expected_new(laid: Laid, frames: Sequence[Frame], codes: Sequence[str], texts: Sequence[LabelText],
                 diameters: Sequence[float | None] = ()) -> Expected:
    """What a new PDF should hold. Drawing its pages anew would prove nothing.

    `texts`: the words of each frame; `diameters`: of the cylinder each goes round.
    """
    least = {id(frame): least_of(text) for frame, text in zip(frames, texts, strict=True)}
    rounds = {id(frame): diameter for frame, diameter in zip(frames, diameters, strict=False)}
    return expect(sheets(laid, frames), codes, safe_mm=_safe_mm(laid.stock), least=least, diameters=rounds)


def expected_of(store: Store, row: PrintRow) -> Expected:
    """What a print's PDF should hold, from the record: with the labels of the other batches on the same sheets."""
    rows = together(store, row)
    laid, frames = laid_of(rows)
    texts = [stored(LabelText, one.text, f"print {one.number}") for one in rows for _ in one.frames]
    codes = [one.code for one in rows for _ in range(sum(counts_of(one)))]
    fonts = {sha: store.asset(sha) for frame in frames for sha in frame.files}
    least = {id(frame): least_of(text) for frame, text in zip(frames, texts, strict=True)}
    diameters = [item for one in rows for item in _diameters_of(one)]
    rounds = {id(frame): diameter for frame, diameter in zip(frames, diameters, strict=True)}
    return expect(sheets(laid, frames), codes, fonts, safe_mm=_safe_mm(laid.stock), least=least, diameters=rounds)


def laid_of(rows: Sequence[PrintRow]) -> tuple[Laid, tuple[Frame, ...]]:
    """The frames of the prints that share a file, and where they were laid, with the correction of that day."""
    first = rows[0]
    stock: Stock = stored(Stock, first.stock, f"print {first.number}")
    frames = tuple(stored(Frame, plain, f"print {one.number}") for one in rows for plain in one.frames)
    counts = [count for one in rows for count in counts_of(one)]
    laid = lay(stock, counts, Wish(skip=first.skip, places=(first.extra or {}).get("places")))
    correction = stored(Correction, first.correction, f"print {first.number}") if first.correction else None
    return replace(laid, correction=correction), frames


def least_of(text: LabelText) -> tuple[Least, ...]:
    """The least heights of a label's blocks; of several blocks of one name (languages) the smallest counts."""
    found: dict[tuple[str, str], float] = {}
    for block in text.blocks:
        for measure in ("x", "figure"):
            asked = max((item.height_mm for item in block.minimums if item.measure == measure), default=None)
            if asked is not None:
                key = (block.name, measure)
                found[key] = min(asked, found.get(key, asked))
    return tuple(Least(name, height, measure) for (name, measure), height in found.items())


def together(store: Store, row: PrintRow) -> list[PrintRow]:
    """The prints that share one file with this one, in the order of their labels; mostly this one alone."""
    shared = (row.extra or {}).get("shared")
    if not shared:
        return [row]
    found = [one for code in shared for one in store.prints(code) if one.file == row.file and one.sha256 == row.sha256]
    return found or [row]


def _diameters_of(row: PrintRow) -> list[float | None]:
    """The diameter that each label of a print goes round; none for a row that once kept those of a whole set."""
    found = (row.extra or {}).get(DIAMETERS) or []
    return list(found) if len(found) == len(row.frames) else [None] * len(row.frames)


def counts_of(row: PrintRow) -> list[int]:
    """How many labels of each frame a print holds."""
    counts = (row.extra or {}).get("counts")
    return list(counts) if counts else [row.labels // len(row.frames)] * len(row.frames)


def has_symbol(row: PrintRow) -> bool:
    """Whether any label of a print carries a QR symbol."""
    return any(item.get("$") == "Modules" for frame in row.frames for item in frame.get("items", ()))


def payloads_of(rows: Iterable[PrintRow]) -> set[str]:
    """What the symbols of prints say."""
    return {item["payload"] for row in rows for frame in row.frames for item in frame.get("items", ())
            if item.get("$") == "Modules"}


def _safe_mm(stock: Stock) -> float:
    """The edge that nothing is inked in; the marks of a label that is cut out stand in it."""
    return 0.0 if stock.marks == "cut" else stock.safe_mm
