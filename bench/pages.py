"""Processor time of building a site of many batches: the first time, and when one batch changed. Ratios carry over."""

from __future__ import annotations

import datetime as dt
import shutil
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path

from measured import RUNS, Row

from labeltool.coding.checkdigits import mod97_check
from labeltool.records.model import Batch, Opening, PrintOrder, PrintRow
from labeltool.records.store import open_store
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.page_building import Built, build
from labeltool.workflow.page_desk import RecordDesk
from labeltool.workflow.place import Wish
from labeltool.workflow.runs import print_all
from labeltool.workflow.setting import Setting

BATCHES = 10_000
ROOT = Path(__file__).resolve().parent.parent
TODAY = dt.date(2026, 5, 3)


def main(count: int) -> None:
    """Print what was measured."""
    with tempfile.TemporaryDirectory() as home:
        folder, setting = filled_shop(Path(home), count)
        first, built = timed(folder, setting)
        print(f"{built.pages} pages built the first time: {first:.2f} s, {first / built.pages * 1000:.2f} ms a page")
        again, built = timed(folder, setting)
        print(f"nothing changed: {again:.2f} s, {again / first:.2f} of the first time, {built.written} written")
        with open_store(folder / "records.sqlite") as store:
            store.change_state(store.all_codes()[0], "withdrawn", by="AB", at="2026-05-04T09:00:00+00:00", why="x")
        once, built = timed(folder, setting)
        print(f"one batch withdrawn: {once:.2f} s, {once / first:.2f} of the first time, {built.written} written")
        desk = RecordDesk(folder, setting)
        for what in ("first", "next"):
            start = time.process_time()
            assert desk.public(f"/01/09520000025014/10/{code(count // 2)}")
            print(f"the {what} page that serve answers: {(time.process_time() - start) * 1000:.0f} ms")


def filled_shop(home: Path, count: int) -> tuple[Path, Setting]:
    """The demo workshop with this many batches of one print each."""
    folder = Path(shutil.copytree(ROOT / "demo" / "ottersholt", home / "shop"))
    setting = Setting(folder, {}, TODAY)
    print_all(["oat-milk-hand-lotion"], None, PrintCall(wish=Wish(count=1)), setting)
    fill(folder, count)
    return folder, setting


def rows() -> Iterator[Row]:
    """The row of the table: a first build against writing the same bytes, durably or not as the build does."""
    with tempfile.TemporaryDirectory() as home:
        folder, setting = filled_shop(Path(home), BATCHES)
        first, built = timed(folder, setting)
        files = {path.relative_to(folder / "site"): path.read_bytes() for path in (folder / "site").rglob("*")
                 if path.is_file()}
        floor = statistics.median(plainly(files, Path(home) / f"copy-{number}") for number in range(RUNS))
        yield Row(f"`pages build` of {built.pages:,} batches, once", "writing the same bytes", first / floor, 3.0, "x",
                  f"{first:.1f} s to {floor:.1f} s")


def plainly(files: dict[Path, bytes], target: Path) -> float:
    """Processor seconds that a loop needs to write files as they are."""
    began = time.process_time()
    for name, data in files.items():
        (target / name).parent.mkdir(parents=True, exist_ok=True)
        (target / name).write_bytes(data)
    return time.process_time() - began


def timed(folder: Path, setting: Setting) -> tuple[float, Built]:
    """Processor seconds that a build took, and what it did."""
    start = time.process_time()
    built = build(folder / "site", setting)
    return time.process_time() - start, built


def fill(folder: Path, count: int) -> None:
    """Copy the one batch on record, with its print, until there are `count`."""
    with open_store(folder / "records.sqlite") as store, store.together():
        (batch,) = store.batches()
        (row,) = store.prints(batch.code)
        for number in range(1, count):
            again = code(number)
            store.open_batch(opening(batch, again))
            store.add_print(order(row, batch.code, again))


def code(number: int) -> str:
    """The code of a batch by its number."""
    made = TODAY - dt.timedelta(days=1 + number // 20)
    body = f"{made:%y%m%d}{'ABCDEFGHJKLMNPQRSTUV'[number % 20]}"
    return body + mod97_check(body)


def opening(batch: Batch, again: str) -> Opening:
    """The opening of a batch like another, under its own code."""
    names = {item.name for item in fields(Opening)} & {item.name for item in fields(Batch)}
    return Opening(**({name: getattr(batch, name) for name in names} | {"code": again, "code_key": again}))


def order(row: PrintRow, before: str, again: str) -> PrintOrder:
    """The order of a print like another, for another batch."""
    names = {item.name for item in fields(PrintOrder)} & {item.name for item in fields(PrintRow)}
    like = PrintOrder(**{name: getattr(row, name) for name in names})
    extra = dict(row.extra) | {"payload": row.extra["payload"].replace(before, again)}
    text = dict(row.text) | {"code": again}
    return replace(like, code=again, file=f"prints/{again}-{{n}}.pdf", extra=extra, text=text)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else BATCHES)
