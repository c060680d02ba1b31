"""Write docs/walkthrough.md: a day at the bench, each command typed on a terminal and its questions answered.

Usage: python tools/walkthrough_docs.py
"""

from __future__ import annotations

import os
import re
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from pseudo_terminal import Answers, screen

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "walkthrough.md"
WIDTH = 110
HEAD = """# A day at the bench

From a formula to labelled, released, traced jars, as it stood on the screen. This page is generated: `make docs` types
every command on a terminal of its own, answers its questions, and writes down what it said. Monday, 4 May 2026; "…"
stands for the 64 characters of a digest, and for the versions of the two decoders.
"""
RUN = """
import datetime as dt, random, sys, uuid
from types import SimpleNamespace
import labeltool.records.log as log
from labeltool.workflow import setting
moment = dt.datetime.fromisoformat(sys.argv[1])
class Day(dt.date):
    @classmethod
    def today(cls):
        return cls(moment.year, moment.month, moment.day)
class Moment(dt.datetime):
    @classmethod
    def now(cls, tz=None):
        return moment.replace(tzinfo=tz)
setting.dt = SimpleNamespace(date=Day, datetime=Moment, UTC=dt.UTC)
chance = random.Random(sys.argv[1])
log.uuid = SimpleNamespace(uuid4=lambda: uuid.UUID(int=chance.getrandbits(128), version=4))
from labeltool.cli.main import run
run(sys.argv[2:])
"""
CODE = "260504A22"


@dataclass(frozen=True)
class Typed:
    """A command at a time of the day, what the maker says about it, and the answers to its questions."""

    clock: str
    command: str
    said: str = ""
    answers: Answers = ()


def row(grams: str, lot: str | None = None, *, new: bool = True) -> Answers:
    """A mass and its lot as they are asked for; a lot that is not on record is received."""
    asked = [("  grams: ", grams)]
    if lot is not None:
        asked += [("  lot: ", lot), *([("[y/N]: ", "y")] if new else [])]
    return tuple(asked)


DAY = (
    Typed("08:05", "start ottersholt", "A workshop folder that prints at once. The maker puts their own name, address "
          "and formulas in place of the examples; here they stay."),
    Typed("08:20", "declare calendula-hand-cream", "What will stand on the label, and whether the order holds whatever "
          "the suppliers delivered within their ranges."),
    Typed("08:40", "lot receive shea-butter SB-2211 --grams 5000 --expires 2028-03-31", "A delivery came."),
    Typed("08:50", "batch open calendula-hand-cream --size 1kg", "Today's batch."),
    Typed("08:52", f"weigh {CODE}"),
    Typed("09:10", f"batch bench {CODE}", "At the bench, row by row. Every answer is on record before the next "
          "question; lots that nobody received yet are asked about. After the water phase the telephone rings: q.", (
              *row("734.2"), *row("40.0", "G-118"), *row("3.0", "X-7"), ("  grams: ", "q"))),
    Typed("10:30", f"batch bench {CODE}", "It goes on where it was left. 54 g of emulsifier were typed for 50.4, and "
          "the tool asks.", (
              *row("100.3", "CO-31"), *row("54", "EW-5"), ("keep it? [y/N]: ", "n"), *row("50.4", "EW-5"),
              *row("45.1", "SB-2211", new=False), *row("15.0", "CA-2"), *row("8.0", "PR-90"), *row("3.0", "VE-14"),
              *row("2.0", "LA-6"), *row("48.72-47.42", "CS-3"), ("such as 5.32@21C: ", "5.12@22C"),
              ("such as 488g: ", "972g"), ("filled: ", "19"))),
    Typed("11:55", f"batch bench {CODE} --correct glycerin=40.2 --why \"misread the display\"",
          "A slip is corrected with its reason; what was there before stays on record."),
    Typed("13:10", f"batch release {CODE} --by \"A. Bell\"", "Readings in range, lots named and in date, masses within "
          "tolerance: a person decides, and the decision is on record."),
    Typed("13:15", f"print {CODE} --count filled", "One label for each jar. The PDF is read back first."),
    Typed("13:40", f"verify prints/{CODE}-1.pdf", "The file again, as a second look before it goes to the printer."),
    Typed("14:20", f"reprint {CODE} --count 1 --why \"one jar's label tore\"", "From the record alone."),
    Typed("14:25", f"batch bench {CODE} --spoiled 1=1", "The torn one is counted, so that labels and jars agree."),
    Typed("15:00", f"batch show {CODE}", "All of it on one page; with `-o FILE.pdf`, on paper."),
    Typed("15:30", "trace SB-2211", "The supplier of the shea butter calls: where did that lot go?"),
    Typed("15:31", "trace SB-2211 -o recall.csv"),
    Typed("16:00", "due --within 18m", "What comes near its date."),
    Typed("16:50", "records backup ../backup-2026-05-04.sqlite", "Before going home: a copy for another disk, and its "
          "head for the notebook."),
    Typed("16:51", "records check"),
)


def typed_day(folder: Path) -> Iterator[str]:
    """The page, piece by piece; the workshop is made in `folder`."""
    yield HEAD
    env = {"PATH": os.environ.get("PATH", ""), "PYTHONPATH": str(ROOT), "COLUMNS": str(WIDTH), "LANG": "C.UTF-8",
           "TERM": "dumb", "NO_COLOR": "1"}
    for typed in DAY:
        cwd = folder if typed.command.startswith("start") else folder / "ottersholt"
        words = [sys.executable, "-c", RUN, f"2026-05-04T{typed.clock}:00", *_words(typed.command)]
        said = [f"\n{typed.said}\n"] if typed.said else []
        text = _tidy(screen(words, cwd, env, typed.answers), folder)
        yield "".join([*said, f"\n```console\n$ labeltool {typed.command}\n{text}```\n"])
        if typed.command.startswith("start"):
            yield "\n```console\n$ cd ottersholt\n```\n"


def _words(command: str) -> list[str]:
    import shlex

    return shlex.split(command)


def _tidy(text: str, folder: Path) -> str:
    """The text without what differs from one machine, or one change of the tool, to the next."""
    text = text.replace(f"{folder}{os.sep}", "").replace(str(folder), ".")
    text = re.sub(r"\b[0-9a-f]{64}\b", "…", text)
    return re.sub(r"\b(zxing-cpp|zbar) [0-9.]+", r"\1 …", text)


def page() -> str:
    """The whole page."""
    with tempfile.TemporaryDirectory() as name:
        return "".join(typed_day(Path(name).resolve()))


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
    print(f"written: {PAGE.relative_to(ROOT)}")
