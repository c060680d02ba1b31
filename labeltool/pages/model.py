"""What the pages say, before it is HTML."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Said:
    """Words of a label in one language. Newlines part the lines of an address."""

    text: str
    lang: str = "en"
    heading: str = ""


@dataclass(frozen=True, slots=True)
class Listed:
    """A list of names as one text, and the markets it is for."""

    text: str
    markets: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Inside:
    """A batch that lies in a gift set: how many of it, the path of its page, and its state where it was taken back."""

    code: str
    product: str
    count: int
    path: str
    state: str = ""


@dataclass(frozen=True, slots=True)
class PublicPage:
    """All that anybody may know of a batch: what its label says, when it was made, whether it was taken back.

    `groups`: the code's display groups. `state`: "withdrawn", "recalled", or "" for any other; `since` its day.
    `best_before`: as printed; `with_day` where it has a day, else it is a month's end. `opening`: months, or None.
    `net`: of every pack with labels, its name before it where that says more. `inside`: the batches of a gift set,
    which has no list of its own; `parts`: their lists and dates as the set's label has them.
    """

    code: str
    groups: tuple[str, ...]
    product: str
    languages: tuple[str, ...]
    made: dt.date
    state: str = ""
    since: str = ""
    brand: str = ""
    names: tuple[Said, ...] = ()
    functions: tuple[Said, ...] = ()
    net: tuple[str, ...] = ()
    best_before: str = ""
    with_day: bool = False
    opening: int | None = None
    lists: tuple[Listed, ...] = ()
    allergens: tuple[Listed, ...] = ()
    warnings: tuple[Said, ...] = ()
    directions: tuple[Said, ...] = ()
    contact: str = ""
    responsible: tuple[Said, ...] = ()
    origin: tuple[Said, ...] = ()
    inside: tuple[Inside, ...] = ()
    parts: tuple[Said, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """A table of the bench page. `numbers`: the columns set to the right."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Moment:
    """One event: when (UTC, ISO 8601), by whom, and what happened."""

    at: str
    by: str
    what: str


@dataclass(frozen=True, slots=True)
class BenchPage:
    """All that is on record of a batch, for those at the bench alone. `curve`: (grams added, pH) of every reading.

    `paths`: where its public page is answered. `lists`: each market's list. `inside`: the codes in a gift set.
    """

    code: str
    product: str
    state: str
    facts: tuple[tuple[str, str], ...]
    notices: tuple[tuple[str, str], ...]
    tables: tuple[Table, ...]
    lists: tuple[Listed, ...]
    timeline: tuple[Moment, ...]
    paths: tuple[str, ...] = ()
    inside: tuple[str, ...] = ()
    curve: tuple[tuple[Decimal, Decimal], ...] = ()
    span: tuple[Decimal, Decimal] | None = None


@dataclass(frozen=True, slots=True)
class BenchRow:
    """A batch in the list of the bench: its code, product, made date and state."""

    code: str
    product: str
    made: str
    state: str


@dataclass(frozen=True, slots=True)
class LookedUp:
    """What a typed code was found to be. `path`: its page's; `near`: (code, path) of those it could have meant.

    `slip`: its last two digits do not fit the rest.
    """

    typed: str = ""
    path: str | None = None
    near: tuple[tuple[str, str], ...] = ()
    slip: bool = False
