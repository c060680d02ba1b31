"""The workshop that is tortured, and its commands: each a process of its own, killed at a random moment."""

from __future__ import annotations

import csv
import os
import signal
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from labeltool.records.store import open_store

ROOT = Path(__file__).resolve().parent.parent
FORMULA, SIZE = "plain-foot-balm", "500g"
RUN = "from labeltool.cli.main import run; run()"
MANY = """
import contextlib, sys
from labeltool.cli.main import run
for _ in range(int(sys.argv[1])):
    try:
        run(sys.argv[2:])
    except SystemExit as leave:
        if leave.code:
            raise
"""


@dataclass
class Shop:
    """A workshop folder; `seconds` is how long each verb last took when nobody killed it."""

    folder: Path
    seconds: dict[str, float] = field(default_factory=dict)
    number: int = 0

    @property
    def record(self) -> Path:
        """The record's file."""
        return self.folder / "records.sqlite"

    def begin(self, *words: str, code: str = RUN) -> subprocess.Popen[str]:
        """Start a command."""
        env = os.environ | {"PYTHONPATH": str(ROOT)}
        return subprocess.Popen([sys.executable, "-c", code, *words], cwd=self.folder, env=env, text=True,
                                stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE)

    def run(self, *words: str) -> tuple[int, str, str]:
        """Exit code, stdout and stderr of a command that nobody kills."""
        child = self.begin(*words)
        out, err = child.communicate()
        return child.returncode, out, err

    def done(self, *words: str) -> str:
        """The stdout of a command that must succeed."""
        code, out, err = self.run(*words)
        if code:
            raise RuntimeError(f"labeltool {' '.join(words)}: exit {code}: {err}")
        return out

    def verbs(self) -> list[str]:
        """The verbs to choose from."""
        return ["print", "print CODE", "bench", "note", "release", "lot receive", "reprint"]

    def call(self, verb: str) -> list[str]:
        """The words of a verb, on a batch that is ready for it."""
        self.number += 1
        if verb == "print":
            return ["print", FORMULA, "--count", "2", *(["--no-verify"] if self.number % 2 else [])]
        if verb == "lot receive":
            return ["lot", "receive", "shea-butter", f"R-{self.number}"]
        if verb == "print CODE":
            return ["print", self.batch("open"), "--count", "1"]
        if verb == "note":
            return ["batch", "bench", self.batch("open"), "--note", f"note {self.number}"]
        if verb == "bench":
            return ["batch", "bench", self.batch("empty"), "--from", "filled.csv"]
        if verb == "release":
            return ["batch", "release", self.batch("weighed"), "--by", "A. Bell"]
        return ["reprint", self.batch("printed"), "--why", f"torn {self.number}"]

    def batch(self, wanted: str) -> str:
        """The code of a batch that is open, empty (nothing weighed), weighed or printed; made where there is none."""
        with open_store(self.record) as store:
            for item in reversed(list(store.listed())):
                kinds = {event.kind for event in store.events(item.code)}
                weighed = any("Weighing" in str(event.data) for event in store.events(item.code, "bench"))
                sized = item.state == "open" and item.size_g is not None
                fits = {"open": item.state == "open", "empty": sized and not weighed, "weighed": sized and weighed,
                        "printed": "print" in kinds}
                if fits[wanted]:
                    return item.code
        return self.made(wanted)

    def made(self, wanted: str) -> str:
        """A new batch, brought to where it is wanted."""
        code = self.done("batch", "open", FORMULA, "--size", SIZE).split()[0]
        if wanted == "weighed":
            self.done("batch", "bench", code, "--from", "filled.csv")
        if wanted == "printed":
            self.done("print", code, "--count", "1")
        return code

    def killed(self, verb: str, words: list[str], key: str, chance: Random) -> bool:
        """Kill a command at any moment, or a moment after it began to write. Whether the kill came before its end."""
        span = self.seconds.get(verb, 2.0)
        began, before = time.monotonic(), self.written()
        child = self.begin(*words, "--once", key)
        if chance.random() < 0.3:
            self.wait(child, began + chance.uniform(0.1, 1.1) * span)
        else:
            self.wait(child, began + 60, before, chance.randint(1, 6))
            time.sleep(chance.choice((0, 0.0005, 0.005, 0.02)))
        child.send_signal(signal.SIGKILL)
        _, err = child.communicate()
        if child.returncode == -signal.SIGKILL:
            return True
        if child.returncode:
            raise RuntimeError(f"labeltool {' '.join(words)}: exit {child.returncode}: {err}")
        self.seconds[verb] = time.monotonic() - began
        return False

    def wait(self, child: subprocess.Popen[str], until: float, before: object = None, changes: int = 0) -> None:
        """Wait until a time, the child's end, or so many changes to what is written."""
        while child.poll() is None and time.monotonic() < until:
            now = self.written() if changes else before
            if now != before:
                before, changes = now, changes - 1
                if not changes:
                    return
            time.sleep(0.0002)

    def written(self) -> tuple[object, ...]:
        """What changes as soon as the record or a print is written."""
        found: list[object] = []
        for path in (self.record, self.record.with_name("records.sqlite-wal"), self.folder / "prints" / ".unfinished"):
            try:
                at = path.stat()
                found.append((at.st_size, at.st_mtime_ns))
            except OSError:
                found.append(None)
        return tuple(found)

    def open_many(self, processes: int, each: int) -> list[str]:
        """The codes that processes at once were told, each opening several batches."""
        words = ("batch", "open", FORMULA, "--size", SIZE)
        running = [self.begin(str(each), *words, code=MANY) for _ in range(processes)]
        told = [child.communicate() for child in running]
        if any(child.returncode for child in running):
            raise RuntimeError("a writer failed: " + " ".join(err for _, err in told)[-2000:])
        return [line for out, _ in told for line in out.split()]


def new_shop(folder: Path) -> Shop:
    """A new workshop with a filled weighing sheet and one print."""
    folder.mkdir(parents=True)
    shop = Shop(folder)
    shop.done("start", ".")
    shop.done("weigh", FORMULA, "--size", SIZE, "-o", "empty.csv")
    with (folder / "empty.csv").open(encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    with (folder / "filled.csv").open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, rows[0].keys())
        writer.writeheader()
        for row in rows:
            writer.writerow(row | {"grams": row["planned"], "lot": f"L-{row['line']}"})
    shop.made("printed")
    return shop
