"""The words under which an event or frozen inputs are found again: lots, materials, names, in one spelling."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from typing import Any

_TELLING = {"lot", "material", "key", "was", "inci", "name", "formula"}


def folded(word: str) -> str:
    """One spelling for all that any search takes as equal: case, spaces, signs and a written "(nano)" set aside.

    Coarser than every comparison of the tool, so that nothing is missed; what is found is looked at again.
    """
    flat = unicodedata.normalize("NFKC", word).casefold()
    bare = "".join(char for char in flat if char.isalnum())
    return bare.removesuffix("nano") or bare or flat


def words_of(plain: Any) -> frozenset[str]:
    """The folded words of a plain value: whatever stands under a key that tells what a thing is."""
    return frozenset(folded(word) for word in _telling(plain) if word)


def _telling(plain: Any) -> Iterator[str]:
    if isinstance(plain, dict):
        for key, value in plain.items():
            if key in _TELLING:
                yield from _strings(value)
            yield from _telling(value)
    elif isinstance(plain, list):
        for value in plain:
            yield from _telling(value)


def _strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, list):
        yield from (item for item in value if isinstance(item, str))
