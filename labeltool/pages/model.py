"""What the pages say, before it is HTML."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field


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
class PublicPage:
    """All that anybody may know of a batch: what its label says, when it was made, whether it was taken back.

    `groups`: the code's display groups. `state`: "withdrawn", "recalled", or "" for any other; `since` its day.
    `best_before`: as printed; `with_day` where it has a day, else it is a month's end. `opening`: months, or None.
    `packs`: the names of the packs with labels; empty where there is the one without a name.
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
    packs: tuple[str, ...] = field(default=())
