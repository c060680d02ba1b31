"""A code taken apart by its pattern."""

from __future__ import annotations

import re
from functools import cache

from labeltool.coding.checkdigits import mod97_check
from labeltool.coding.shape import DATE_FIELDS, MAX_PRODUCT, SEQ_LETTERS, Pattern, Token


def _expression(token: Token) -> str:
    if token.kind == "date":
        return f"([0-9]{{{DATE_FIELDS[token.text].width}}})"
    kinds = {"seq": f"([{SEQ_LETTERS}]+)", "product": f"([A-Z0-9]{{1,{MAX_PRODUCT}}})", "check": "([0-9]{2})"}
    return kinds.get(token.kind, f"({re.escape(token.text)})")


@cache
def _compiled(pattern: Pattern) -> re.Pattern[str]:
    return re.compile("".join(_expression(token) for token in pattern.tokens))


def split_code(code: str, pattern: Pattern) -> tuple[tuple[Token, str], ...] | None:
    """The code's parts beside their fields, or None where the code is not of this pattern (check digits included)."""
    found = _compiled(pattern).fullmatch(code)
    if found is None:
        return None
    pieces = tuple(zip(pattern.tokens, found.groups(), strict=True))
    last, text = pieces[-1]
    if last.kind == "check" and mod97_check(code[:-2]) != text:
        return None
    return pieces
