"""What a value of an input file is: text tidied, kinds in words, numbers within bounds."""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
from collections.abc import Callable
from decimal import Decimal

from labeltool.formula.quantities import parse_number, plain, shown

_FOLD = re.compile(r"\s+")
_CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff]")


def fold(text: str) -> str:
    """Text in composed form (NFC), every run of white space as one space."""
    return _FOLD.sub(" ", unicodedata.normalize("NFC", text)).strip()


def control_in(text: str) -> str | None:
    """The first control character or lone surrogate of a text as U+…; None where there is none."""
    found = _CONTROL.search(text)
    return f"U+{ord(found.group()):04X}" if found else None


def kind(value: object) -> str:
    """What a TOML value is, in words."""
    kinds: tuple[tuple[type | tuple[type, ...], str], ...] = (
        (bool, "true or false"), (str, "text"), ((int, Decimal, float), "a number"), ((list, tuple), "a list"),
        (dict, "a table"), ((dt.date, dt.time), "a date or time"),
    )
    return next((words for types, words in kinds if isinstance(value, types)), "another kind of value")


def read_number(value: object, parse: Callable[[str], Decimal | str] = parse_number) -> Decimal | str:
    """A TOML value as a number of at most 20 digits and a common size; or what is wrong with it."""
    if isinstance(value, str):
        return parse(value)
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        return f"{shown(value)} is {kind(value)}, not a number"
    if isinstance(value, int) and value.bit_length() > 60:
        return f"{shown(value)} is too large"
    found = Decimal(value)
    if not found.is_finite():
        return f"{value} is not a finite number"
    if not found:
        return Decimal(0)
    exponent = found.as_tuple().exponent
    if len(found.as_tuple().digits) > 20 or found.adjusted() >= 20 or not isinstance(exponent, int) or exponent < -20:
        return f"{shown(value)} has too many digits"
    return found


def out_of(value: Decimal, least: Decimal, most: Decimal, above: bool) -> str | None:
    """What is wrong with a number outside its bounds; None where it is inside."""
    if least < value <= most or (value == least and not above):
        return None
    return f"{plain(value)} is outside what can be"


def bounds(least: Decimal, most: Decimal, above: bool) -> str:
    """The bounds in words."""
    return f"more than {plain(least)}, at most {plain(most)}" if above else f"{plain(least)} to {plain(most)}"
