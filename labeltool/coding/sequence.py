"""The sequence letters of a batch code: A, B, … Z, AA, …, without I and O."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable

from labeltool.coding.shape import SEQ_LETTERS, Pattern, code_key


def seq_text(number: int) -> str:
    """The letters of place `number`, counted from 1. Raises ValueError below 1."""
    if number < 1:
        raise ValueError("places count from 1")
    letters = ""
    while number:
        number, rest = divmod(number - 1, len(SEQ_LETTERS))
        letters = SEQ_LETTERS[rest] + letters
    return letters


def seq_number(letters: str) -> int:
    """The place that `letters` stand for. Raises ValueError for anything but sequence letters."""
    number = 0
    for letter in letters:
        number = number * len(SEQ_LETTERS) + SEQ_LETTERS.index(letter) + 1
    return number


def next_code(pattern: Pattern, made: dt.date, product: str | None, used: Iterable[str]) -> str:
    """The next code of this pattern on that day: one place after the last code whose other fields are equal.

    `used` holds every code ever given out, cancelled ones too: none is given twice, case and dashes aside, whatever
    pattern it came from. Raises InputError as `Pattern.render` does.
    """
    taken = tuple(used)
    keys = {code_key(code) for code in taken}
    number = 1 + max((_place(code, pattern, made, product) for code in taken), default=0)
    while code_key(code := pattern.render(made, seq_text(number), product)) in keys:
        number += 1
    return code


def _place(code: str, pattern: Pattern, made: dt.date, product: str | None) -> int:
    """The place of a code in this pattern's row of that day and product; 0 where it stands in another row."""
    front, back = pattern.stem(made, product).split("*")
    check = "[0-9]{2}" if pattern.has("check") else ""
    found = re.fullmatch(f"{re.escape(front)}([{SEQ_LETTERS}]+){re.escape(back)}{check}", code.upper())
    return seq_number(found[1]) if found else 0
