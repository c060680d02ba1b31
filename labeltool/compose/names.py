"""The table of ingredient names: one key for every spelling, the glossary's own, market names, the nearest known."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

CUTOFF = 0.86
_DASHES = {ord(dash): "-" for dash in "\u2010\u2011\u2012\u2013\u2014\u2212"}
_QUOTES = {ord(quote): "'" for quote in "\u2018\u2019\u02bc\u00b4`"}
_NUMBERS = re.compile(r"\d+")
_NANO = re.compile(r"\s*[(\[]\s*nano\s*[)\]]\s*$", re.IGNORECASE)


def plain(name: str) -> str:
    """The name with single spaces between words and none around it; otherwise as written."""
    return " ".join(unicodedata.normalize("NFC", name).split())


@lru_cache(maxsize=8192)
def key(name: str) -> str:
    """What two spellings of one name share: case, spaces, kinds of dashes and apostrophes set aside."""
    if name.isascii():  # most names are: the same by a shorter way
        return "".join(name.replace("`", "'").lower().split())
    flat = unicodedata.normalize("NFKC", name).translate(_DASHES | _QUOTES).casefold()
    return "".join(letter for letter in flat if not letter.isspace() and unicodedata.category(letter) != "Cf")


def part_nano(name: str) -> tuple[str, bool]:
    """The name without a written "(nano)" at its end, and whether it had one."""
    bare = _NANO.sub("", plain(name))
    return (bare, bare != plain(name)) if bare else (plain(name), False)


@dataclass(frozen=True, slots=True)
class Name:
    """One row: the EU glossary name, the US name, and the (English, French) pair of the Canadian Schedule."""

    eu: str
    us: str
    ca: tuple[str, str] | None = None
    everyday: tuple[str, ...] = ()
    source: str = ""
    confidence: str = "memory"


@dataclass(frozen=True, slots=True)
class NameTable:
    """Known names by key, everyday and US names by key for hints, and all that is near by the digits it holds."""

    rows: Mapping[str, Name] = field(default_factory=dict)
    hints: Mapping[str, Name] = field(default_factory=dict)
    us: Mapping[str, Name] = field(default_factory=dict)
    near: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def find(self, name: str) -> Name | None:
        """The row whose glossary name this is, in any spelling."""
        return self.rows.get(key(name))

    def spelled(self, name: str) -> str:
        """The glossary's spelling where the table knows the name, else the name as written."""
        row = self.find(name)
        return row.eu if row else plain(name)

    def nearest(self, name: str) -> str | None:
        """The glossary name that was probably meant: an everyday or US name of it, or one a few letters away."""
        hinted = self.us.get(key(name)) or self.hints.get(key(name))
        return hinted.eu if hinted else self._alike(key(name))

    def _alike(self, wanted: str) -> str | None:
        near = [known for known in self.near.get(_digits(wanted), ()) if abs(len(known) - len(wanted)) <= 3]
        found = difflib.get_close_matches(wanted, near, n=1, cutoff=CUTOFF)
        return (self.rows.get(found[0]) or self.hints[found[0]]).eu if found else None


def name_table(table: Mapping[str, Any]) -> NameTable:
    """The names of a parsed names.toml."""
    found = [_name(row) for row in table["names"]]
    rows = {key(row.eu): row for row in found}
    us = {key(row.us): row for row in found if key(row.us) not in rows}
    hints = {word: row for word, row in _everyday(found) if word not in rows and word not in us}
    near: dict[str, tuple[str, ...]] = {}
    for word in (*rows, *hints):
        near[_digits(word)] = (*near.get(_digits(word), ()), word)
    return NameTable(rows, hints, us, near)


def _digits(word: str) -> str:
    """The numbers in a name: names that differ in one are different things, not a slip of the pen."""
    return " ".join(_NUMBERS.findall(word))


def _everyday(rows: Iterable[Name]) -> Iterable[tuple[str, Name]]:
    """Everyday words in table order, the first row last so that it wins."""
    pairs = [(key(word), row) for row in rows for word in row.everyday]
    return reversed(pairs)


def _name(row: Mapping[str, Any]) -> Name:
    ca = row.get("ca")
    return Name(
        eu=row["eu"],
        us=row.get("us", row["eu"]),
        ca=(ca[0], ca[1]) if ca else None,
        everyday=tuple(row.get("everyday", ())),
        source=row["source"],
        confidence=row["confidence"],
    )
