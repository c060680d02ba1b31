"""A command run on a terminal of its own, its questions answered as they come: what stood on the screen at the end."""

from __future__ import annotations

import os
import pty
import re
import select
import subprocess
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

WAIT_S = 120
_COLOUR = re.compile(r"\x1b\[[0-9;]*[A-Za-z]")
Answers = Sequence[tuple[str, str]]
"""(the end of a question, what is typed) pairs, in the order they are asked."""


def screen(words: Sequence[str], cwd: Path, env: Mapping[str, str], answers: Answers = ()) -> str:
    """Run a command to its end. Raises RuntimeError where it fails, or asks something else than is answered."""
    ours, theirs = pty.openpty()
    child = subprocess.Popen(words, cwd=cwd, env=env, stdin=theirs, stdout=theirs, stderr=theirs, close_fds=True)
    os.close(theirs)
    try:
        text, left = _talk(ours, child, list(answers))
        child.wait(WAIT_S)
    finally:
        os.close(ours)
        child.kill()
    if child.returncode or left:
        raise RuntimeError(f"{' '.join(words[-6:])}: exit {child.returncode}, unanswered: {left}\n{text}")
    return text


def _talk(ours: int, child: subprocess.Popen[bytes], left: list[tuple[str, str]]) -> tuple[str, list[tuple[str, str]]]:
    raw, seen, until = b"", 0, time.monotonic() + WAIT_S
    while time.monotonic() < until:
        piece = _read(ours)
        if piece is None:
            break
        raw += piece
        text = plain(raw)
        if left and not text.endswith("\n") and text[seen:].endswith(left[0][0]):
            os.write(ours, left.pop(0)[1].encode() + b"\n")
            seen = len(text)
        if not piece and child.poll() is not None:
            break
    return plain(raw), left


def _read(ours: int) -> bytes | None:
    """What came in the last moment; None at the end."""
    ready, _, _ = select.select([ours], [], [], 0.1)
    if not ready:
        return b""
    try:
        return os.read(ours, 65536) or None
    except OSError:
        return None


def plain(raw: bytes) -> str:
    """The screen's text without colours; of a line written over, the last."""
    lines = _COLOUR.sub("", raw.decode("utf-8", "replace")).replace("\r\n", "\n").split("\n")
    return "\n".join(line.rpartition("\r")[2] for line in lines)
