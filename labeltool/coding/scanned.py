"""What a scanned symbol may mean: the parts of its payload that can be a batch code. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterator
from urllib.parse import unquote, urlsplit

_LOT = re.compile(r"/10/([^/?#]+)")
_ELEMENT = re.compile(r"\(10\)([^()]{1,20})")
_MOST = 2000


def codes_in(payload: str) -> tuple[str, ...]:
    """The texts of a payload that can be a batch code, likeliest first.

    Of a GS1 Digital Link its lot (AI 10), of another link the parts of its path from the last one on, else the text.
    """
    return tuple(dict.fromkeys(text for text in _parts(payload[:_MOST]) if text))


def _parts(payload: str) -> Iterator[str]:
    yield from (unquote(found) for found in _LOT.findall(payload))
    yield from _ELEMENT.findall(payload)
    try:
        path = urlsplit(payload).path if "://" in payload else ""
    except ValueError:
        path = ""
    yield from (unquote(part) for part in reversed(path.split("/")))
    if not path:
        yield payload.strip()


def same_link(one: str, other: str) -> bool:
    """Whether two payloads lead to the same place though they are spelled otherwise."""
    return _plain(one) == _plain(other)


def _plain(payload: str) -> str:
    scheme, split, rest = payload.strip().partition("://")
    if not split:
        return payload.strip()
    host, slash, path = rest.partition("/")
    return f"{host.casefold()}{slash}{path.rstrip('/')}" if scheme.casefold() in ("http", "https") else payload
