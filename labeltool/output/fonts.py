"""Which fonts a print needs, and whether they can write all of it."""

from __future__ import annotations

import hashlib
import unicodedata
from collections.abc import Container, Iterable, Mapping

from labeltool.errors import machine_error
from labeltool.finding import Finding
from labeltool.typeset.frame import Frame, TextRun

_NO_BREAK_SPACE = "\u00a0"


def font_of(frame: Frame, weight: str) -> str:
    """The SHA-256 of the font that a frame names for a weight. Raises MachineError where it names none."""
    for name, sha256 in frame.fonts:
        if name == weight:
            return sha256
    raise machine_error("output.font", f"the label names no font for its weight {weight!r}",
                        do="run labeltool records check")


def used_fonts(frames: Iterable[Frame], *, always_one: bool = False) -> tuple[str, ...]:
    """The SHA-256s of the fonts that some text is set in, in order of first use.

    `always_one`: a frame without text gives its first font, for words laid over it.
    """
    found: dict[str, None] = {}
    for frame in frames:
        own = [font_of(frame, item.weight) for item in frame.items if isinstance(item, TextRun)]
        found |= dict.fromkeys(own or ([sha256 for _, sha256 in frame.fonts[:1]] if always_one else []))
    return tuple(found)


def checked_bytes(sha256: str, fonts: Mapping[str, bytes]) -> bytes:
    """The font file of a hash. Raises MachineError where it is missing or another file."""
    data = fonts.get(sha256)
    if data is None or hashlib.sha256(data).hexdigest() != sha256:
        what = "is missing" if data is None else "is damaged"
        raise machine_error("output.font", f"the font file {sha256[:12]} that the label was set in {what}",
                            do="run labeltool records check")
    return data


def missing_glyphs(frame: Frame, glyphs: Mapping[str, Container[int]]) -> list[Finding]:
    """An error for every character that the font of its run lacks; `glyphs` by SHA-256. Nothing is ever left out."""
    found: dict[tuple[str, str], Finding] = {}
    for run in frame.items:
        if not isinstance(run, TextRun):
            continue
        known = glyphs[font_of(frame, run.weight)]
        for char in run.text:
            if ord(char) not in known and not (char == _NO_BREAK_SPACE and ord(" ") in known):
                found.setdefault((run.block, char), _missing(run, char))
    return list(found.values())


def _missing(run: TextRun, char: str) -> Finding:
    name = unicodedata.name(char, "a character without a name")
    text = f"the font lacks U+{ord(char):04X} ({name}) in the {run.block}: {run.text[:60]!a}"
    return Finding("output.glyph", "error", text, do="write it with other characters")
