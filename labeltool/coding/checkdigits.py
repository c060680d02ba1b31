"""Check digits: ISO/IEC 7064 MOD 97-10 for batch codes, modulo 10 for GTINs."""

from __future__ import annotations

DIGITS = "0123456789"
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
GTIN_LENGTHS = (8, 12, 13, 14)

_VALUES = {character: str(value) for value, character in enumerate(DIGITS + LETTERS)}


def _number(text: str) -> int:
    """The number that MOD 97-10 works on: A = 10 … Z = 35, other characters skipped."""
    return int("".join(_VALUES.get(character, "") for character in text.upper()) or "0")


def mod97_check(text: str) -> str:
    """The two check digits of `text` by ISO/IEC 7064 MOD 97-10, "02" to "98"; letters count A = 10 … Z = 35."""
    return f"{98 - _number(text) * 100 % 97:02d}"


def mod97_valid(text: str) -> bool:
    """Whether `text`, its check digits at the end, leaves 1 modulo 97, written as `mod97_check` writes them."""
    return len(text) > 2 and _number(text) % 97 == 1 and mod97_check(text[:-2]) == text[-2:]


def gtin_check(body: str) -> str:
    """The check digit of a GTIN without it: weights 3, 1, 3 … from the right (GS1 General Specifications)."""
    total = sum(int(digit) * (3 if place % 2 == 0 else 1) for place, digit in enumerate(reversed(body)))
    return str(-total % 10)


def gtin_valid(text: str) -> bool:
    """Whether `text` is 8, 12, 13 or 14 ASCII digits whose last one checks."""
    return len(text) in GTIN_LENGTHS and all(item in DIGITS for item in text) and gtin_check(text[:-1]) == text[-1]


def gtin14(text: str) -> str:
    """The 14-digit form of a GTIN, zeros in front. Raises ValueError where it does not check."""
    if not gtin_valid(text):
        raise ValueError(f"{text!r} is no GTIN")
    return text.zfill(14)
