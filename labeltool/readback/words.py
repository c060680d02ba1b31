"""The words of a label as drawn, against those of its frame: which characters, and where they begin."""

from __future__ import annotations

import math
import unicodedata
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from labeltool.raster import Char
from labeltool.readback.model import ExpectedLabel
from labeltool.typeset.frame import TextRun

MOVED_MM = 0.1
MM_PER_POINT = 25.4 / 72


@dataclass(frozen=True, slots=True)
class WordFault:
    """What is wrong with a label's words: a stable rule and a text."""

    rule: str
    text: str


def runs_of(label: ExpectedLabel) -> tuple[TextRun, ...]:
    """The text runs of a label in drawing order."""
    return tuple(item for item in label.frame.items if isinstance(item, TextRun))


@lru_cache(maxsize=4096)
def squash(text: str) -> str:
    """The text without any spaces, in one normal form."""
    return "".join(unicodedata.normalize("NFKC", text).split())


def word_faults(label: ExpectedLabel, chars: Sequence[Char]) -> Iterator[WordFault]:
    """What differs between a label's words and the characters found on it; nothing where they are the same."""
    if same_words(label, chars):
        yield from _moved(label, chars)
        return
    runs = runs_of(label)
    found = "".join(squash(char.text) for char in chars)
    wanted = [squash(run.text) for run in runs]
    missing = dict.fromkeys(run.block for run, text in zip(runs, wanted, strict=True) if text not in found)
    if missing:
        yield WordFault("readback.text", f"the words of {', '.join(missing)} are not as printed")
    if missing:
        return
    have, want = Counter(found), Counter("".join(wanted))
    if have - want:
        yield WordFault("readback.text", f"words that should not be there: {''.join((have - want).elements())[:40]!r}")
    elif want - have:
        yield WordFault("readback.text", f"letters are missing: {''.join((want - have).elements())[:40]!r}")
    else:
        yield WordFault("readback.text", "the words do not follow one another as printed")


def same_words(label: ExpectedLabel, chars: Sequence[Char]) -> bool:
    """Whether the characters found are those of the label's runs, in order, spaces aside."""
    wanted = [squash(char) for run in runs_of(label) for char in run.text if squash(char)]
    return [squash(char.text) for char in chars] == wanted


def starts(label: ExpectedLabel, chars: Sequence[Char]) -> Iterator[tuple[TextRun, Char]]:
    """The first character of each run; `chars` are those of the runs. A run that begins with a space is left out."""
    index = 0
    for run in runs_of(label):
        length = sum(1 for char in run.text if squash(char))
        if length and squash(run.text[0]):
            yield run, chars[index]
        index += length


def spans(label: ExpectedLabel, chars: Sequence[Char]) -> Iterator[tuple[TextRun, Char, float]]:
    """Each character of the upright runs with the place where the next begins, mm; `chars` are those of all runs."""
    index = 0
    for run in runs_of(label):
        own = chars[index:index + sum(1 for char in run.text if squash(char))]
        index += len(own)
        if run.angle_deg or not own:
            continue
        for char, after in zip(own, [*own[1:], None], strict=True):
            yield run, char, after.x_mm if after else char.x_mm + 0.3 * run.size_pt * MM_PER_POINT


def _moved(label: ExpectedLabel, chars: Sequence[Char]) -> Iterator[WordFault]:
    for run, first in starts(label, chars):
        away = math.hypot(first.x_mm - label.x_mm - run.x_mm, first.y_mm - label.y_mm - run.y_mm)
        if away > MOVED_MM:
            yield WordFault("readback.moved", f"the {run.block} stands {away:.2f} mm from its place")
            return
