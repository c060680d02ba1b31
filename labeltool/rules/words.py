"""Words and phrases of the tables as patterns: whole words, any case, a star for any ending."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from functools import lru_cache

_DASHES = {ord(dash): "-" for dash in "\u2010\u2011\u2012\u2013\u2014\u2212"}
_QUOTES = {ord(quote): "'" for quote in "\u2018\u2019\u02bc"}


def plain(text: str) -> str:
    """The text in one spelling: composed letters, plain dashes and apostrophes, single spaces, no capitals."""
    flat = unicodedata.normalize("NFKC", text).translate(_DASHES | _QUOTES)
    return " ".join(flat.split()).casefold()


@lru_cache(maxsize=4096)
def pattern(phrase: str) -> re.Pattern[str]:
    """The pattern of one phrase: "heal*" meets heals and healing, "body wash" also body-wash, neither meets a part
    of a word."""
    words = [re.escape(word).replace(r"\*", r"\w*") for word in re.split(r"[ -]", plain(phrase))]
    return re.compile(r"(?<![\w])" + r"[ -]".join(words) + r"(?![\w])")


@lru_cache(maxsize=4096)
def _stem(phrase: str) -> str:
    """What every text that a phrase meets holds: its first word, up to the star."""
    return re.split(r"[ *-]", plain(phrase), maxsplit=1)[0]


def hits(phrases: Sequence[str], text: str) -> Iterator[re.Match[str]]:
    """Every place of a plain text where one of the phrases stands; most are ruled out without a pattern."""
    for phrase in phrases:
        if _stem(phrase) in text:
            yield from pattern(phrase).finditer(text)


def first(phrases: Sequence[str], text: str, unless: Sequence[str] = ()) -> re.Match[str] | None:
    """The first hit that lies in no phrase of `unless`; None where there is none."""
    covered = [found.span() for found in hits(unless, text)]
    for found in sorted(hits(phrases, text), key=lambda item: item.start()):
        if not any(low <= found.start() and found.end() <= high for low, high in covered):
            return found
    return None
