"""How the record bears ten thousand and a hundred thousand batches: lists, traces and prints, as ratios.

Usage: python bench/record_scale.py [--batches 100000] [--small 10000]
Each batch has five events: opened, weighed from two of many lots, released, printed. A frame is kept for each print.
Times are the processor's, so that other work on the machine weighs little; the median of seven.
"""

from __future__ import annotations

import argparse
import datetime as dt
import os
import resource
import shutil
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from measured import Row

from labeltool.records.log import Draft
from labeltool.records.store import Store, open_store, restore
from labeltool.workflow.inputs import frozen, read_inputs
from labeltool.workflow.setting import Setting, real_setting
from labeltool.workflow.tracing import trace_term

ROOT = Path(__file__).resolve().parent.parent
FORMULA, RUNS, AT = "tinted-lip-balm", 7, "2026-05-03T09:00:00+00:00"
FIRST = dt.date(1995, 1, 2)
LOT = "L-77"
BARE = "SELECT DISTINCT batch FROM event WHERE kind = 'bench' AND body LIKE '%\"lot\":\"L-77\"%'"
BATCHES_A_LOT = 20


def fill(store: Store, count: int, inputs: object) -> None:
    """Put batches on record as the tool does, in few transactions."""
    asset = store._assets.add_value("inputs", inputs)
    for start in range(0, count, 2000):
        with store.together():
            for number in range(start, min(start + 2000, count)):
                _batch(store, number, asset)


def _batch(store: Store, number: int, asset: str) -> None:
    day = FIRST + dt.timedelta(days=number // 10)
    code = f"{day:%y%m%d}-{'ABCDEFGHJK'[number % 10]}{number % 97:02}-{day:%Y}"
    key = code.replace("-", "")
    opened = {"code": code, "code_key": key, "stem": f"{day:%y%m%d}*", "made": day.isoformat(), "product": "Lip Balm",
              "formula_key": FORMULA, "version": "1", "key": "ABCDEFGH", "size_g": "500", "frozen": asset}
    store._log.append(Draft("open", key, opened, "AB", AT, nth=1))
    for line, material in enumerate(("shea-butter", "beeswax"), 1):
        lot = f"L-{number // BATCHES_A_LOT}" if line == 1 else f"B-{number // 50}"
        entry = {"$": "Weighing", "material": material, "grams": "250", "line": line, "lot": lot, "expires": None,
                 "note": ""}
        store._log.append(Draft("bench", key, {"entry": entry, "brought": None}, "AB", AT))
    store._log.append(Draft("state", key, {"state": "released", "why": None}, "AB", AT))
    store._log.append(Draft("print", key, _printed(store, code, number), "AB", AT, nth=1))


def _printed(store: Store, code: str, number: int) -> dict[str, object]:
    frame = store._assets.add_value("frame", {"code": code, "items": [[number, "Ricinus Communis Seed Oil"]] * 20})
    text = store._assets.add_value("label-text", {"blocks": ["one text for all"]})
    words = {"declaration": "Ricinus Communis Seed Oil", "warnings": [], "date": "11/2027"}
    return {"artworks": ["back"], "labels": 24, "sheets": 1, "skip": 0, "places": [], "stock": {"name": "a4"},
            "frames": [frame], "text": text, "words": words, "file": f"prints/{code}-1.pdf", "sha256": "0" * 64,
            "markets": ["UK"], "languages": ["en"], "pack": "", "printer": None, "correction": None, "why": None,
            "reprint_of": None, "reset": False, "extra": {"payload": code}}


def spent(job: Callable[[], object]) -> float:
    """Seconds of processor time that a job takes, the median of seven."""
    times = []
    for _ in range(RUNS):
        began = time.process_time()
        job()
        times.append(time.process_time() - began)
    return statistics.median(times)


def printing(folder: Path) -> float:
    """Seconds of processor time of one whole `print FORMULA` that opens a batch."""
    words = [sys.executable, "-c", "from labeltool.cli.main import run; run()", "print", FORMULA, "--no-verify"]
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(words, cwd=folder, env=os.environ | {"PYTHONPATH": str(ROOT)}, check=True, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def bare(path: Path, sql: str) -> Callable[[], object]:
    """A query over a connection of its own, as a script would write it."""
    def run() -> object:
        connection = sqlite3.connect(path)
        try:
            return connection.execute(sql).fetchall()
        finally:
            connection.close()

    return run


def listed(path: Path) -> list[object]:
    """Every batch as a row of `batch list`."""
    with open_store(path) as store:
        return list(store.listed())


def shop(parent: Path, name: str, count: int) -> tuple[Path, Setting]:
    """A demo workshop with so many batches on record."""
    folder = parent / name
    shutil.copytree(ROOT / "demo" / "ottersholt", folder)
    setting = real_setting(folder)
    inputs = frozen(read_inputs(folder / "formulas" / f"{FORMULA}.toml", setting).inputs)
    with open_store(folder / "records.sqlite") as store:
        fill(store, count, inputs)
    return folder, setting


def transfer(folder: Path, parent: Path) -> None:
    """Export, restore, export again: the same bytes."""
    began = time.monotonic()
    with open_store(folder / "records.sqlite") as store:
        store.export(parent / "one.jsonl")
    restore(parent / "one.jsonl", parent / "again.sqlite")
    with open_store(parent / "again.sqlite") as store:
        store.export(parent / "two.jsonl")
    same = (parent / "one.jsonl").read_bytes() == (parent / "two.jsonl").read_bytes()
    size = (parent / "one.jsonl").stat().st_size / 1e6
    row("export, restore, export", f"{'identical' if same else 'DIFFERENT'}: {size:.0f} MB in "
                                   f"{time.monotonic() - began:.0f} s")


def row(what: str, measured: str) -> None:
    """A line of the table."""
    print(f"| {what} | {measured} |", flush=True)


def look(folder: Path, setting: Setting, count: int) -> None:
    """List and trace in one record."""
    path = folder / "records.sqlite"
    row(f"`batch list` of {count:,}", f"{spent(lambda: listed(path)) * 1000:.0f} ms")
    touched = trace_term(LOT, setting)[0].batches
    assert len(touched) == BATCHES_A_LOT
    traced, floor = spent(lambda: trace_term(LOT, setting)), spent(bare(path, BARE))
    row(f"`trace` of a lot in {len(touched)} of {count:,} batches",
        f"{traced * 1000:.0f} ms: {traced / floor:.2f} times bare SQL, a search in the events ({floor * 1000:.0f} ms)")


def compare(large: Path, empty: Path, count: int) -> None:
    """Open and print, in turn on both records."""
    pairs = [(printing(large), printing(empty)) for _ in range(RUNS)]
    full, fresh = (statistics.median(times) for times in zip(*pairs, strict=True))
    row(f"open and print, with {count:,} batches on record", f"{full * 1000:.0f} ms: {full / fresh:.2f} times "
        f"the same on an empty record ({fresh * 1000:.0f} ms)")


def rows(count: int = 100_000) -> Iterator[Row]:
    """The rows of the table, on a record of so many batches."""
    with tempfile.TemporaryDirectory() as name:
        parent = Path(name)
        empty, _ = shop(parent, "empty", 0)
        folder, setting = shop(parent, "large", count)
        pairs = [(printing(folder), printing(empty)) for _ in range(RUNS)]
        full, fresh = (statistics.median(times) for times in zip(*pairs, strict=True))
        yield Row(f"open and print, {count:,} batches on record", "the same on an empty record", full / fresh, 1.1, "x",
                  f"{full * 1000:.0f} ms to {fresh * 1000:.0f} ms")
        traced, floor = spent(lambda: trace_term(LOT, setting)), spent(bare(folder / "records.sqlite", BARE))
        yield Row(f"`trace` of a lot in {count:,} batches", "bare SQL query over the events", traced / floor, 2.0, "x",
                  f"{traced * 1000:.0f} ms to {floor * 1000:.0f} ms")


def main() -> None:
    """Build, measure, print."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--batches", type=int, default=100_000)
    parser.add_argument("--small", type=int, default=10_000)
    call = parser.parse_args()
    print("| what | measured |\n| --- | --- |")
    with tempfile.TemporaryDirectory() as name:
        parent = Path(name)
        folder, setting = shop(parent, "small", call.small)
        look(folder, setting, call.small)
        transfer(folder, parent)
        empty, _ = shop(parent, "empty", 0)
        compare(folder, empty, call.small)
        began = time.monotonic()
        folder, setting = shop(parent, "large", call.batches)
        size = (folder / "records.sqlite").stat().st_size / 1e6
        row(f"{call.batches:,} batches put on record", f"{time.monotonic() - began:.0f} s, {size:,.0f} MB")
        look(folder, setting, call.batches)
        compare(folder, empty, call.batches)
        began = time.monotonic()
        with open_store(folder / "records.sqlite") as store:
            found = [item for item in store.check(folder) if item.rule != "record.print-missing"]
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        row(f"`records check` of {call.batches:,}", f"{time.monotonic() - began:.0f} s, {len(found)} fault(s), at most "
            f"{most:.0f} MB of memory")


if __name__ == "__main__":
    main()
