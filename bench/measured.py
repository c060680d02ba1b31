"""The common shape of what is measured: a row of the table, processor time of processes and of calls, their medians."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RUNS = 7
LABELTOOL = "from labeltool.cli.main import run; run()"


@dataclass(frozen=True)
class Row:
    """One line: `value` and the `most` that it may be, both in `unit` ("x": times the floor); memory in MB."""

    what: str
    floor: str
    value: float
    most: float
    unit: str
    measured: str
    memory_mb: float | None = None

    @property
    def met(self) -> bool:
        return self.value <= self.most


@dataclass(frozen=True)
class Spent:
    """Seconds of processor time, the median, and the most memory of any run, MB."""

    seconds: float
    memory_mb: float

    @property
    def told(self) -> str:
        return f"{self.seconds * 1000:,.0f} ms"


def process(code: str, *words: object, cwd: Path, runs: int = RUNS) -> Spent:
    """A whole Python process: start, imports, work; user and system time, from the system's account of it."""
    return process_group([(code, words)], cwd, runs)[0]


def process_group(calls: Sequence[tuple[str, Sequence[object]]], cwd: Path, runs: int = RUNS) -> list[Spent]:
    """Several processes in turn, so that what else the machine does falls on all of them alike."""
    found: list[list[tuple[float, float]]] = [[] for _ in calls]
    for _ in range(runs + 1):
        for own, (code, words) in zip(found, calls, strict=True):
            own.append(_once(code, words, cwd))
    return [Spent(statistics.median(one for one, _ in own[1:]), max(most for _, most in own)) for own in found]


def _once(code: str, words: Sequence[object], cwd: Path) -> tuple[float, float]:
    env = os.environ | {"PYTHONPATH": str(ROOT)}
    started = subprocess.Popen([sys.executable, "-c", code, *map(str, words)], cwd=cwd, env=env,
                               stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    assert started.stderr is not None
    said = started.stderr.read()
    _, status, used = os.wait4(started.pid, 0)
    started.returncode = os.waitstatus_to_exitcode(status)
    assert started.returncode == 0, (words, said[-500:])
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def call(job: Callable[[], object], runs: int = RUNS) -> float:
    """Seconds of processor time of a call in this process, the median."""
    times = []
    for _ in range(runs):
        began = time.process_time()
        job()
        times.append(time.process_time() - began)
    return statistics.median(times)


def times(what: str, floor: str, ours: Spent, least: Spent, most: float) -> Row:
    """A row that compares two processes."""
    return Row(what, floor, ours.seconds / least.seconds, most, "x", f"{ours.told} to {least.told}", ours.memory_mb)
