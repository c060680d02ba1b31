"""Typed batch codes: any case, spaces, dashes; O and I where a digit belongs; "did you mean" from known codes."""

from __future__ import annotations

import difflib
import itertools
import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from labeltool.coding.checkdigits import DIGITS, LETTERS, mod97_check
from labeltool.coding.shape import DATE_FIELDS, MAX_PRODUCT, SEQ_LETTERS, Pattern, Token, code_key

_MOST_TYPED = 64
_LEAD = re.compile(r"(?:LOT|BATCH|L)[\s:.#-]*(?:(?:NO|NR|CODE)\b[\s:.#-]*)?(?=[A-Z0-9])")
_TO_DIGIT = str.maketrans({"O": "0", "I": "1", "L": "1"})
_TO_LETTER = str.maketrans({"0": "O", "1": "I"})
_TWINS = {"O": "O0", "0": "0O", "I": "I1", "1": "1I"}


@dataclass(frozen=True, slots=True)
class Reading:
    """A typed code against the codes on record: the one it means, or None and the nearest ones."""

    code: str | None
    near: tuple[str, ...] = ()


def tidy(typed: str) -> str:
    """Capitals, every dash as "-", every space as " ", no control or format characters; nothing else changed."""
    text = unicodedata.normalize("NFKC", typed[:_MOST_TYPED]).upper()
    kept = []
    for character in text:
        category = unicodedata.category(character)
        if category == "Pd" or character in "\u2212\u00ad\u2043":
            kept.append("-")
        elif category[0] == "Z" or character in "\t\n\r\v\f":
            kept.append(" ")
        elif category[0] != "C":
            kept.append(character)
    return "".join(kept).strip()


def _spellings(typed: str) -> tuple[str, ...]:
    """The key of what was typed, and of the same without a leading Lot, L or Batch."""
    text = tidy(typed)
    bare = _LEAD.sub("", text, count=1) if _LEAD.match(text) else text
    keys = (code_key(item.replace(" ", "").replace("_", "-")) for item in (text, bare))
    return tuple(dict.fromkeys(key for key in keys if key))


def read_code(typed: str, patterns: Iterable[Pattern]) -> tuple[str, ...]:
    """Every code that the typed text can mean in one of the patterns, likeliest first; () where nothing checks.

    The pattern decides where digits and letters stand, so a typed O or I is read as 0 or 1 where a digit belongs, and
    back; digits and letters that changed places are not.
    """
    return tuple(dict.fromkeys(code for code, checks in _readings(typed, patterns) if checks))


def misread(typed: str, patterns: Iterable[Pattern]) -> bool:
    """Whether the typed text has the form of a code, and its check digits fit in no reading of it."""
    found = [checks for _, checks in _readings(typed, patterns)]
    return bool(found) and not any(found)


def _readings(typed: str, patterns: Iterable[Pattern]) -> Iterator[tuple[str, bool]]:
    """Every code of a pattern's form that the typed text can mean, and whether its check digits fit."""
    for key, pattern in itertools.product(_spellings(typed), tuple(patterns)):
        for code in _read(pattern.tokens, key):
            yield code, not pattern.has("check") or mod97_check(code[:-2]) == code[-2:]


def _read(tokens: Sequence[Token], key: str) -> Iterator[str]:
    """Every way to spend the whole key on the tokens, as code texts."""
    if not tokens:
        if not key:
            yield ""
        return
    for width in _widths(tokens, len(key)):
        for text in _as(tokens[0], key[:width]):
            for rest in _read(tokens[1:], key[width:]):
                yield text + rest


def _widths(tokens: Sequence[Token], length: int) -> range:
    """The numbers of characters that the first token may take, so that the others keep theirs."""
    first, rest = tokens[0], sum(_least(token) for token in tokens[1:])
    most = {"seq": length, "product": MAX_PRODUCT}.get(first.kind, _least(first))
    return range(_least(first), min(most, length - rest) + 1)


def _least(token: Token) -> int:
    if token.kind == "text":
        return len(code_key(token.text))
    return 1 if token.kind == "product" else token.widest()


def _as(token: Token, typed: str) -> Iterable[str]:
    """What the typed characters can mean as this token."""
    if token.kind == "text":
        return _as_literal(token.text, typed)
    if token.kind == "seq":
        return [typed] if set(typed) <= set(SEQ_LETTERS) else []
    if token.kind == "product":
        return _as_product(typed)
    digits = typed.translate(_TO_DIGIT)
    if not set(digits) <= set(DIGITS):
        return []
    return [digits] if token.kind == "check" or _in_range(token, digits) else []


def _in_range(token: Token, digits: str) -> bool:
    field = DATE_FIELDS[token.text]
    return field.low <= int(digits) <= field.high


def _as_literal(literal: str, typed: str) -> list[str]:
    """The literal with its dashes, where the typed characters are its letters and digits."""
    wanted = code_key(literal)
    meant = "".join(
        sign.translate(_TO_DIGIT if want in DIGITS else _TO_LETTER) for sign, want in zip(typed, wanted, strict=True)
    )
    return [literal] if meant == wanted else []


def _as_product(typed: str) -> Iterator[str]:
    """The product code as typed, then with O and 0, I and 1 exchanged."""
    if set(typed) <= set(DIGITS + LETTERS):
        for signs in itertools.product(*(_TWINS.get(sign, sign) for sign in typed)):
            yield "".join(signs)


def near_codes(typed: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Up to `most` known codes that look like what was typed: one slip away, else the most alike."""
    by_key = {code_key(code): code for code in known}
    keys = _spellings(typed)
    slips = [by_key[slip] for key in keys for slip in _slips(key) if slip in by_key]
    alike = [] if slips else [
        by_key[found] for key in keys for found in difflib.get_close_matches(key, list(by_key), most, 0.7)
    ]
    return tuple(dict.fromkeys(slips + alike))[:most]


def _slips(key: str) -> Iterator[str]:
    """Everything one typing slip away: two neighbours exchanged, one character changed, left out or added."""
    for place in range(len(key) - 1):
        yield key[:place] + key[place + 1] + key[place] + key[place + 2:]
    for place in range(len(key)):
        yield key[:place] + key[place + 1:]
        yield from (key[:place] + sign + key[place + 1:] for sign in DIGITS + LETTERS)
    for place in range(len(key) + 1):
        yield from (key[:place] + sign + key[place:] for sign in DIGITS + LETTERS)


def recognise(typed: str, known: Iterable[str], patterns: Iterable[Pattern]) -> Reading:
    """The known code that was typed, by its own characters or as one of the patterns reads them; else near ones."""
    codes = tuple(known)
    by_key = {code_key(code): code for code in codes}
    meant = (*_spellings(typed), *(code_key(code) for code in read_code(typed, patterns)))
    found = next((by_key[key] for key in meant if key in by_key), None)
    return Reading(found) if found else Reading(None, near_codes(typed, codes))
