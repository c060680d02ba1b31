"""Which pages of a PDF are the same page again, proved by their objects.

Two pages whose dictionaries are the same text point at the same content, resources and parent, so they show the same.
Only a file with one plain cross-reference table is taken at its word; in any other every page counts as its own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_TABLE = re.compile(rb"xref\s+0 (\d+)\s*\n")
_KIDS = re.compile(rb"<<\s*/Count (\d+) /Kids \[([\d\sR]*)\] /Type /Pages\s*>>")
_PAGE = re.compile(
    rb"<<\s*/Contents \d+ 0 R /MediaBox \[[\d.\s]+\] /Parent \d+ 0 R /Resources \d+ 0 R /Type /Page\s*>>"
)
_NOT_PLAIN = (b"/Prev", b"/XRefStm", b"/ObjStm", b"/Encrypt")
_ENTRY = 20


def first_likes(data: bytes, count: int) -> tuple[int, ...]:
    """For each of `count` pages (from 0) the first page that is the same."""
    try:
        pages = tuple(_pages(data))
    except (ValueError, IndexError, AttributeError):
        pages = ()
    if len(pages) != count:
        return tuple(range(count))
    first: dict[bytes, int] = {}
    return tuple(first.setdefault(page, index) for index, page in enumerate(pages))


def _pages(data: bytes) -> Iterator[bytes]:
    """The page dictionaries in order, as text. Raises ValueError where the file is not plain."""
    if data.count(b"startxref") != 1 or data.count(b"trailer") != 1 or any(mark in data for mark in _NOT_PLAIN):
        raise ValueError("not a plain file")
    offsets = _offsets(data)
    trailer = data[data.rindex(b"trailer"):]
    catalogue = _object(data, offsets, _reference(trailer, b"/Root"))
    tree = _KIDS.fullmatch(_object(data, offsets, _reference(catalogue, b"/Pages")))
    if tree is None:
        raise ValueError("the page tree has branches")
    for number in re.findall(rb"(\d+) 0 R", tree[2]):
        text = _object(data, offsets, int(number))
        if _PAGE.fullmatch(text) is None:
            raise ValueError("a page says more than is known here")
        yield text


def _offsets(data: bytes) -> list[int]:
    start = int(data[data.rindex(b"startxref") + 9:].split()[0])
    table = _TABLE.match(data, start)
    if table is None:
        raise ValueError("no cross-reference table")
    at = table.end()
    return [int(data[at + _ENTRY * line:at + _ENTRY * line + 10]) for line in range(int(table[1]))]


def _reference(text: bytes, key: bytes) -> int:
    found = re.findall(re.escape(key) + rb" (\d+) 0 R", text)
    if len(found) != 1:
        raise ValueError("one reference expected")
    return int(found[0])


def _object(data: bytes, offsets: list[int], number: int) -> bytes:
    """The text of an object without a stream."""
    start = offsets[number]
    head = b"%d 0 obj" % number
    if number < 1 or not data.startswith(head, start):
        raise ValueError("the cross-reference table is wrong")
    return data[start + len(head):data.index(b"endobj", start)].strip()
