"""The table of docs/performance.md: `python bench/table.py [--write]`.

Each script that has rows runs in a process of its own and hands them over as JSON.
"""

from __future__ import annotations

import argparse
import datetime as dt
import importlib
import json
import os
import platform
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import asdict
from importlib.metadata import version
from pathlib import Path

from measured import ROOT, RUNS, Row

SOURCES = ("processes:rows", "processes:batches", "type_fit:rows", "order_proof:rows", "record_scale:rows",
           "pages:rows")
BATCHES = 150
LIBRARIES = ("click", "reportlab", "qrcode", "pypdfium2", "zxing-cpp", "pyzbar", "tomli", "jinja2", "scipy")
PAGE = ROOT / "docs" / "performance.md"
START, END = "<!-- measured -->\n", "<!-- end -->\n"


def rows_of(source: str) -> Iterator[Row]:
    """The rows of one source."""
    module, _, name = source.partition(":")
    found = getattr(importlib.import_module(module), name)
    yield from found(BATCHES) if name == "batches" else found()


def measured(source: str) -> list[Row]:
    """The rows of one source, from a process of its own."""
    env = os.environ | {"PYTHONPATH": str(ROOT)}
    ran = subprocess.run([sys.executable, __file__, "--source", source], env=env, stdout=subprocess.PIPE, text=True,
                         check=True)
    return [Row(**json.loads(line)) for line in ran.stdout.splitlines() if line.startswith("{")]


def lines(found: list[Row]) -> Iterator[str]:
    """The table as Markdown."""
    yield "| what | floor | aim | measured | | memory | met |"
    yield "| --- | --- | --- | --- | --- | --- | --- |"
    for row in found:
        memory = f"{row.memory_mb:.0f} MB" if row.memory_mb else ""
        unit = "×" if row.unit == "x" else f" {row.unit}"
        yield (f"| {row.what} | {row.floor} | ≤ {row.most:g}{unit} | **{row.value:.3g}{unit}** | {row.measured} | "
               f"{memory} | {'yes' if row.met else 'no'} |")


def head(load: float) -> str:
    """Machine, versions, date and load."""
    pages = os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE") / 2**30
    names = ", ".join(f"{name} {version(name)}" for name in LIBRARIES)
    return (f"{dt.date.today()}: {os.cpu_count()} cores ({platform.machine()}), {pages:.0f} GB, {platform.system()}, "
            f"Python {platform.python_version()}; {names}. Load before the run: {load:.1f}. Median of {RUNS} runs, "
            "processor time.")


def main() -> None:
    """Measure, print; with --write, into docs/performance.md."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--source", help="the rows of this source alone, as JSON")
    parser.add_argument("--write", action="store_true", help="write docs/performance.md")
    given = parser.parse_args()
    if given.source:
        for row in rows_of(given.source):
            print(json.dumps(asdict(row)), flush=True)
        return
    load = os.getloadavg()[0]
    found = []
    for source in SOURCES:
        found += measured(source)
        print(f"{source} done", file=sys.stderr)
    text = "\n".join([head(load), "", *lines(found)]) + "\n"
    print(text)
    if given.write:
        _write(PAGE, text)


def _write(path: Path, text: str) -> None:
    """Put the table between its marks, the words around it left as they are."""
    before, _, rest = path.read_text(encoding="utf-8").partition(START)
    _, _, after = rest.partition(END)
    path.write_text(before + START + "\n" + text + "\n" + END + after, encoding="utf-8")


if __name__ == "__main__":
    main()
