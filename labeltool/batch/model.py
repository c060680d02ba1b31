"""The bench as values: the plan, what was entered, and the state it folds to. Masses in grams, as Decimals."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One row of the weighing plan; `line` is the formula's.

    `grams` is None for a "to pH" row and where the batch has no size yet. `most_g` is how much of a "to pH" row its
    formula counts with. `tolerance` is the row's own, as written.
    """

    line: int
    phase: str
    material: str
    kind: Literal["amount", "qs", "to-ph"]
    percent: Decimal
    grams: Decimal | None
    most_g: Decimal | None = None
    tolerance: str | None = None
    purpose: str | None = None

    @property
    def planned(self) -> bool:
        """Whether a batch is incomplete without it."""
        return self.kind != "to-ph" and self.percent > 0


@dataclass(frozen=True, slots=True)
class Size:
    """The batch's size, said at the bench where it was opened without."""

    grams: Decimal


@dataclass(frozen=True, slots=True)
class Weighing:
    """A weighed mass. `line` is None only until it has found its place; lines past the plan are additions."""

    material: str
    grams: Decimal
    line: int | None = None
    lot: str | None = None
    expires: dt.date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """A measured value: pH, viscosity, temperature; `celsius` is the sample's temperature."""

    name: str
    value: Decimal
    unit: str = ""
    celsius: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Yield:
    """The mass that came out."""

    grams: Decimal


@dataclass(frozen=True, slots=True)
class Filled:
    """How many of a pack were filled; the one pack without a name is ""."""

    count: int
    pack: str = ""


Fate = Literal["spoiled", "left", "destroyed"]


@dataclass(frozen=True, slots=True)
class Counted:
    """How many labels of a print came to that end, all in all. `label`: which of the print's labels, by its name."""

    number: int
    fate: Fate
    count: int
    label: str = ""

    @property
    def place(self) -> tuple[int, str, str]:
        """What one count stands for; another of the same place is a correction."""
        return self.number, self.label, self.fate


@dataclass(frozen=True, slots=True)
class Note:
    """Words for the record."""

    text: str


@dataclass(frozen=True, slots=True)
class Correction:
    """An entry that stands in the place of an earlier one, with the reason. The earlier one stays on record."""

    entry: Weighing | Reading | Yield | Filled | Counted
    why: str


Entry = Size | Weighing | Reading | Yield | Filled | Counted | Note | Correction


@dataclass(frozen=True, slots=True)
class Logged:
    """An entry as it lies on record: when (UTC, ISO 8601) and by whom."""

    entry: Entry
    at: str
    by: str | None = None


@dataclass(frozen=True, slots=True)
class Weighed:
    """A weighing that stands. `before`: the masses that corrections replaced, first to last; `why`: the last reason."""

    line: int
    phase: str
    material: str
    grams: Decimal
    lot: str | None
    expires: dt.date | None
    note: str
    at: str
    by: str | None
    before: tuple[Decimal, ...] = ()
    why: str | None = None


@dataclass(frozen=True, slots=True)
class Measured:
    """A reading that stands."""

    name: str
    value: Decimal
    unit: str
    celsius: Decimal | None
    at: str
    by: str | None


@dataclass(frozen=True, slots=True)
class Bench:
    """A batch at the bench: the plan and what stands of all that was entered.

    `filled` is (pack, count) pairs; `counts` are of the labels of its prints.
    """

    size_g: Decimal | None
    plan: tuple[PlanRow, ...]
    weighed: tuple[Weighed, ...] = ()
    readings: tuple[Measured, ...] = ()
    yield_g: Decimal | None = None
    filled: tuple[tuple[str, int], ...] = ()
    notes: tuple[Logged, ...] = ()
    corrections: tuple[Logged, ...] = ()
    counts: tuple[Counted, ...] = ()

    def row(self, line: int) -> PlanRow | None:
        """The plan's row of that line; None past the plan."""
        return next((row for row in self.plan if row.line == line), None)

    def count(self, number: int, label: str, fate: str) -> int | None:
        """How many labels of a print came to that end; None where nobody counted."""
        return next((item.count for item in self.counts if item.place == (number, label, fate)), None)

    def on_line(self, line: int) -> tuple[Weighed, ...]:
        """The weighings that stand on a line."""
        return tuple(item for item in self.weighed if item.line == line)

    def grams_on(self, line: int) -> Decimal:
        """The mass that stands on a line."""
        return sum((item.grams for item in self.on_line(line)), Decimal(0))

    @property
    def next_line(self) -> int:
        """The line that the next addition beyond the plan takes."""
        lines = [row.line for row in self.plan] + [item.line for item in self.weighed]
        return 1 + max(lines, default=0)

    @property
    def additions(self) -> tuple[Weighed, ...]:
        """What was weighed on no line of the plan."""
        lines = {row.line for row in self.plan}
        return tuple(item for item in self.weighed if item.line not in lines)
