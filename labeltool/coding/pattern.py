"""Batch code patterns: read with every reason for refusal, grouped for print; the door to sequences and reading."""

from __future__ import annotations

import re

from labeltool.coding.reading import Reading, near_codes, read_code, recognise
from labeltool.coding.sequence import next_code, seq_number, seq_text
from labeltool.coding.shape import (
    CODE_CHARACTERS,
    DATE_FIELDS,
    MAX_LENGTH,
    Pattern,
    Token,
    code_key,
)
from labeltool.coding.split import split_code
from labeltool.finding import NOWHERE, Finding, Findings, Where

__all__ = [
    "Pattern", "Reading", "code_key", "grouped", "near_codes", "next_code", "parse_pattern", "read_code", "recognise",
    "seq_number", "seq_text",
]

_PIECE = re.compile(r"%[-_^#0]?.|\{[^{}]*\}|[^%{]+|.", re.DOTALL)
_WHOLE_DAYS = ", ".join(f"%{letter}" for letter in "YymdjGgVuUW")
_LOCALE = "aAbBhcxXpPZ"
_TIME = "HIklMSfLsTRrz"


def parse_pattern(text: str, where: Where = NOWHERE) -> tuple[Pattern | None, Findings]:
    """The pattern that `text` describes, or None and every reason why it is refused."""
    tokens: list[Token] = []
    faults: list[Finding] = []
    for piece in _PIECE.findall(text):
        token, fault = _token(piece, where)
        tokens += [token] if token else []
        faults += [fault] if fault else []
    faults += _whole(tuple(tokens), where)
    return (None if faults else Pattern(text, tuple(tokens))), Findings(tuple(faults))


def _fault(rule: str, text: str, where: Where, limit: str | None = None, do: str | None = None) -> Finding:
    return Finding(f"pattern.{rule}", "error", text, where, limit=limit, do=do)


def _token(piece: str, where: Where) -> tuple[Token | None, Finding | None]:
    if piece.startswith("%"):
        return _date_token(piece, where)
    if piece.startswith("{"):
        return _brace_token(piece, where)
    strange = sorted(set(piece) - CODE_CHARACTERS)
    if strange:
        shown = " ".join(ascii(item)[1:-1] if not item.isprintable() else item for item in strange)
        return Token("text", piece), _fault("character", f"characters that no code can hold: {shown}", where,
                                            "A-Z, 0-9 and -", "write letters in capitals, and a dash for a space")
    return Token("text", piece), None


def _date_token(piece: str, where: Where) -> tuple[Token | None, Finding | None]:
    if len(piece) == 2 and piece[1] in DATE_FIELDS:
        return Token("date", piece[1]), None
    field = piece[1:]
    if field and field in _LOCALE:
        return None, _fault("locale", f"{piece} is written differently from machine to machine", where, _WHOLE_DAYS)
    if field and field in _TIME:
        return None, _fault("time", f"{piece} is a time of day; a batch code counts whole days", where, _WHOLE_DAYS)
    return None, _fault("percent", f"{piece} is no date field of a batch code", where, _WHOLE_DAYS)


def _brace_token(piece: str, where: Where) -> tuple[Token | None, Finding | None]:
    if piece == "{seq}":
        return Token("seq"), None
    if piece == "{product}":
        return Token("product"), None
    if piece == "{check}":
        return Token("check"), None
    return None, _fault("field", f"{piece} is no field of a batch code", where, "{seq}, {check}, {product}")


def _whole(tokens: tuple[Token, ...], where: Where) -> list[Finding]:
    """What only the whole pattern shows."""
    return [*_sequence(tokens, where), *_check(tokens, where), *_weeks(tokens, where), *_outline(tokens, where)]


def _sequence(tokens: tuple[Token, ...], where: Where) -> list[Finding]:
    kinds = [token.kind for token in tokens]
    if kinds.count("seq") != 1:
        none = "without {seq} two batches of one day would have one code"
        return [_fault("seq", "{seq} stands more than once" if "seq" in kinds else none, where, "{seq} once")]
    place = kinds.index("seq")
    if "product" in kinds[max(0, place - 1):place + 2]:
        return [_fault("letters", "{product} stands directly beside {seq}, so that their letters run together", where,
                       do="write a dash between: {product}-{seq}")]
    return []


def _check(tokens: tuple[Token, ...], where: Where) -> list[Finding]:
    places = [place for place, token in enumerate(tokens) if token.kind == "check"]
    if len(places) > 1 or (places and places[0] != len(tokens) - 1):
        return [_fault("check", "{check} stands for all that is before it", where, "{check} once, and last")]
    return []


def _weeks(tokens: tuple[Token, ...], where: Where) -> list[Finding]:
    """ISO weeks have a year of their own: 2027-01-01 lies in week 53 of 2026."""
    used = {token.text for token in tokens if token.kind == "date"}
    calendar, iso = used & set("Yy"), used & set("Gg")
    if "V" in used and calendar:
        return [_fault("week-year", f"%{min(calendar)} with %V mixes the calendar year with the ISO week", where,
                       do="write %G (or %g) with %V")]
    mixed = sorted(used & set("mdjUW")) if iso else []
    if mixed:
        return [_fault("week-year", f"%{min(iso)} with %{mixed[0]} mixes the ISO week's year with the calendar", where,
                       do=f"write %Y (or %y) with %{mixed[0]}")]
    return []


def _outline(tokens: tuple[Token, ...], where: Where) -> list[Finding]:
    faults = []
    if tokens and tokens[0].text.startswith("-"):
        faults.append(_fault("character", "a code that begins with a dash reads as an option", where))
    length = sum(token.widest() for token in tokens)
    if length > MAX_LENGTH:
        faults.append(_fault("length", f"codes of this pattern take up to {length} characters", where,
                             f"{MAX_LENGTH} at most, with a {{product}} of 6"))
    return faults


def grouped(code: str, pattern: Pattern) -> tuple[str, ...]:
    """The groups in which a code is printed, thin spaces between: date, letter, check digits.

    No group begins or ends where a dash parts the code already. A code of another pattern is one group.
    """
    pieces = split_code(code, pattern)
    if pieces is None:
        return (code,)
    groups = [""]
    for before, (token, text) in zip((None, *(token.kind for token, _ in pieces)), pieces, strict=False):
        apart = before is not None and ("seq" in (before, token.kind) or token.kind == "check")
        if apart and groups[-1] and not groups[-1].endswith("-") and not text.startswith("-"):
            groups.append("")
        groups[-1] += text
    return tuple(groups)
