"""The shape of a batch code: fields of date, sequence, product and check digits, and how they are written out."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from labeltool.coding.checkdigits import DIGITS, LETTERS, mod97_check
from labeltool.errors import input_error

MAX_LENGTH = 20
MAX_PRODUCT = 6
CODE_CHARACTERS = frozenset(DIGITS + LETTERS + "-")
SEQ_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # no I, no O

Kind = Literal["text", "date", "seq", "product", "check"]


@dataclass(frozen=True, slots=True)
class DateField:
    """One date field: its width, its lowest and highest value, and its value on a day. Never asks the locale."""

    width: int
    low: int
    high: int
    value: Callable[[dt.date], int]

    def written(self, day: dt.date) -> str:
        """The field on `day`, zero-filled."""
        return f"{self.value(day):0{self.width}d}"


def _week_of_year(day: dt.date, first: int) -> int:
    """Week 00 to 53 of the calendar year, weeks beginning on weekday `first` (0 Monday, 6 Sunday)."""
    return (day.timetuple().tm_yday + 6 - (day.weekday() - first) % 7) // 7


DATE_FIELDS: dict[str, DateField] = {
    "Y": DateField(4, 1, 9999, lambda day: day.year),
    "y": DateField(2, 0, 99, lambda day: day.year % 100),
    "m": DateField(2, 1, 12, lambda day: day.month),
    "d": DateField(2, 1, 31, lambda day: day.day),
    "j": DateField(3, 1, 366, lambda day: day.timetuple().tm_yday),
    "G": DateField(4, 1, 9999, lambda day: day.isocalendar().year),
    "g": DateField(2, 0, 99, lambda day: day.isocalendar().year % 100),
    "V": DateField(2, 1, 53, lambda day: day.isocalendar().week),
    "u": DateField(1, 1, 7, lambda day: day.isoweekday()),
    "w": DateField(1, 0, 6, lambda day: day.isoweekday() % 7),
    "U": DateField(2, 0, 53, lambda day: _week_of_year(day, 6)),
    "W": DateField(2, 0, 53, lambda day: _week_of_year(day, 0)),
}


@dataclass(frozen=True, slots=True)
class Token:
    """One part of a pattern; `text` is the literal, or the letter of the date field."""

    kind: Kind
    text: str = ""

    def widest(self) -> int:
        """Most characters of this part, with one sequence letter."""
        if self.kind == "date":
            return DATE_FIELDS[self.text].width
        return {"text": len(self.text), "seq": 1, "product": MAX_PRODUCT, "check": 2}[self.kind]


@dataclass(frozen=True, slots=True)
class Pattern:
    """A batch code pattern, read and checked: the text it came from and its parts."""

    text: str
    tokens: tuple[Token, ...]

    def has(self, kind: Kind) -> bool:
        """Whether a part of that kind stands in it."""
        return any(token.kind == kind for token in self.tokens)

    def render(self, made: dt.date, seq: str, product: str | None = None) -> str:
        """The code made on `made` with that sequence text. Raises InputError where {product} has no code to write,
        or the code would pass 20 characters."""
        body = "".join(self._written(token, made, seq, product) for token in self.tokens)
        code = body + mod97_check(body) if self.has("check") else body
        if len(code) > MAX_LENGTH:
            raise input_error("batch.code-length", f"the batch code {code} has {len(code)} characters",
                              limit=f"{MAX_LENGTH} at most", do="shorten [batch] code in workshop.toml")
        return code

    def stem(self, made: dt.date, product: str | None = None) -> str:
        """All fields but the sequence, which is shown as "*"; codes of one stem count up."""
        return "".join(self._written(token, made, "*", product) for token in self.tokens)

    def _written(self, token: Token, made: dt.date, seq: str, product: str | None) -> str:
        if token.kind == "date":
            return DATE_FIELDS[token.text].written(made)
        if token.kind == "product":
            return _product(product)
        return {"text": token.text, "seq": seq, "check": ""}[token.kind]


def _product(product: str | None) -> str:
    if product and len(product) <= MAX_PRODUCT and set(product) <= set(DIGITS + LETTERS):
        return product
    raise input_error("batch.code-product", "the batch code pattern has {product}, and the product has no code for it",
                      limit="1 to 6 of A-Z, 0-9", do='write code = "…" under [product] of the formula')


def code_key(code: str) -> str:
    """What tells codes apart: case and dashes aside."""
    return code.upper().replace("-", "")
