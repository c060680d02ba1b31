"""One table of an input file, with getters that check the type, report the fault at its line and go on."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeVar

from labeltool.finding import Where
from labeltool.formula.document import Document
from labeltool.formula.model import Span
from labeltool.formula.quantities import parse_date, parse_number, plain, shown
from labeltool.formula.report import Report
from labeltool.formula.tomllines import KeyPath
from labeltool.formula.values import bounds, control_in, fold, kind, out_of, read_number

T = TypeVar("T")

MOST_TEXT = 10_000


@dataclass(frozen=True, slots=True)
class Table:
    """The values of one table; `path` is its key path, `document` knows the lines, `report` takes the faults."""

    values: Mapping[str, Any]
    document: Document
    report: Report
    path: KeyPath = ()

    def where(self, *keys: str | int) -> Where:
        """The place of a key of this table, or of the table itself."""
        return self.document.where((*self.path, *keys))

    def has(self, key: str) -> bool:
        """Whether the key is given."""
        return key in self.values

    def wrong(self, key: str, found: object, allowed: str, *, rule: str = "value.type", do: str | None = None) -> None:
        """Report a value of the wrong kind."""
        text = f"{key} is {kind(found)} ({shown(found)})"
        self.report.error(rule, text, self.where(key), limit=allowed, do=do)

    def need(self, key: str, do: str | None = None) -> str | None:
        """A line of text that must be there."""
        value = self.values.get(key)
        if value is None or (isinstance(value, str) and not fold(value)):
            state = "missing" if value is None else "empty"
            self.report.error("key.missing", f"{key} is {state}", self.where(*(() if value is None else (key,))), do=do)
            return None
        return self.text(key)

    def text(self, key: str) -> str | None:
        """A line of text, white space folded; empty text is noted and read as not given."""
        if key not in self.values:
            return None
        value = self.values[key]
        if not isinstance(value, str):
            number = isinstance(value, int | Decimal) and not isinstance(value, bool)
            self.wrong(key, value, "text", do=f'write it in quotes: {key} = "{shown(value)}"' if number else None)
            return None
        return self._clean(key, value, self.where(key))

    def _clean(self, key: str, value: str, where: Where) -> str | None:
        text = fold(value)
        if odd := control_in(text):
            self.report.error("value.control", f"{key} holds the control character {odd}", where)
            return None
        if len(text) > MOST_TEXT:
            self.report.error("value.length", f"{key} has {len(text)} characters", where, limit=f"{MOST_TEXT}")
            return None
        if not text:
            self.report.note("value.empty", f"{key} is empty: read as not given", where)
        return text or None

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of lines of text."""
        value = self.values.get(key, [])
        if not isinstance(value, list):
            example = f'{key} = ["{value}"]' if isinstance(value, str) and len(value) < 60 else f'{key} = ["…"]'
            self.wrong(key, value, "a list of texts", do=f"write {example}")
            return ()
        found: list[str] = []
        for index, item in enumerate(value):
            if not isinstance(item, str):
                self.report.error("value.type", f"{key} holds {kind(item)} ({shown(item)})", self.where(key, index),
                                  limit="texts")
            elif text := self._clean(key, item, self.where(key, index)):
                found.append(text)
        return tuple(found)

    def flag(self, key: str, default: bool) -> bool:
        """true or false."""
        value = self.values.get(key, default)
        if isinstance(value, bool):
            return value
        self.wrong(key, value, "true or false, without quotes")
        return default

    def word(self, key: str, known: Iterable[str], *, rule: str = "value.word") -> str | None:
        """One of the known words."""
        text = self.text(key)
        return text if text is None or self._known(key, text, tuple(known), self.where(key), rule) else None

    def words(self, key: str, known: Iterable[str], *, rule: str = "value.word") -> tuple[str, ...]:
        """A list of known words, each once."""
        allowed = tuple(known)
        if self.has(key) and self.values[key] == []:
            self.report.error("value.empty-list", f"{key} is an empty list", self.where(key),
                              limit=", ".join(allowed), do="name one, or leave the key out")
        found = [text for index, text in enumerate(self.texts(key))
                 if self._known(key, text, allowed, self.where(key, index), rule)]
        return tuple(dict.fromkeys(found))

    def _known(self, key: str, text: str, known: Sequence[str], where: Where, rule: str) -> bool:
        if text in known:
            return True
        limit = ", ".join(known) if len(known) <= 60 else None
        self.report.error(rule, f"{key} {shown(text)} is not known", where, limit=limit,
                          do=self.report.did_you_mean(text, known))
        return False

    def parsed(self, key: str, parse: Callable[[str], T | str], rule: str) -> T | None:
        """A text that `parse` reads; the str that it answers with otherwise is the fault."""
        text = self.text(key)
        if text is None:
            return None
        found = parse(text)
        if isinstance(found, str):
            self.report.error(rule, f"{key}: {found}", self.where(key))
            return None
        return found

    def number(self, key: str, *, least: Decimal, most: Decimal, above: bool = False,
               parse: Callable[[str], Decimal | str] = parse_number) -> Decimal | None:
        """A number from `least` (not itself where `above`) to `most`; a text is read by `parse`."""
        if key not in self.values:
            return None
        found = read_number(self.values[key], parse)
        fault = found if isinstance(found, str) else out_of(found, least, most, above)
        if fault:
            self.report.error("value.number", f"{key}: {fault}", self.where(key), limit=bounds(least, most, above))
            return None
        return found if isinstance(found, Decimal) else None

    def span(self, key: str, *, least: Decimal, most: Decimal, single: bool = True,
             parse: Callable[[str], Decimal | str] = parse_number) -> Span | None:
        """A number, or [low, high]."""
        value = self.values.get(key)
        ends = value if isinstance(value, list) else [value, value] if single else []
        limit = f"{'a number, or ' if single else ''}[low, high] from {plain(least)} to {plain(most)}"
        if value is None:
            return None
        if len(ends) != 2:
            self.report.error("value.range", f"{key} is {shown(value)}", self.where(key), limit=limit)
            return None
        low, high = (read_number(item, parse) for item in ends)
        faults = [end if isinstance(end, str) else out_of(end, least, most, False) for end in (low, high)]
        fault = faults[0] or faults[1]
        if isinstance(low, Decimal) and isinstance(high, Decimal) and not fault:
            if low <= high:
                return Span(low, high)
            fault = f"the low end {low} is above the high end {high}"
        self.report.error("value.range", f"{key}: {fault}", self.where(key), limit=limit)
        return None

    def date(self, key: str) -> dt.date | None:
        """A day, as a TOML date or as ISO text."""
        value = self.values.get(key)
        if isinstance(value, dt.datetime):
            return value.date()
        if isinstance(value, dt.date):
            return value
        return self.parsed(key, parse_date, "value.date")

    def table(self, key: str) -> Table | None:
        """A table inside this one."""
        if key not in self.values:
            return None
        value = self.values[key]
        if not isinstance(value, dict):
            self.wrong(key, value, "a table", do=f"write [{key}] on a line of its own, and its keys below")
            return None
        return Table(value, self.document, self.report, (*self.path, key))

    def tables(self, key: str) -> tuple[Table, ...]:
        """A list of tables inside this one."""
        value = self.values.get(key, [])
        if not isinstance(value, list):
            self.wrong(key, value, f"a list of tables: [[{key}]], or {key} = [ {{ … }} ]")
            return ()
        found: list[Table] = []
        for index, item in enumerate(value):
            if isinstance(item, dict):
                found.append(Table(item, self.document, self.report, (*self.path, key, index)))
            else:
                self.report.error("value.type", f"{key} holds {kind(item)} ({shown(item)})", self.where(key, index),
                                  limit="tables: { … }")
        return tuple(found)
