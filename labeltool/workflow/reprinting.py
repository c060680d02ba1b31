"""The same labels again, from the record alone: stored frames, fonts and stock, laid on a fresh sheet."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from labeltool import tables
from labeltool.codec import to_plain
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.formula.model import Container, Formula
from labeltool.formula.sizes import find_pack
from labeltool.records.model import Batch, Once, PrintOrder, PrintRow
from labeltool.records.store import Store, open_store
from labeltool.stock.model import Stock
from labeltool.stock.surface import surface
from labeltool.typeset.frame import Frame
from labeltool.wording.model import LabelText
from labeltool.workflow import layouts
from labeltool.workflow.asmade import as_made
from labeltool.workflow.calls import Printed
from labeltool.workflow.codes import record_folder, record_path, the_batch
from labeltool.workflow.curving import KEY as DIAMETERS
from labeltool.workflow.curving import curve, diameter_of
from labeltool.workflow.design import band_for, design, find_artworks, pictures
from labeltool.workflow.expecting import counts_of
from labeltool.workflow.grading import low, told_of
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.issue import Issued, Job, date_on_label, issue, plain_stock, stored_fonts
from labeltool.workflow.leaflet import Leaflets, beside_labels, stored_leaflet
from labeltool.workflow.outdated import Bygone
from labeltool.workflow.place import Laid, Wish, lay
from labeltool.workflow.plain import stored
from labeltool.workflow.printers import choose_printer, corrected
from labeltool.workflow.reopening import refuse_closed, refuse_unreleased
from labeltool.workflow.sets import refuse_taken_back
from labeltool.workflow.setting import Setting, shown_path


@dataclass(frozen=True, slots=True)
class ReprintCall:
    """The options of `reprint`."""

    code: str
    why: str
    artwork: str | None = None
    number: int | None = None
    wish: Wish = field(default_factory=Wish)
    stock: str | None = None
    output: Path | None = None
    preview: Path | None = None
    verify: bool = True
    printer: str | None = None
    pack: str | None = None
    label: str | None = None

    def plain(self) -> dict[str, Any]:
        """What decides the outcome, for --once."""
        return {"command": "reprint", "code": self.code, "print": self.number, "artwork": self.artwork, "why": self.why,
                "count": self.wish.count, "skip": self.wish.skip, "places": self.wish.places,
                "stock": self.stock, "printer": self.printer,
                "output": str(self.output) if self.output else None} | self._of_pack()

    def _of_pack(self) -> dict[str, Any]:
        """Pack and label, where the call says them: a key given before there were any still answers."""
        return {name: value for name, value in (("pack", self.pack), ("label", self.label)) if value is not None}

    def means(self, row: PrintRow) -> bool:
        """Whether a print is of the pack and label that the call names."""
        return all(named is None or (own or "").casefold() == named.casefold()
                   for named, own in ((self.pack, row.pack), (self.label, row.label)))


@dataclass(frozen=True, slots=True)
class Again:
    """A print on record made ready to be written again."""

    batch: Batch
    row: PrintRow
    frames: tuple[Frame, ...]
    stock: Stock
    laid: Laid
    counts: tuple[int, ...]
    reset: bool
    findings: tuple[Finding, ...]
    printer: str | None = None
    diameters: tuple[float | None, ...] = ()


def reprint_code(call: ReprintCall, setting: Setting) -> Printed | dict[str, Any]:
    """Print again what the record holds. Raises InputError where it cannot be, MachineError where it is damaged."""
    if not call.why.strip():
        raise input_error("call.why", "--why is empty", do='say why: --why "label scuffed in transit"')
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        batch = the_batch(call.code, folder, store)
        rows = store.prints(batch.code)
        again = _ready(call, batch, _choose(call, rows), store, folder, setting)
        again = replace(again, findings=(*_made_otherwise(again, rows, store, folder, setting), *again.findings))
        return _write(call, again, store, folder, setting)


def _choose(call: ReprintCall, rows: Sequence[PrintRow]) -> PrintRow:
    """The print to repeat: the one named, else the latest of the artwork, else the latest."""
    if not rows:
        raise input_error("reprint.none", f"batch {call.code} has no print on record",
                          do=f"labeltool print {call.code}")
    rows = [row for row in rows if call.means(row)]
    if not rows:
        raise input_error("reprint.unknown", f"batch {call.code} has no print of that pack and label",
                          do=f"labeltool batch show {call.code} has them all")
    if call.number is not None:
        found = [row for row in rows if row.number == call.number]
        limit = f"1 to {rows[-1].number}"
    elif call.artwork is not None:
        found = [row for row in rows if call.artwork in row.artworks]
        limit = ", ".join(dict.fromkeys(name for row in rows for name in row.artworks))
    else:
        return _latest(call, rows)
    if not found:
        raise input_error("reprint.unknown", f"batch {call.code} has no such print", limit=limit)
    return found[-1]


def _latest(call: ReprintCall, rows: Sequence[PrintRow]) -> PrintRow:
    kinds = dict.fromkeys((row.pack, row.label, row.artworks) for row in rows)
    if len(kinds) > 1:
        names = " or ".join(dict.fromkeys(_said(*kind) for kind in kinds))
        what = "labels" if any(label for _, label, _ in kinds) else "artworks"
        raise input_error("reprint.which", f"batch {call.code} has prints of several {what}",
                          do=f"say which: {names}, or --print N")
    return rows[-1]


def _said(pack: str, label: str | None, artworks: Sequence[str]) -> str:
    """The options that tell one kind of print from the others."""
    own = f"--label {label}" if label else f"--artwork {artworks[0]}"
    return f"--pack {pack} {own}" if pack else own


def _ready(call: ReprintCall, batch: Batch, row: PrintRow, store: Store, folder: Path, setting: Setting) -> Again:
    refuse_closed(batch)
    refuse_taken_back(batch, store, folder)
    refuse_unreleased(batch, folder)
    stock: Stock = stored(Stock, row.stock, f"print {row.number}")
    kept = _kept(call, row)
    frames, diameters = kept.frames, kept.diameters
    reset = False
    if call.stock is not None and call.stock != stock.name:
        inputs: Inputs = stored(Inputs, batch.frozen, f"batch {batch.code}")
        container = _container(row, inputs.formula)
        new = band_for(layouts.stock(call.stock, folder), container)
        reset = _needs_setting(stock, new)
        frames = _set_anew(row, frames, new, batch, folder) if reset else frames
        diameters = tuple(diameter_of(container, new, frame.artwork) for frame in frames)
        stock = new
    counts = tuple(call.wish.count or count for count in kept.counts)
    chosen = choose_printer(folder, call.printer, stock, row.printer)
    laid = corrected(lay(stock, counts, call.wish), chosen)
    curved = () if (frames, diameters) == (kept.frames, kept.diameters) else curve(frames, diameters)
    notes = (*_notes(row, setting), *_surface(row, frames, stock, sum(counts)), *curved, *chosen.findings)
    return Again(batch, row, frames, stock, laid, counts, reset, notes, chosen.printer, diameters)


@dataclass(frozen=True, slots=True)
class _Kept:
    """The labels of a print on record that a call repeats, with the diameter each goes round and how many of each."""

    frames: tuple[Frame, ...]
    diameters: tuple[float | None, ...]
    counts: tuple[int, ...]


def _kept(call: ReprintCall, row: PrintRow) -> _Kept:
    named = [index for index, name in enumerate(row.artworks) if name == call.artwork] if call.artwork else []
    indices = named or range(len(row.frames))
    diameters, counts = (row.extra or {}).get(DIAMETERS) or (None,) * len(row.frames), counts_of(row)
    return _Kept(tuple(stored(Frame, row.frames[index], f"print {row.number}") for index in indices),
                 tuple(diameters[index] for index in indices), tuple(counts[index] for index in indices))


def _surface(row: PrintRow, frames: Sequence[Frame], stock: Stock, labels: int) -> tuple[Finding, ...]:
    """Cautions about the stock. Raises InputError where no scanner could read the symbol on it."""
    found = surface(stock, any(frame.symbols for frame in frames), (row.extra or {}).get("behind"), labels)
    if any(item.level == "error" for item in found):
        raise InputError(found)
    return found


def _needs_setting(old: Stock, new: Stock) -> bool:
    smaller = new.label_mm[0] < old.label_mm[0] or new.label_mm[1] < old.label_mm[1]
    return old.dpi != new.dpi or old.shape != new.shape or smaller or new.safe_mm > old.safe_mm


def _set_anew(row: PrintRow, frames: tuple[Frame, ...], stock: Stock, batch: Batch, folder: Path) -> tuple[Frame, ...]:
    text: LabelText = stored(LabelText, row.text, f"print {row.number}")
    inputs: Inputs = stored(Inputs, batch.frozen, f"batch {batch.code}")
    names = [frame.artwork for frame in frames]
    return design(text, stock, find_artworks(names, folder), _container(row, inputs.formula)).frames


def _container(row: PrintRow, formula: Formula) -> Container | None:
    """What the label of a print is stuck to."""
    pack = find_pack(formula, row.pack)
    outer = (row.extra or {}).get("surface") == "outer"
    return (pack.outer if outer else pack.container) if pack else formula.container


def _notes(row: PrintRow, setting: Setting) -> Iterator[Finding]:
    best = (row.extra or {}).get("best-before")
    if best and dt.date.fromisoformat(best) < setting.today:
        yield Finding("reprint.past", "warning", f"the batch's best before, {best}, has passed")
    if row.superseded:
        text = f"print {row.number} is superseded: a later print of the batch differs in list, warnings or date"
        yield Finding("reprint.superseded", "warning", text, do="repeat the latest print instead, without --print")
    used = dict(item for frame in row.frames for item in frame.get("fonts", ()))
    changed = [weight for weight, sha in used.items() if tables.font_sha256(weight) != sha]
    if changed:
        text = f"the shipped font has changed since ({', '.join(changed)}); the record's is used"
        yield Finding("reprint.font", "note", text)


def _made_otherwise(again: Again, rows: Sequence[PrintRow], store: Store, folder: Path,
                    setting: Setting) -> Iterator[Finding]:
    """A warning where the print says something else than what was made since; of a superseded one that is said."""
    batch, row = again.batch, again.row
    if row.superseded:
        return
    bygone = Bygone(batch, as_made(batch, store, folder, setting), store, folder, setting)
    names = bygone.differs(row, rows)
    if names:
        text = f"print {row.number} says another {' and '.join(names)} than what was made: the bench changed after it"
        yield Finding("reprint.superseded", "warning", text, do=f"print new ones instead: labeltool print {batch.code}")


def _write(call: ReprintCall, again: Again, store: Store, folder: Path, setting: Setting) -> Printed | dict[str, Any]:
    extra = again.row.extra or {}
    once = _once(call, again, folder, setting)
    known = store.answered(once)
    if known is not None and known.done:
        return dict(known.result)
    text: LabelText = stored(LabelText, again.row.text, f"print {again.row.number}")
    title, leaflet = extra.get("title", again.batch.product), stored_leaflet(extra)
    job = Job(again.frames, again.laid, title, extra.get("author", ""), behind=extra.get("behind"),
              texts=tuple(text for _ in again.frames), diameters=again.diameters,
              leaflets=Leaflets(leaflet, max(again.counts), title) if leaflet else None)
    orders = (lambda file, sha256: _order(call, again, file, sha256, setting, once),)
    fonts = _fonts(store, again, folder) | ({sha: store.asset(sha) for _, sha in leaflet.fonts} if leaflet else {})
    issued = issue(folder, store, job, orders, fonts, setting, output=call.output, preview=call.preview,
                   verify=call.verify, codes=(again.batch.code,))
    return _printed(again, issued, setting)


def _once(call: ReprintCall, again: Again, folder: Path, setting: Setting) -> Once | None:
    if setting.once is None:
        return None

    def answer(row: PrintRow) -> dict[str, Any]:
        return _printed(again, Issued(row, folder / row.file, row.sha256, None), setting).document()

    return Once(setting.once, call.plain(), step="print", answer=answer)


def _fonts(store: Store, again: Again, folder: Path) -> dict[str, bytes]:
    if not again.reset:
        return stored_fonts(store, again.frames)
    fonts = {sha: tables.font_bytes(weight) for frame in again.frames for weight, sha in frame.fonts}
    return fonts | pictures(find_artworks([frame.artwork for frame in again.frames], folder))


def _order(call: ReprintCall, again: Again, file: str, sha256: str, setting: Setting, once: Once | None) -> PrintOrder:
    row = again.row
    return PrintOrder(
        code=again.batch.code, artworks=tuple(frame.artwork for frame in again.frames), labels=len(again.laid.labels),
        sheets=again.laid.sheets, skip=call.wish.skip,
        places=tuple(place.place for _, place in again.laid.labels) if call.wish.places else (),
        stock=plain_stock(again.stock), frames=tuple(to_plain(item) for item in again.frames), text=row.text,
        words=row.words, file=file, sha256=sha256, markets=row.markets, languages=row.languages, at=setting.now(),
        by=setting.by, pack=row.pack, why=call.why, reprint_of=row.number, reset=again.reset,
        extra=dict(row.extra or {}) | {"counts": list(again.counts), "places": call.wish.places, "shared": None,
                                        "unreleased": again.batch.state != "released",
                                        DIAMETERS: list(again.diameters)},
        once=once, printer=again.printer, correction=to_plain(again.laid.correction),
    )


def _printed(again: Again, issued: Issued, setting: Setting) -> Printed:
    extra = again.row.extra or {}
    best = extra.get("best-before")
    number = issued.row.number if issued.row else None
    kept = issued.row.extra if issued.row else None
    return Printed(
        code=again.batch.code, made=again.batch.made, best_before=dt.date.fromisoformat(best) if best else None,
        labels=len(again.laid.labels), sheets=again.laid.sheets, stock=again.stock.name,
        artworks=tuple(frame.artwork for frame in again.frames), file=shown_path(issued.target, setting.cwd),
        sha256=issued.sha256, qr=extra.get("payload", again.batch.code),
        x_height_mm=min(frame.x_height_mm for frame in again.frames), next_skip=again.laid.next_skip,
        problems=(*again.findings, *low(kept)), product=again.batch.product, number=number, preview=issued.preview,
        per_page=again.stock.per_page, printer=again.printer, grade=told_of(kept),
        leaflet=shown_path(beside_labels(issued.target), setting.cwd) if extra.get("leaflet") else None,
        pack=again.row.pack, labels_of=(again.row.label,) if again.row.label else (),
        symbol=any(frame.symbols for frame in again.frames), date_on_label=date_on_label(again.frames),
    )
