"""Rows of the annexes as values: what they name, whom they bind, what they allow, and what they put on a label."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any, Literal

from labeltool.rules.scope import ALWAYS, When, when_of
from labeltool.rules.terms import Term, term_of

Elsewhere = Literal["free", "ask", "no"]
Cap = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True)
class Limit:
    """One scope of a row: at most `max` percent (None: no limit) and a pH inside `ph`.

    `together`: other rows that count to the sum; `if_together`: only where those are there. `several`: only where
    more than one name is there. `each`: every name has the limit of its own. `of`: only these names count.
    """

    id: str
    scope: str
    when: When = ALWAYS
    max: Decimal | None = None
    ph: tuple[Decimal, Decimal] | None = None
    together: tuple[str, ...] = ()
    if_together: bool = False
    several: bool = False
    each: bool = False
    of: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Text:
    """A text of wordings.toml: due where one of `rows` (limit ids; none: always) applies, `when` fits, and the amount
    exceeds `above`."""

    key: str
    rows: tuple[str, ...] = ()
    when: When = ALWAYS
    above: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Refusal:
    """A use that a row forbids, in the row's words."""

    when: When
    text: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One row of Annex III, V or VI, or of the Canadian list, for one market."""

    ref: str
    market: str
    names: tuple[str, ...]
    starts: tuple[str, ...] = ()
    basis: str | None = None
    purpose: str | None = None
    twin: str | None = None
    example: str | None = None
    elsewhere: Elsewhere = "free"
    limits: tuple[Limit, ...] = ()
    texts: tuple[Text, ...] = ()
    refusals: tuple[Refusal, ...] = ()
    asks: tuple[tuple[str, tuple[str, ...]], ...] = ()
    conditions: tuple[str, ...] = ()
    doubt: str | None = None
    cap: Cap = "error"
    nano: bool = False
    ordinary: bool = False
    releases: bool = False
    note: str = ""
    term: Term = field(default_factory=Term)
    source: str = ""
    confidence: str = "memory"

    @property
    def place(self) -> str:
        """The row as messages cite it."""
        return self.source


def entries_of(table: Mapping[str, Any], word: str = "entry") -> tuple[Entry, ...]:
    """The rows of a parsed table, one value for each market of a row."""
    return tuple(entry for row in table[word] for entry in _markets(row))


def at(entries: tuple[Entry, ...], market: str, on: dt.date) -> tuple[Entry, ...]:
    """The rows that bind what is placed on a market that day."""
    return tuple(entry for entry in entries if entry.market == market and entry.term.covers(on))


def after(entries: tuple[Entry, ...], market: str, on: dt.date) -> tuple[Entry, ...]:
    """The rows that will bind a market later."""
    return tuple(entry for entry in entries if entry.market == market and entry.term.comes_after(on))


def _markets(row: Mapping[str, Any]) -> tuple[Entry, ...]:
    entry = _entry(row)
    found = []
    for market in row["markets"]:
        own = replace(entry, market=market)
        if market == "UK":
            own = british(own, row.get("uk"))
        found.append(own)
    return tuple(found)


def british(entry: Entry, uk: Mapping[str, Any] | None) -> Entry:
    """The row as it stands in Great Britain: assimilated, or with the source, dates and confidence of its own."""
    source = assimilated(entry.source)
    if uk is None:
        return replace(entry, source=source)
    term = term_of(uk) if "from" in uk else Term()
    return replace(entry, term=term, confidence=uk["confidence"], source=f"{source} ({uk['source']})")


def assimilated(source: str) -> str:
    """The source as British law has it; what is no act stays as it is."""
    return f"assimilated {source}" if source.startswith("Regulation") else source


def _entry(row: Mapping[str, Any]) -> Entry:
    return Entry(
        ref=row["ref"],
        market="",
        names=(*row.get("names", ()), *row.get("also", ())),
        starts=tuple(row.get("starts", ())),
        basis=row.get("basis"),
        purpose=row.get("purpose"),
        twin=row.get("twin"),
        example=row.get("example"),
        elsewhere=row.get("elsewhere", "free"),
        limits=tuple(map(_limit, row.get("limits", ()))),
        texts=tuple(map(_text, row.get("texts", ()))),
        refusals=tuple(Refusal(when_of(item["when"]), item["text"]) for item in row.get("refusals", ())),
        asks=tuple((item["text"], tuple(item.get("rows", ()))) for item in row.get("asks", ())),
        conditions=tuple(row.get("conditions", ())),
        doubt=row.get("doubt"),
        cap=row.get("cap", "error"),
        nano=row.get("nano", False),
        ordinary=row.get("ordinary", False),
        releases=row.get("releases", False),
        note=row.get("note", ""),
        term=term_of(row),
        source=row["source"],
        confidence=row["confidence"],
    )


def _limit(row: Mapping[str, Any]) -> Limit:
    ph = row.get("ph")
    return Limit(
        row["id"], row["scope"], when_of(row.get("when", {})), Decimal(row["max"]) if "max" in row else None,
        (Decimal(ph[0]), Decimal(ph[1])) if ph else None, tuple(row.get("with", ())), row.get("if-with", False),
        row.get("several", False), row.get("each", False), tuple(row.get("of", ())),
    )


def _text(row: Mapping[str, Any]) -> Text:
    above = Decimal(row["above"]) if "above" in row else None
    return Text(row["key"], tuple(row.get("rows", ())), when_of(row.get("when", {})), above)
