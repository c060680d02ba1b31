"""Archives made to harm: none is unpacked beyond the bounds, whatever it declares."""

from __future__ import annotations

import io
import struct
import tracemalloc
import zipfile
from collections.abc import Callable

import pytest
from sheets import edited, xlsx

from labeltool.formula.workbook import MOST_UNPACKED, Refused, measured

SHEET = "xl/worksheets/sheet1.xml"


def packed(parts: dict[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", method) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return content.getvalue()


def lie(content: bytes, size: int, crc: int | None = None) -> bytes:
    """The archive with another unpacked size (and checksum) declared, in directory and local headers."""
    data = bytearray(content)
    for mark, at in ((b"PK\x01\x02", 24), (b"PK\x03\x04", 22)):
        start = data.find(mark)
        while start >= 0:
            struct.pack_into("<I", data, start + at, size)
            if crc is not None:
                struct.pack_into("<I", data, start + at - 8, crc)
            start = data.find(mark, start + 4)
    return bytes(data)


def refused(content: bytes) -> str:
    with pytest.raises(Refused) as caught:
        measured(content)
    return caught.value.rule


def test_a_good_workbook_keeps_its_parts() -> None:
    with zipfile.ZipFile(io.BytesIO(measured(xlsx()))) as archive:
        assert {"xl/workbook.xml", SHEET} <= set(archive.namelist())
        assert all(info.compress_type == zipfile.ZIP_STORED for info in archive.infolist())


def test_what_declares_more_than_fifty_megabytes_is_refused_unopened() -> None:
    bomb = packed({"xl/workbook.xml": b" " * (MOST_UNPACKED + 1)})
    assert len(bomb) < 100_000
    assert refused(bomb) == "file.unpacked"


def test_many_parts_count_together() -> None:
    part = b" " * (MOST_UNPACKED // 4)
    assert refused(packed({f"{at}.xml": part for at in range(5)})) == "file.unpacked"


@pytest.mark.parametrize("size", [0, 10, MOST_UNPACKED // 2])
def test_a_false_size_is_not_believed(size: int) -> None:
    bomb = lie(packed({"xl/workbook.xml": b" " * (4 * MOST_UNPACKED)}), size)
    tracemalloc.start()
    rule = refused(bomb)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert rule == "sheet.unreadable"
    assert peak < 2 * MOST_UNPACKED


def test_a_false_size_with_its_checksum_hands_on_no_more_than_was_measured() -> None:
    import zlib

    bomb = lie(packed({"xl/workbook.xml": b" " * (4 * MOST_UNPACKED)}), 10, zlib.crc32(b" " * 10))
    assert len(measured(bomb)) < 1000


@pytest.mark.parametrize("content", [
    b"", b"PK", b"\xd0\xcf\x11\xe0" + b"\0" * 600, xlsx()[:-30], xlsx()[:2000], packed({"a.xml": b""}),
    packed({"xl/workbook.xml": b""}, zipfile.ZIP_LZMA), packed({"xl/workbook.xml": b""}, zipfile.ZIP_BZIP2),
])
def test_what_is_no_workbook_is_refused(content: bytes) -> None:
    assert refused(content) == "sheet.unreadable"


def test_a_part_that_stands_twice_is_refused() -> None:
    content = io.BytesIO(packed({"xl/workbook.xml": b"a"}))
    with zipfile.ZipFile(content, "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr("xl/workbook.xml", b"b")
    assert refused(content.getvalue()) == "sheet.unreadable"


def cells(text: str) -> Callable[[bytes], bytes]:
    return lambda _: f"<worksheet><sheetData>{text}</sheetData></worksheet>".encode()


@pytest.mark.parametrize("text", [
    '<row r="1"><c r="A1"/></row><row r="1048576"><c r="XFD1048576"/></row>',
    "<row><c r='A1'/></row><row><c r = 'XFD1048576'/></row>", '<row r="1048576">' + "<c/>" * 16384 + "</row>",
    '<row r="9999999999999"><c r="ZZZ1"/></row>', "<row/>" * 100_000 + '<row><c r="zzz1"/></row>',
    '<x:row r="1048576"><x:c r="A1"/>' + "<x:c/>" * 5000 + "</x:row>",
])
def test_cells_too_far_apart_are_refused(text: str) -> None:
    assert refused(edited(xlsx(), SHEET, cells(text))) == "sheet.large"


def test_one_long_text_in_very_many_cells_is_refused() -> None:
    long = edited(xlsx(), "xl/sharedStrings.xml", lambda _: b"<sst><si><t>" + b"x" * 32_000 + b"</t></si></sst>")
    rows = "".join(f'<row r="{at}"><c r="A{at}" t="s"><v>0</v></c></row>' for at in range(1, 20_001))
    assert refused(edited(long, SHEET, cells(rows))) == "file.unpacked"
    assert measured(edited(long, SHEET, cells(rows[:50 * 50])))
