"""The mask score of ISO/IEC 18004:2015, 7.8.3.1: the four features that make a QR symbol hard to read."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

RUN, BLOCK, FINDER, BALANCE = 3, 3, 40, 10  # N1 … N4
_RUNS = re.compile(r"0{5,}|1{5,}")
_FINDER = "1011101"


def terms(rows: Sequence[str]) -> tuple[int, int, int, int]:
    """The four penalties of a symbol given as rows of "0"/"1", format and version areas light.

    Runs of five or more; blocks of 2 × 2; finder-like patterns with four light modules on one side; imbalance.
    """
    columns = ["".join(column) for column in zip(*rows, strict=True)]
    lines = [*rows, *columns]
    return (
        sum(len(run) - 5 + RUN for line in lines for run in _RUNS.findall(line)),
        BLOCK * _blocks(rows),
        FINDER * sum(_finder_like(line) for line in lines),
        BALANCE * _imbalance(rows),
    )


def score(rows: Sequence[str]) -> int:
    """The sum of the four terms: the lower, the better."""
    return sum(terms(rows))


def _blocks(rows: Sequence[str]) -> int:
    return sum(
        above[i] == above[i + 1] == below[i] == below[i + 1]
        for above, below in pairwise(rows)
        for i in range(len(above) - 1)
    )


def _finder_like(line: str) -> int:
    """Patterns with light on a side, what lies outside the symbol being light; a counted one is not entered again."""
    found, start = 0, line.find(_FINDER)
    while start >= 0:
        end = start + len(_FINDER)
        counts = "1" not in line[max(0, start - 4):start] or "1" not in line[end:end + 4]
        found += counts
        start = line.find(_FINDER, end if counts else start + 1)
    return found


def _imbalance(rows: Sequence[str]) -> int:
    cells = len(rows) ** 2
    dark = sum(row.count("1") for row in rows)
    return abs(2 * dark - cells) * 10 // cells
