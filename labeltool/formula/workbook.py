"""An XLSX file unpacked within bounds, and packed anew, so that its reader meets nothing that was not measured."""

from __future__ import annotations

import io
import re
import zipfile
import zlib
from itertools import pairwise

MOST_UNPACKED = 50_000_000
MOST_CELLS = 16_000_000
MOST_TEXT = 200_000_000
_CHUNK = 65_536

_AT = re.compile(rb"""\br\s*=\s*["']([A-Za-z]*)([0-9]+)["']""")
_ROW = re.compile(rb"<(?:\w+:)?row\b")
_CELL = re.compile(rb"<(?:\w+:)?c[\s/>]")
_SHARED = re.compile(rb"""\bt\s*=\s*["']s["']""")
_ERROR = re.compile(rb"""(<c\b[^<>]*?\bt\s*=\s*)(["'])e\2""")
_NO_RESULT = re.compile(rb"(<c\b(?![^<>]*\bt\s*=)[^<>]*)>(<f\b[^<>]*(?:/>|>[^<]*</f>))(?:<v\s*/>|<v></v>)?</c>")
_STRING = re.compile(rb"<(?:\w+:)?si[\s>]")


class Refused(Exception):
    """The file is no workbook that may be read; `rule` and the message say why."""

    def __init__(self, rule: str, text: str) -> None:
        super().__init__(text)
        self.rule = rule


def measured(content: bytes) -> bytes:
    """The same workbook, unpacked and measured, as a plain archive. Raises Refused."""
    try:
        parts = _unpack(content)
    except Refused:
        raise
    except (zipfile.BadZipFile, zlib.error, OSError, EOFError, ValueError, RuntimeError) as error:
        raise Refused("sheet.unreadable", f"no readable XLSX: {error}") from None
    if "xl/workbook.xml" not in parts:
        raise Refused("sheet.unreadable", "no XLSX: it holds no workbook")
    _measure(parts)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as archive:
        for name, part in parts.items():
            archive.writestr(zipfile.ZipInfo(name), _told(part) if name.startswith("xl/worksheets/") else part)
    return packed.getvalue()


def _unpack(content: bytes) -> dict[str, bytes]:
    """The archive's XML parts; all parts together unpack to at most 50 MB, whatever the archive declares."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        infos = archive.infolist()
        if sum(info.file_size for info in infos) > MOST_UNPACKED:
            raise Refused("file.unpacked", "it unpacks to more than 50 MB")
        if len({info.filename for info in infos}) < len(infos):
            raise Refused("sheet.unreadable", "no readable XLSX: a part stands in it twice")
        if any(info.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED) for info in infos):
            raise Refused("sheet.unreadable", "no readable XLSX: packed in an uncommon way")
        left = MOST_UNPACKED
        parts: dict[str, bytes] = {}
        for info in infos:
            part = _part(archive, info, left)
            left -= len(part)
            if info.filename.endswith((".xml", ".rels")):
                parts[info.filename] = part
        return parts


def _part(archive: zipfile.ZipFile, info: zipfile.ZipInfo, left: int) -> bytes:
    chunks: list[bytes] = []
    with archive.open(info) as file:
        while chunk := file.read(_CHUNK):
            left -= len(chunk)
            if left < 0:
                raise Refused("file.unpacked", "it unpacks to more than 50 MB")
            chunks.append(chunk)
    return b"".join(chunks)


def _told(part: bytes) -> bytes:
    """A sheet whose error cells and formulas without a result hold a text that says so; a reader leaves both blank."""
    part = _ERROR.sub(rb"\1\2str\2", part)
    return _NO_RESULT.sub(rb'\1 t="str">\2<v>#NO RESULT</v></c>', part)


def _measure(parts: dict[str, bytes]) -> None:
    """Refuse sheets whose cells, spread out, would take more room than the file itself lets expect."""
    longest = max(_longest_string(part) for part in parts.values())
    for part in parts.values():
        if _area(part) > MOST_CELLS:
            raise Refused("sheet.large", "its cells lie too far apart: more than 16 million, the empty ones included")
        if len(_SHARED.findall(part)) * longest > MOST_TEXT:
            raise Refused("file.unpacked", "its texts unpack to more than 50 MB")


def _area(part: bytes) -> int:
    """Rows times columns of the smallest block that holds every cell of a sheet, places written or counted."""
    places = set(_AT.findall(part))
    rows = _ROW.split(part)
    height = max((_number(digits) for _, digits in places), default=0) + len(rows) - 1
    width = max((_column(letters) for letters in {letters for letters, _ in places}), default=0)
    return height * (width + max(len(_CELL.findall(row)) for row in rows))


def _number(digits: bytes) -> int:
    return int(digits) if len(digits) < 10 else 10**9


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters[:5].upper():
        number = number * 26 + letter - 64
    return number


def _longest_string(part: bytes) -> int:
    ends = [found.start() for found in _STRING.finditer(part)] + [len(part)]
    return max((end - start for start, end in pairwise(ends)), default=0)
