"""What a file asks for or holds beside its pages' words and ink: scaling, copies, notes, layers, programs, fonts."""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator

from labeltool.finding import Finding
from labeltool.raster import Pdf

MOST_UNPACKED = 50_000_000
_STREAM = re.compile(rb"/ObjStm.*?stream\r?\n", re.DOTALL)
_NAME = re.compile(rb"#([0-9A-Fa-f]{2})")
_STRANGE = {
    b"/UserUnit": ("readback.page-size", "a page is measured in units of another size"),
    b"/OCProperties": ("readback.layers", "the file has layers, which may print otherwise than they show"),
    b"/JavaScript": ("readback.program", "the file holds a program"),
    b"/Launch": ("readback.program", "the file starts another program"),
    b"/TR": ("readback.tones", "the file changes the tones on paper"),
    b"/TR2": ("readback.tones", "the file changes the tones on paper"),
}
_DO = "print the labels again, and use none of this file"


def file_faults(pdf: Pdf, data: bytes) -> Iterator[Finding]:
    """What the file as a whole holds that a file of labels does not."""
    wishes = pdf.wishes()
    if wishes.scaling:
        yield Finding("readback.print-scaling", "warning", "the file leaves scaling to the program that prints it",
                      do="print it at 100 % (actual size), scaling off; or use the file that labeltool made")
    if wishes.copies or wishes.ranges:
        yield Finding("readback.copies", "warning", "the file asks for several copies, or for some of its pages alone",
                      do="print one copy of all its pages")
    if wishes.programs:
        yield _fault("readback.program", "the file holds a program")
    if wishes.attachments:
        yield _fault("readback.attachment", "another file lies inside this file")
    if wishes.form:
        yield _fault("readback.note", "the file is a form to be filled in")
    yield from _strange_names(data)


def page_faults(pdf: Pdf, page: int) -> Iterator[tuple[str, str]]:
    """What a page holds that a page of labels does not."""
    notes = pdf.notes(page)
    if notes:
        yield "readback.note", "notes, stamps or drawings lie over the page"
    if pdf.cropped(page):
        yield "readback.page-size", "the page is cropped"
    absent = [name for name, inside in pdf.fonts(page) if not inside]
    if absent:
        yield "readback.font", f"the font {', '.join(absent)} is not inside the file, so paper may show another"


def _strange_names(data: bytes) -> Iterator[Finding]:
    told: dict[tuple[str, str], None] = {}
    for part in _parts(data):
        plain = _NAME.sub(lambda found: bytes([int(found[1], 16)]), part)
        for name, what in _STRANGE.items():
            if re.search(re.escape(name) + rb"(?![A-Za-z0-9])", plain):
                told[what] = None
    yield from (_fault(rule, text) for rule, text in told)


def _parts(data: bytes) -> Iterator[bytes]:
    """The objects of a file as text: those in the open, and those packed together."""
    yield _open_objects(data)
    left = MOST_UNPACKED
    for head in _STREAM.finditer(data):
        try:
            unpacked = zlib.decompressobj().decompress(data[head.end():], left)
        except zlib.error:
            continue
        left -= len(unpacked)
        yield unpacked
        if left <= 0:
            return


def _open_objects(data: bytes) -> bytes:
    """The file without what lies in streams."""
    pieces: list[bytes] = []
    start = 0
    while True:
        head = data.find(b"stream", start)
        foot = data.find(b"endstream", head + 6) if head >= 0 else -1
        if foot < 0:
            return b"".join([*pieces, data[start:]])
        pieces.append(data[start:head])
        start = foot + 9


def _fault(rule: str, text: str) -> Finding:
    return Finding(rule, "error", text, do=_DO)
