"""The table of colorants: which names are colours, what each market calls them, and where they are not permitted.

EU and UK: Annex IV of Regulation (EC) No 1223/2009. US: the color additives of 21 CFR 73 and 74. Canada has no list of
its own: what either list knows is a colouring agent there, by the Colour Index number where there is one, mica aside.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from labeltool.compose.names import key
from labeltool.formula.model import MARKETS

UsStatus = Literal["exempt", "certified", "no", "unclear", "unlisted"]
EU_LIKE = ("UK", "EU")
_INDEX = re.compile(r"ci(\d{5})(:\d+)?")
_SHORT = re.compile(r"^((?:Ext\. )?)(?:FD&C |D&C )(\w+) No\. (\d+)$")


@dataclass(frozen=True, slots=True)
class Colour:
    """One colorant. `name`: what EU and UK print. `annex_iv`: it is in the EU list.

    `us_names`: what the US prints; several where the maker must say which. `ordinary`: the US name is also that of an
    ordinary ingredient, so that only the maker can say that it colours. `as_written`: print the maker's own word.
    """

    name: str
    nano: bool = False
    also: tuple[str, ...] = ()
    ordinary: bool = False
    as_written: bool = False
    annex_iv: bool = False
    us_status: UsStatus = "unlisted"
    us_names: tuple[str, ...] = ()
    us_note: str = ""
    us_source: str = ""
    source: str = ""
    confidence: str = "memory"

    @property
    def us_permitted(self) -> bool:
        """The US lists it as a colour for cosmetics, or the text read does not decide."""
        return self.us_status in ("exempt", "certified", "unclear")

    @property
    def us_only(self) -> bool:
        """In the US list and not in Annex IV."""
        return not self.annex_iv


@dataclass(frozen=True, slots=True)
class NotColour:
    """What is taken for a colorant and is none in these markets; `write` is what to put instead."""

    name: str
    markets: tuple[str, ...]
    note: str
    write: str
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class ColourTable:
    """Colorants by the name the EU prints, by their US names, and by other names people use (keys of `names.key`)."""

    rows: Mapping[tuple[str, bool], Colour] = field(default_factory=dict)
    us: Mapping[str, tuple[Colour, ...]] = field(default_factory=dict)
    also: Mapping[str, tuple[Colour, ...]] = field(default_factory=dict)
    refused: Mapping[str, NotColour] = field(default_factory=dict)

    def find(self, name: str, nano: bool = False) -> Colour | None:
        """The row of a colour by the name it is printed under; a salt or lake (CI 15850:1) has its colour's row."""
        word = key(name)
        found = self.rows.get((word, nano)) or self.rows.get((word, False))
        index = _INDEX.fullmatch(word)
        return found or (self.rows.get((f"ci{index[1]}", False)) if index else None)

    def meant(self, name: str, nano: bool = False) -> Colour | None:
        """The one row that somebody calling a colour `name` can only have meant; None for none or several."""
        found = self.find(name, nano)
        if found:
            return found
        others = self.us.get(key(name), ()) + self.also.get(key(name), ())
        alike = {row.name: row for row in others if row.nano == nano}
        return next(iter(alike.values())) if len(alike) == 1 else None

    def choices(self, name: str) -> tuple[str, ...]:
        """The names that EU, UK and Canada print for what somebody calls `name`."""
        others = self.us.get(key(name), ()) + self.also.get(key(name), ())
        return tuple(dict.fromkeys(row.name for row in others if row.annex_iv))

    def us_names(self, name: str, nano: bool = False) -> tuple[str, ...]:
        """The names under which the US permits what is written as `name`; several where the maker must say which."""
        word = key(name)
        listed = [us for row in self.us.get(word, ()) for us in row.us_names]
        written = [us for us in listed if word in (key(us), key(short(us)))]
        row = self.meant(name, nano)
        return tuple(dict.fromkeys(written)) or (row.us_names if row and row.us_permitted else ())

    def markets(self, name: str, nano: bool = False) -> tuple[str, ...]:
        """The markets in which a name is a colorant when the maker says nothing.

        A Colour Index number is one everywhere, known or not, other names where their table lists them; a US name
        counts in every market, so that a wrong name is noticed, unless it is an ordinary ingredient's as well.
        """
        row = self.find(name, nano)
        if row and row.us_only and not is_index(row.name):
            return () if row.ordinary else ("US",)
        if row or is_index(name):
            return MARKETS
        named = self.us.get(key(name), ())
        return MARKETS if any(not item.ordinary for item in named) else ()


def is_index(name: str) -> bool:
    """Whether the name is a Colour Index number."""
    return _INDEX.fullmatch(key(name)) is not None


def short(us_name: str) -> str:
    """The short form of a certified colour's name that the US trade uses: "Red 40" for FD&C Red No. 40."""
    return _SHORT.sub(r"\1\2 \3", us_name)


def colour_table(table: Mapping[str, Any]) -> ColourTable:
    """The colorants of a parsed colorants.toml."""
    rows = [_colour(row) for row in table["colour"]]
    refused = [_refused(row) for row in table["not-colour"]]
    words = [(word, row) for row, also in refused for word in (row.name, *also)]
    return ColourTable(
        rows={(key(row.name), row.nano): row for row in rows},
        us=_by(rows, lambda row: (*row.us_names, *map(short, row.us_names))),
        also=_by(rows, lambda row: row.also),
        refused={key(word): row for word, row in words},
    )


def _by(rows: Iterable[Colour], words: Callable[[Colour], Iterable[str]]) -> dict[str, tuple[Colour, ...]]:
    found: dict[str, tuple[Colour, ...]] = {}
    for row in rows:
        for word in dict.fromkeys(map(key, words(row))):
            found[word] = (*found.get(word, ()), row)
    return found


def _colour(row: Mapping[str, Any]) -> Colour:
    us = row.get("us", {})
    return Colour(
        name=row["name"],
        nano=row.get("nano", False),
        also=tuple(row.get("also", ())),
        ordinary=row.get("ordinary", False),
        as_written=row.get("as-written", False),
        annex_iv="eu" in row,
        us_status=us.get("status", "unlisted"),
        us_names=tuple(us.get("names", ())),
        us_note=us.get("note", ""),
        us_source=us.get("source", ""),
        source=row["source"],
        confidence=row["confidence"],
    )


def _refused(row: Mapping[str, Any]) -> tuple[NotColour, tuple[str, ...]]:
    found = NotColour(
        row["name"], tuple(row["markets"]), row["note"], row["write"], row["source"], row["confidence"],
    )
    return found, tuple(row["also"])
