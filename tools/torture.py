"""Kill the tool at random moments and prove each time that nothing was lost, doubled or left half done.

Usage: python tools/torture.py [--kills 500] [--writers 16] [--each 50] [--seed 1] [--write]
`--write` puts the figures into docs/reliability.md.
"""

from __future__ import annotations

import argparse
import datetime as dt
import platform
import re
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from random import Random

from torture_proof import Broken, Proof
from torture_shop import new_shop

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "reliability.md"
BEGIN, END = "<!-- figures: make torture writes them -->", "<!-- end of figures -->"


def kills(folder: Path, count: int, seed: int = 1) -> Counter[str]:
    """Kill `count` commands in a new workshop; how many of which ended how. Raises Broken at the first lie."""
    chance, shop = Random(seed), new_shop(folder)
    proof, tally = Proof(shop), Counter[str]()
    while tally["killed"] < count:
        verb = chance.choice(shop.verbs())
        words, key = shop.call(verb), f"key-{tally['calls']}"
        cut = shop.killed(verb, words, key, chance)
        tally.update({"calls": 1, "killed": int(cut), verb: int(cut), "finished before the kill": int(not cut)})
        done = proof.after(words, key, acknowledged=not cut)
        tally["after commit"] += int(cut and done)
        if cut and chance.random() < 0.5:
            shop.done(*words, "--once", key)
            proof.after(words, key, acknowledged=True)
            tally["called again under their key"] += 1
    proof.whole()
    return tally


def writers(folder: Path, processes: int, each: int) -> Counter[str]:
    """Let processes open batches of one day at the same moment. Raises Broken where a code is lost or doubled."""
    shop = new_shop(folder)
    told = shop.open_many(processes, each)
    proof = Proof(shop)
    proof.codes(told, processes * each)
    proof.whole()
    return Counter(processes=processes, batches=len(told), codes=len(set(told)))


def lines(killed: Counter[str], wrote: Counter[str], seed: int, seconds: float) -> list[str]:
    """The figures as a Markdown table."""
    rest = {"calls", "killed", "finished before the kill", "after commit",
            "called again under their key"}
    by_verb = ", ".join(f"{name} {number}" for name, number in sorted(killed.items()) if name not in rest)
    return [
        f"`python tools/torture.py --kills {killed['killed']} --writers {wrote['processes']} "
        f"--each {wrote['batches'] // max(1, wrote['processes'])} --seed {seed}`, {dt.date.today()}, "
        f"{machine()}, {seconds / 60:.0f} min:",
        "",
        "| what | figure |",
        "| --- | --- |",
        f"| commands killed (SIGKILL) | {killed['killed']}: {by_verb} |",
        f"| killed after their work was on record, before they could say so | {killed['after commit']} |",
        f"| killed and called again under the same `--once` key | {killed['called again under their key']} |",
        f"| commands that ended before the kill came, acknowledged | {killed['finished before the kill']} |",
        "| acknowledged and lost, codes used twice, half files, records that did not check | 0 |",
        f"| batches opened by {wrote['processes']} processes at once on one day | {wrote['batches']} |",
        f"| distinct codes among them | {wrote['codes']} |",
    ]


def machine() -> str:
    """The machine and versions in a few words."""
    import os

    return (f"{os.cpu_count()} cores ({platform.machine()}), {platform.system()}, Python {platform.python_version()}, "
            f"SQLite {sqlite3.sqlite_version}")


def write(text: list[str]) -> None:
    """Put the figures in their place on the page."""
    page = PAGE.read_text(encoding="utf-8")
    body = "\n".join([BEGIN, "", *text, "", END])
    PAGE.write_text(re.sub(f"{re.escape(BEGIN)}.*{re.escape(END)}", lambda _: body, page, flags=re.S), encoding="utf-8")


def main() -> int:
    """Run both and print the figures; exit 1 with what was found broken."""
    parser = argparse.ArgumentParser()
    for name, value in (("kills", 500), ("writers", 16), ("each", 50), ("seed", 1)):
        parser.add_argument(f"--{name}", type=int, default=value)
    parser.add_argument("--write", action="store_true")
    parser.add_argument("--folder", type=Path)
    call = parser.parse_args()
    began = time.monotonic()
    with tempfile.TemporaryDirectory(dir=call.folder) as name:
        try:
            wrote = writers(Path(name) / "writers", call.writers, call.each)
            killed = kills(Path(name) / "kills", call.kills, call.seed)
        except Broken as error:
            print(f"broken: {error}", file=sys.stderr)
            return 1
    text = lines(killed, wrote, call.seed, time.monotonic() - began)
    print("\n".join(text))
    if call.write:
        write(text)
    return 0


if __name__ == "__main__":
    sys.exit(main())
