"""What may enter the record: plain JSON without NUL characters, lone surrogates or numbers that are none."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator
from typing import Any

from labeltool.codec import canonical, to_plain
from labeltool.errors import InputError, input_error

_UNUSABLE = re.compile("[\0\ud800-\udfff]")


def clean_text(value: Any) -> str:
    """The canonical text of a plain value. Raises InputError for text that no record can hold."""
    plain = to_plain(value)
    for text in _strings(plain):
        found = _UNUSABLE.search(text)
        if found:
            raise _refused(text, found.start())
    try:
        return canonical(plain)
    except ValueError as error:
        raise input_error("record.number", f"a figure cannot be kept: {error}", limit="finite numbers") from error


def sha256_of(text: str) -> str:
    """SHA-256 of a text's UTF-8 bytes, in hex; bytes that were never UTF-8 count as they are stored."""
    return hashlib.sha256(text.encode("utf-8", "surrogateescape")).hexdigest()


def args_hash(args: Any) -> str:
    """The SHA-256 under which the arguments of a repeated call are compared."""
    return sha256_of(clean_text(args))


def from_text(text: str) -> Any:
    """The plain value of a canonical text. Raises ValueError where it is none."""
    return json.loads(text)


def _strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, item in value.items():
            yield key
            yield from _strings(item)
    elif isinstance(value, list):
        for item in value:
            yield from _strings(item)


def _refused(text: str, place: int) -> InputError:
    sign = f"U+{ord(text[place]):04X}"
    shown = text[:place][-30:].encode("ascii", "replace").decode("ascii")
    return input_error(
        "record.text", f"the character {sign} after \"{shown}\" cannot be kept",
        limit="text without NUL characters and lone surrogates", do="type that text or file name anew",
    )
