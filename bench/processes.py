"""Whole commands against the least that a script must do for the same: `python bench/processes.py`.

The floor of `print` imports the same libraries and draws the same strings at the same places by hand, without forms,
record, law or fitting; that of reading back draws its page once at 300 dpi and decodes it once.
"""

from __future__ import annotations

import json
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from measured import LABELTOOL, ROOT, Row, process, process_group, times

DEMO, START = ROOT / "demo" / "ottersholt", ROOT / "labeltool" / "data" / "start"
EMPTY = "import click\n@click.command()\ndef main(): pass\nmain(['--help'])"
HAND = """
import json, sqlite3, sys, qrcode
from fontTools.ttLib import TTFont as Reader
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
job = json.load(open(sys.argv[1]))
for name, path in job["fonts"].items():
    Reader(path).getBestCmap()
    pdfmetrics.registerFont(TTFont(name, path))
code = qrcode.QRCode(border=0)
code.add_data(job["payload"])
rows = code.get_matrix()
page = Canvas("hand.pdf", pagesize=(210 * mm, 297 * mm))
for left, top in job["places"]:
    for font, size, x, y, text in job["runs"]:
        page.setFont(font, size)
        page.drawString((left + x) * mm, (297 - top - y) * mm, text)
    for line, row in enumerate(rows):
        for column, dark in enumerate(row):
            if dark:
                page.rect((left + column * 0.5) * mm, (297 - top - line * 0.5) * mm, 0.5 * mm, 0.5 * mm, 0, 1)
page.save()
sqlite3.connect("hand.sqlite").execute("create table if not exists print (job)")
"""
READ = HAND + """
import pypdfium2, zxingcpp
picture = pypdfium2.PdfDocument("hand.pdf")[0].render(scale=300 / 72, grayscale=True)
zxingcpp.read_barcodes(picture.to_pil())
"""
STOCK, FORMULA = "a4-3x8-63.5x33.9", "plain-foot-balm"
PRINT = ("print", FORMULA, "--stock", STOCK, "--artwork", "back")
MANY = (24, 1_000, 100_000)


def workshop(parent: Path) -> Path:
    """The workshop that `labeltool start` makes."""
    return Path(shutil.copytree(START, parent / "shop"))


def rows() -> Iterator[Row]:
    """The rows of whole commands."""
    with tempfile.TemporaryDirectory() as name:
        shop = workshop(Path(name))
        empty, listed = process_group([(EMPTY, ()), (LABELTOOL, ("--help",))], shop)
        yield times("`labeltool --help`", "an empty click command", listed, empty, 1.3)
        least, declared = process_group([("import click, tomllib", ()),
                                         (LABELTOOL, ("declare", "oat-milk-hand-lotion"))], DEMO)
        yield times("`declare` of a demo formula", "python importing click and tomllib", declared, least, 2.0)
        hand = by_hand(shop)
        drawn, read, printed, proved = process_group([
            (HAND, (hand,)), (READ, (hand,)), (LABELTOOL, (*PRINT, "--no-verify")), (LABELTOOL, PRINT)], shop)
        yield times("`print` of 24 labels, not read back", "a script that draws the same strings by hand", printed,
                    drawn, 1.5)
        yield times("`print` of 24 labels, read back and graded", "the script, its page drawn and decoded once", proved,
                    read, 1.5)
        yield from many(shop)


def by_hand(shop: Path) -> Path:
    """What the hand script draws: the strings, places and payload of a real print of 24 labels."""
    sys.path.insert(0, str(ROOT))
    from labeltool import tables
    from labeltool.records.store import open_store
    from labeltool.workflow.expecting import expected_of

    process(LABELTOOL, *PRINT, "--no-verify", cwd=shop, runs=1)
    with open_store(shop / "records.sqlite", create=False) as store:
        (batch, *_) = store.batches()
        labels = expected_of(store, store.prints(batch.code)[0]).pages[0].labels
    frame = labels[0].frame
    runs = [(item.weight, item.size_pt, item.x_mm, item.y_mm, item.text) for item in frame.items
            if type(item).__name__ == "TextRun"]
    fonts = {}
    for weight, _ in frame.fonts:
        path = shop / f"{weight}.ttf"
        path.write_bytes(tables.font_bytes(weight))
        fonts[weight] = str(path)
    job = {"fonts": fonts, "runs": runs, "payload": frame.symbols[0].payload,
           "places": [(label.x_mm, label.y_mm) for label in labels]}
    (shop / "hand.json").write_text(json.dumps(job))
    return shop / "hand.json"


def many(shop: Path) -> Iterator[Row]:
    """One batch on more and more sheets."""
    for count in MANY:
        spent = process(LABELTOOL, *PRINT, "--no-verify", "--count", count, "-o", f"many-{count}.pdf", cwd=shop)
        size = (shop / f"many-{count}.pdf").stat().st_size
        pages = -(-count // 24)
        told = f"{spent.seconds:.2f} s, {size / 1024:,.0f} kB, {size / 1024 / pages:.2f} kB a page of {pages:,}"
        yield Row(f"{count:,} labels of one batch", "3 s", spent.seconds, 3.0, "s", told, spent.memory_mb)
    yield Row("memory of 100,000 labels", "120 MB", spent.memory_mb, 120.0, "MB", f"{spent.memory_mb:.0f} MB",
              spent.memory_mb)


def batches(count: int) -> Iterator[Row]:
    """Many different batches in one run, against as many times the batch that follows a first one in a process."""
    with tempfile.TemporaryDirectory() as name:
        shop = workshop(Path(name))
        sizes = {}
        for lines in (1, 11, count):
            path = shop / f"list-{lines}.csv"
            path.write_text("formula,made,size,count\n" + f"{FORMULA},2026-05-03,500g,1\n" * lines)
            sizes[lines] = process(LABELTOOL, "print", "--from", path.name, "--stock", STOCK, "--artwork", "back",
                                   cwd=shop, runs=1)
        each = (sizes[11].seconds - sizes[1].seconds) / 10
        whole = sizes[count]
        yield Row(f"{count:,} different batches in one run", "as many times one in-process",
                  whole.seconds / each / count,
                  2.0, "x", f"{whole.seconds:.1f} s to {count:,} times {each * 1000:.0f} ms", whole.memory_mb)


if __name__ == "__main__":
    for found in rows():
        print(found)
