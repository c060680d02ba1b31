"""Lots of raw materials: known by material and lot together, their composition frozen on the day of receipt."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from labeltool.codec import from_plain
from labeltool.finding import Finding, Findings
from labeltool.formula.model import LEFT_OUT, Formula, Material

_TAKEN_BACK = ("withdrawn", "recalled", "cancelled")


@dataclass(frozen=True, slots=True)
class Received:
    """A lot received. `composition`: the material as materials.toml had it that day.

    `typed`: it came on record by its name at the bench, so nobody said when it really came.
    """

    material: str
    lot: str
    received: dt.date
    composition: Material | None = None
    expires: dt.date | None = None
    grams: Decimal | None = None
    supplier: str | None = None
    supplier_lot: str | None = None
    typed: bool = field(default=False, metadata=LEFT_OUT)


@dataclass(frozen=True, slots=True)
class Blocked:
    """A lot that must not be used any more."""

    material: str
    lot: str
    why: str


@dataclass(frozen=True, slots=True)
class Amended:
    """A lot that was written down wrongly, put right. None leaves what stands; `no_date`, `unblocked`: taken off."""

    material: str
    lot: str
    why: str
    received: dt.date | None = None
    expires: dt.date | None = None
    grams: Decimal | None = None
    supplier: str | None = None
    supplier_lot: str | None = None
    no_date: bool = False
    unblocked: bool = False

    @property
    def empty(self) -> bool:
        """Whether it puts nothing right."""
        given = (self.received, self.expires, self.grams, self.supplier, self.supplier_lot)
        return not (self.no_date or self.unblocked) and all(value is None for value in given)


LotEntry = Received | Blocked | Amended


@dataclass(frozen=True, slots=True)
class Inside:
    """What a batch that serves as a lot was made of: its masses as a formula, with the materials and formulas of it."""

    formula: Formula
    materials: tuple[tuple[str, Material], ...]
    made_here: tuple[tuple[str, Formula], ...]


@dataclass(frozen=True, slots=True)
class Lot:
    """A lot as it stands. `grams` is all that was received; None where it was never said. `blocked`: the reason.

    `typed`: only a name at the bench brought it on record. `inside`: of a batch that was weighed whole. `dated`: its
    date was corrected, and counts before one that a bench wrote down.
    """

    material: str
    lot: str
    received: dt.date | None
    composition: Material | None
    expires: dt.date | None = None
    grams: Decimal | None = None
    supplier: str | None = None
    supplier_lot: str | None = None
    blocked: str | None = None
    typed: bool = False
    inside: Inside | None = None
    dated: bool = False

    def later_than(self, day: dt.date) -> bool:
        """Whether it is said to have come only after that day."""
        return self.received is not None and not self.typed and self.received > day


@dataclass(frozen=True, slots=True)
class LotBook:
    """All lots by material and tidied lot; `known` leads former material keys to today's. Made by `fold_lots`."""

    by_key: Mapping[tuple[str, str], Lot] = field(default_factory=dict)
    known: Mapping[str, str] = field(default_factory=dict)

    @property
    def lots(self) -> tuple[Lot, ...]:
        """All lots, in the order they were received."""
        return tuple(self.by_key.values())

    def key(self, material: str, lot: str) -> tuple[str, str]:
        """What tells lots apart."""
        return self.known.get(material, material), tidy_lot(lot)

    def find(self, material: str, lot: str | None) -> Lot | None:
        """The lot of a material, in any case and spacing; None where it is not on record."""
        return self.by_key.get(self.key(material, lot or ""))

    def named(self, lot: str) -> tuple[Lot, ...]:
        """The lots of that name, of whatever material."""
        return tuple(item for item in self.by_key.values() if tidy_lot(item.lot) == tidy_lot(lot))

    def material_of(self, material: str, lot: str | None) -> Material | None:
        """The composition that a lot froze, under the key the batch uses."""
        found = self.find(material, lot)
        return replace(found.composition, key=material) if found and found.composition else None

    def date_of(self, material: str, lot: str | None, said: dt.date | None = None) -> dt.date | None:
        """The date that counts for a lot: its own or the one `said` at the bench, the earlier; corrected, its own."""
        found = self.find(material, lot)
        dates = (found.expires if found else None, None if found and found.dated else said)
        return min((date for date in dates if date is not None), default=None)


def tidy_lot(lot: str) -> str:
    """A lot's name as it is compared: case and spacing aside."""
    return " ".join(lot.split()).casefold()


def from_record(plain: object) -> LotEntry:
    """The entry that the record holds. Raises ValueError where it holds something else."""
    entry: LotEntry = from_plain(LotEntry, plain)  # type: ignore[arg-type]
    return entry


def fold_lots(
    entries: Iterable[LotEntry], known: Mapping[str, str] | None = None, made_here: Iterable[Lot] = (),
) -> LotBook:
    """The lots that entries in order leave; batches that serve as lots of materials made here come besides."""
    found: dict[tuple[str, str], Lot] = {}
    book = LotBook(found, known or {})
    for entry in entries:
        key = book.key(entry.material, entry.lot)
        found[key] = _after(found.get(key), entry)
    for lot in made_here:
        found.setdefault(book.key(lot.material, lot.lot), lot)
    return book


def _after(before: Lot | None, entry: LotEntry) -> Lot:
    if isinstance(entry, Blocked):
        return replace(before or Lot(entry.material, entry.lot, None, None), blocked=entry.why)
    if isinstance(entry, Amended):
        return _amended(before or Lot(entry.material, entry.lot, None, None), entry)
    if before is None or before.received is None:
        return Lot(
            entry.material, entry.lot, entry.received, entry.composition, entry.expires, entry.grams, entry.supplier,
            entry.supplier_lot, before.blocked if before else None, entry.typed,
        )
    came = entry.received if before.typed and not entry.typed else min(before.received, entry.received)
    return replace(
        before, received=came, typed=before.typed and entry.typed, composition=before.composition or entry.composition,
        expires=before.expires or entry.expires, supplier=before.supplier or entry.supplier,
        supplier_lot=before.supplier_lot or entry.supplier_lot,
        grams=_sum(before.grams, entry.grams),
    )


def _amended(before: Lot, entry: Amended) -> Lot:
    dated = entry.no_date or entry.expires is not None
    given = {name: value for name in ("received", "grams", "supplier", "supplier_lot")
             if (value := getattr(entry, name)) is not None}
    return replace(
        before, **given, expires=entry.expires if dated else before.expires, dated=before.dated or dated,
        blocked=None if entry.unblocked else before.blocked, typed=before.typed and entry.received is None,
    )


def _sum(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    return other if one is None else one if other is None else one + other


def lot_of_batch(
    material: str, code: str, made: dt.date, best_before: dt.date | None, state: str, inside: Inside | None = None,
) -> Lot:
    """A batch as the lot of a material made here; blocked where it was taken back."""
    blocked = f"batch {code} is {state}" if state in _TAKEN_BACK else None
    return Lot(material, code, made, None, best_before, blocked=blocked, inside=inside)


def receive_findings(book: LotBook, entry: Received, today: dt.date) -> Findings:
    """What speaks against receiving a lot; more of a lot on record is fine where it is the same."""
    found = []
    if not entry.lot.strip():
        found.append(_error("lot.name", "a lot needs a name", "type what stands on the pack"))
    found += _figures(entry.grams, entry.received, entry.expires, today)
    before = book.find(entry.material, entry.lot)
    return Findings(tuple(found + (_differences(before, entry) if before else [])))


def _figures(grams: Decimal | None, received: dt.date | None, expires: dt.date | None, today: dt.date) -> list[Finding]:
    found = []
    if grams is not None and not (grams.is_finite() and grams >= 0):
        found.append(_error("lot.grams", f"{grams} g cannot be received", "give 0 g or more"))
    if received is not None and received > today:
        text = f"received on {received}, after today, {today}"
        found.append(Finding("lot.received", "warning", text, do="check --received"))
    if None not in (expires, received) and expires < received:  # type: ignore[operator]
        text = f"the lot expired on {expires}, before it was received"
        found.append(Finding("lot.expired", "warning", text, do="check --expires"))
    return found


def amend_findings(book: LotBook, entry: Amended, today: dt.date) -> Findings:
    """What speaks against putting a lot right."""
    before = book.find(entry.material, entry.lot)
    if before is None:
        return Findings((_unknown(entry.material, entry.lot),))
    then = _amended(before, entry)
    found = _figures(then.grams, then.received, then.expires, today)
    if not entry.why.strip():
        found.append(_error("lot.why", "putting a lot right needs its reason", "--why TEXT"))
    if entry.unblocked and before.blocked is None:
        text = f"lot {before.lot} of {before.material} is not blocked"
        found.append(_error("lot.unblock", text, "leave --unblock out"))
    if entry.no_date and entry.expires is not None:
        found.append(_error("lot.correct", "a lot has a date or none", "--expires DATE, or --no-date"))
    if entry.empty:
        found.append(_error("lot.correct", "nothing is given to put right",
                            "--expires, --no-date, --received, --grams, --supplier, --supplier-lot or --unblock"))
    return Findings(tuple(found))


def _unknown(material: str, lot: str) -> Finding:
    return _error("lot.unknown", f"no lot {lot} of {material} is on record", "labeltool lot list")


def _differences(before: Lot, entry: Received) -> list[Finding]:
    name = f"lot {before.lot} of {before.material}"
    found = []
    if before.blocked is not None:
        found.append(Finding("lot.blocked", "warning", f"{name} is blocked: {before.blocked}"))
    if before.expires and entry.expires and before.expires != entry.expires:
        text = f"{name} is on record with the date {before.expires}, not {entry.expires}"
        do = (f"where the date on record is wrong: labeltool lot correct {before.lot} --material {before.material} "
              f"--expires {entry.expires} --why TEXT; another lot: receive it under another name")
        found.append(_error("lot.differs", text, do))
    if before.composition and entry.composition and _bare(before.composition) != _bare(entry.composition):
        text = f"{name} is on record with another composition"
        found.append(_error("lot.differs", text, "receive it under another name: a lot has one composition"))
    return found


def _bare(material: Material) -> tuple[object, ...]:
    """What makes a material what it is, without its place in a file."""
    parts = [
        tuple((item.inci, item.percent, item.nano, item.colorant, item.purpose) for item in components)
        for components in (material.made_of, material.as_made)
    ]
    return (*parts, material.fragrance, material.allergens, material.formula)


def block_findings(book: LotBook, entry: Blocked) -> Findings:
    """What speaks against blocking a lot."""
    found = []
    before = book.find(entry.material, entry.lot)
    if before is None:
        found.append(_unknown(entry.material, entry.lot))
    elif before.blocked is not None:
        text = f"lot {before.lot} of {before.material} is blocked already: {before.blocked}"
        found.append(Finding("lot.blocked", "note", text, do="both reasons are on record"))
    if not entry.why.strip():
        found.append(_error("lot.why", "blocking a lot needs its reason", "--why TEXT"))
    return Findings(tuple(found))


def stock(book: LotBook, used: Iterable[tuple[str, str | None, Decimal]]) -> tuple[tuple[Lot, Decimal | None], ...]:
    """Every lot with what is left of it after (material, lot, grams) uses; None where nobody said how much came."""
    gone: dict[tuple[str, str], Decimal] = {}
    for material, lot, grams in used:
        key = book.key(material, lot or "")
        gone[key] = gone.get(key, Decimal(0)) + grams
    return tuple(
        (lot, None if lot.grams is None else lot.grams - gone.get(key, Decimal(0))) for key, lot in book.by_key.items()
    )


def overdrawn(book: LotBook, used: Iterable[tuple[str, str | None, Decimal]]) -> Findings:
    """A warning for every lot of which more was weighed than was received."""
    return Findings(tuple(
        Finding(
            "lot.overdrawn", "warning", f"lot {lot.lot} of {lot.material}: {-left} g more weighed than received",
            do="correct the weighing, or receive what came besides",
        )
        for lot, left in stock(book, used) if left is not None and left < 0
    ))


def _error(rule: str, text: str, do: str) -> Finding:
    return Finding(rule, "error", text, do=do)
