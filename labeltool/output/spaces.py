"""The spaces between runs: a label's text comes out of the PDF as it was written, by any reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from labeltool.typeset.frame import Frame, TextRun


def spaced_runs(frame: Frame) -> Iterator[TextRun]:
    """The runs of a frame, with a space drawn after each one that a space follows in its block's words.

    A space has no ink; without it a reader would have to guess from gaps whether two runs are two words.
    """
    runs = [item for item in frame.items if isinstance(item, TextRun)]
    rest: dict[str, str] = {}
    for block, text in frame.words:
        rest[block] = f"{rest[block]} {text}" if block in rest else text
    for run in runs:
        left, follows = _after(rest.get(run.block, ""), run.text)
        rest[run.block] = left
        yield _with_space(run) if follows and not run.text.endswith(" ") else run


def _after(words: str, text: str) -> tuple[str, bool]:
    """What is left of the words behind a run's text, and whether it begins with a space; spaces count for nothing."""
    index = 0
    for char in text:
        if char.isspace():
            continue
        while index < len(words) and words[index].isspace():
            index += 1
        if index >= len(words) or words[index] != char:
            return words, False
        index += 1
    left = words[index:]
    return left, bool(left) and left[0].isspace()


def _with_space(run: TextRun) -> TextRun:
    return replace(run, text=f"{run.text} ")
