"""What the record takes and gives back: frozen values, none of them tied to a store."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, Literal

from labeltool.errors import InputError
from labeltool.finding import Finding

OPEN, STATE, REVISE, PRINT = "open", "state", "revise", "print"
State = Literal["open", "released", "withdrawn", "recalled", "cancelled"]
PRINTABLE: tuple[State, ...] = ("open", "released")


class CodeTaken(InputError):
    """Another batch took this code meanwhile, in any spelling; take the next one."""

    def __init__(self, code: str) -> None:
        text = f"batch code {code} is taken, and a code is never used again"
        super().__init__([Finding("batch.code-taken", "error", text, do="take the next code")])


@dataclass(frozen=True, slots=True)
class Once:
    """A caller's key for an operation that must not happen twice.

    `args`: plain JSON of everything that decides the outcome. `step` tells the events of one operation apart ("open",
    "print"; a code, a row). `answer` makes the JSON result from what the verb returns; it is stored in the event's
    own transaction, and the operation counts as done once one of its steps has a result.
    """

    key: str
    args: Any
    step: str = ""
    answer: Callable[[Any], Any] | None = None


@dataclass(frozen=True, slots=True)
class Onced:
    """What the record knows of a key: SHA-256 of its arguments, its result once done, its (step, event) pairs."""

    key: str
    args_sha256: str
    done: bool
    result: Any
    steps: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Event:
    """One entry of the log. `number` counts from 1 without gaps; `batch` is a code key; `at` is UTC, ISO 8601.

    `nth` numbers events of a kind within a batch where that matters (prints). `once` holds key, step, args, result.
    """

    number: int
    id: str
    kind: str
    batch: str | None
    nth: int | None
    by: str | None
    at: str
    data: Any
    once: Mapping[str, Any] | None
    hash: str


@dataclass(frozen=True, slots=True)
class Opening:
    """A batch to be opened. `frozen` is plain JSON: workshop, formula, materials. `key` is the random link key."""

    code: str
    code_key: str
    stem: str
    made: dt.date
    product: str
    formula_key: str
    version: str
    size_g: Decimal | None
    key: str
    frozen: Any
    by: str | None
    at: str
    once: Once | None = None
    id: str = ""


@dataclass(frozen=True, slots=True)
class Batch:
    """A batch as it stands now. `frozen` is the latest revision, `revisions` how many followed the opening.

    `size_g` is the size given when it was opened. `since` and `why` tell when and why it came into its state.
    """

    code: str
    code_key: str
    stem: str
    made: dt.date
    product: str
    formula_key: str
    version: str
    size_g: Decimal | None
    key: str
    frozen: Any = field(repr=False)
    by: str | None
    at: str
    state: State = "open"
    since: str = ""
    why: str | None = None
    revisions: int = 0


@dataclass(frozen=True, slots=True)
class Listed:
    """A batch as a row of a list: its state now, and what was printed of it."""

    code: str
    product: str
    version: str
    made: dt.date
    state: State
    by: str | None
    size_g: Decimal | None
    labels: int
    prints: int


@dataclass(frozen=True, slots=True)
class Words:
    """What decides whether a later print supersedes an earlier one: list, warnings and date as printed."""

    declaration: str
    warnings: tuple[str, ...]
    date: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintFacts:
    """What is known of labels before and after they are printed. `code` is the batch's.

    `file` is relative to the workshop folder where it lies inside; `stock`, `frames` (one a label of the set), `text`
    (LabelText), `correction` and `extra` are plain JSON. `reprint_of` is the number of the print repeated; `reset`
    tells that frozen words were set anew for another stock. `places` count from 1, and are empty where `skip` says all.
    """

    code: str
    artworks: tuple[str, ...]
    labels: int
    sheets: int
    skip: int
    places: tuple[int, ...]
    stock: Any
    frames: tuple[Any, ...] = field(repr=False)
    text: Any = field(repr=False)
    words: Words
    file: str
    sha256: str
    markets: tuple[str, ...]
    languages: tuple[str, ...]
    at: str
    by: str | None
    pack: str = ""
    printer: str | None = None
    correction: Any = None
    why: str | None = None
    reprint_of: int | None = None
    reset: bool = False
    extra: Any = None

    @property
    def label(self) -> str | None:
        """Which of its pack's labels it is; None where the pack has none of its own."""
        found = (self.extra or {}).get("label")
        return None if found is None else str(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintOrder(PrintFacts):
    """Labels about to be printed: `code` in any spelling, `{n}` in `file` becomes the print's number."""

    once: Once | None = None
    id: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintRow(PrintFacts):
    """A print on record. `number` counts from 1 within the batch; `superseded`: a later print says something else."""

    number: int
    superseded: bool = False
