"""Predicted grades against what two decoders read of simulated photos: `python bench/grade_matrix.py [--full]`.

A cell is a symbol, a printer's dots, a gain, a contrast, a softness and a container. Its grade is predicted; then it is
photographed three times by a phone in the hand (up to 8 degrees from square, turned any way), read by both decoders.
"""

import argparse
import itertools
import random
import struct
import sys
import time
import zlib
from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from statistics import fmean

from scipy import stats
from seen import Camera, read, shot

from labeltool import tables
from labeltool.readback.quality.container import Cylinder
from labeltool.readback.quality.model import Known
from labeltool.readback.quality.predict import PIXELS, dots_of, pictured, predicted
from labeltool.readback.quality.press import INCH_MM, Press
from labeltool.readback.quality.scale import letter, standard
from labeltool.symbol.qr import blocks, matrix

RULES = standard(tables.toml("readback", "print_quality"))
VIEW_DEG = tables.toml("readback", "presses")["container"]["view"]
PAYLOADS = ("HTTPS://OTTERSHOLT.EXAMPLE/B/260503A31", "https://ottersholt.example/b/260503A31/",
            "https://id.ottersholt.example/b/260503A31/and-some-more",
            "https://id.ottersholt.example/01/09520123456788/10/260503A31?11=260503&15=270503")  # versions 2 to 5
PRINTERS = ((203, 2), (203, 3), (203, 4), (300, 3), (300, 4), (600, 9))  # dots an inch, dots a module
GAINS_MM = (-0.03, 0.0, 0.03, 0.06)  # of each edge
PAPERS = (0.85, 0.5, 0.25)  # light of the stock; the ink's is 0.05
ROUNDS = (None, 0.25, 0.4, 0.55)  # the symbol's width by the diameter; None: flat
BLURS = (0.05, 0.25, 0.4, 0.6)  # sigma of the edges, modules
SHOTS, SAMPLE, GOOD = 3, 160, 2.5


@dataclass(frozen=True)
class Cell:
    """One point of the matrix."""

    payload: str
    dpi: int
    dots: int
    gain_mm: float
    paper: float
    round: float | None
    blur: float


@dataclass(frozen=True)
class Result:
    """What came of a cell: its grade, what limits it, and which shots each decoder (zxing, zbar) read."""

    cell: Cell
    grade: float
    limits: tuple
    reads: tuple

    @property
    def both(self):
        """Whether each decoder read one of the shots at least."""
        return all(any(found) for found in zip(*self.reads, strict=True))

    @property
    def share(self):
        """The share of shots read, over both decoders."""
        return fmean(seen for pair in self.reads for seen in pair)


def cells():
    """Every cell of the full matrix."""
    every = itertools.product(PAYLOADS, PRINTERS, GAINS_MM, PAPERS, ROUNDS, BLURS)
    return [Cell(payload, *printer, *rest) for payload, printer, *rest in every]


def chosen(count, seed=15415):
    """A fixed sample of the matrix; half of it near the good end, where grades and decoders could disagree."""
    every = cells()
    easy = [cell for cell in every
            if cell.paper >= 0.5 and cell.blur <= 0.4 and cell.gain_mm < 0.05 and (cell.round or 0) < 0.3]
    chance = random.Random(seed)
    return chance.sample(every, count - count // 2) + chance.sample(easy, count // 2)


def press(cell):
    """The press of a cell."""
    module_mm = cell.dots * INCH_MM / cell.dpi
    return Press((cell.gain_mm, cell.gain_mm), cell.blur * module_mm, cell.paper, min(0.05, cell.paper))


@cache
def drawn(cell):
    """The printed picture of a cell, with a wide border for the camera to look at."""
    qr = matrix(cell.payload)
    dots, seat = dots_of(qr.rows, cell.dots, INCH_MM / cell.dpi, 6)
    return pictured(dots, seat, qr.size, press(cell))[0]


def photos(cell):
    """Three photos of a cell."""
    module_mm = cell.dots * INCH_MM / cell.dpi
    diameter = matrix(cell.payload).size * module_mm / cell.round if cell.round else None
    chance = random.Random(repr(cell))
    for number in range(SHOTS):
        tilt, turn = (chance.uniform(-VIEW_DEG, VIEW_DEG) for _ in range(2))
        camera = Camera(tilt_deg=tilt, turn_deg=turn, roll_deg=chance.uniform(0, 360), seed=number)
        yield shot(drawn(cell), module_mm / PIXELS, module_mm, diameter, camera)


def run(cell):
    """Grade, photograph and read a cell."""
    qr = matrix(cell.payload)
    module_mm = cell.dots * INCH_MM / cell.dpi
    dots, seat = dots_of(qr.rows, cell.dots, INCH_MM / cell.dpi, 4)
    known = Known(qr.rows, qr.version, qr.level, blocks(qr.version, qr.level))
    cylinder = Cylinder(qr.size * module_mm / cell.round, VIEW_DEG) if cell.round else None
    grade = predicted(dots, seat, known, press(cell), RULES, cylinder)
    reads = tuple(tuple(text == cell.payload for text in read(pixels)) for pixels in photos(cell))
    drawn.cache_clear()
    return Result(cell, grade.value, grade.limits, reads)


def correlation(results):
    """Spearman's rank correlation of grade and share of shots read."""
    return float(stats.spearmanr([item.grade for item in results], [item.share for item in results])[0])


def unread_though_good(results):
    """The cells of grade A or B that a decoder could not read in any shot."""
    return [item for item in results if item.grade >= GOOD and not item.both]


def report(results, seconds):
    """Print the table of docs/verification.md."""
    by = defaultdict(list)
    for item in results:
        by[letter(item.grade, RULES.letters)].append(item)
    print(f"{len(results)} cells in {seconds:.0f} s, {SHOTS} photos each")
    print("| grade | cells | read by both decoders | of single photos, zxing | of single photos, zbar |")
    print("| --- | --- | --- | --- | --- |")
    for name in "ABCDF":
        if by[name]:
            zxing, zbar = (fmean(pair[which] for item in by[name] for pair in item.reads) for which in (0, 1))
            both = fmean(item.both for item in by[name])
            print(f"| {name} | {len(by[name])} | {both:.1%} | {zxing:.1%} | {zbar:.1%} |")
    failing = [item.grade for item in results if not item.both]
    print(f"highest grade of a cell that a decoder could not read: {max(failing, default=0.0)}")
    print(f"rank correlation of grade and share of photos read: {correlation(results):.2f}")
    bright = [item for item in results if item.cell.paper >= 0.8]
    print(f"the same where contrast is full ({len(bright)} cells): {correlation(bright):.2f}")
    for item in unread_though_good(results):
        print(f"NOT READ: grade {item.grade} {item.limits} {item.reads} {item.cell}")


def png(pixels, path):
    """Write grey pixels as a PNG."""
    height, width = pixels.shape
    rows = b"".join(b"\x00" + bytes(row) for row in pixels)

    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    body = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + body)


def main():
    """Run the sample or all of it; exit 1 where a symbol of grade A or B was not read."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--full", action="store_true", help="every cell, about half an hour")
    parser.add_argument("--cells", type=int, default=SAMPLE, help="size of the fixed sample")
    parser.add_argument("--pictures", type=Path, help="write some of the photos into this folder")
    args = parser.parse_args()
    start = time.perf_counter()
    results = [run(cell) for cell in (cells() if args.full else chosen(args.cells))]
    report(results, time.perf_counter() - start)
    if args.pictures:
        for number, item in enumerate(results[:: max(1, len(results) // 12)]):
            png(next(photos(item.cell)), args.pictures / f"{number:02}-grade-{item.grade}.png")
    return 1 if unread_though_good(results) else 0


if __name__ == "__main__":
    sys.exit(main())
