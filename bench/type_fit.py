"""How long it takes to set the demo's longest label as large as it can be: `python bench/type_fit.py`.

The median of 7 runs, in processor time, for each artwork that fits, on a few stocks; milliseconds are this machine's.
"""

import platform
import statistics
import sys
from functools import partial
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from demo_labels import longest
from measured import Row

from labeltool import tables
from labeltool.symbol.qr import matrix
from labeltool.typeset.fit import Misfit, typeset
from labeltool.workflow import layouts
from labeltool.workflow.design import find_artworks

STOCKS = ("a4-2x4-99.1x67.7", "letter-2x3-101.6x84.6", "a4-2x2-99.1x139", "a4-1x4-190x60", "roll-102x152-203dpi")
RUNS = 7


def milliseconds(set_label):
    """The median time of so many calls, and what the last one gave."""
    times = []
    for _ in range(RUNS):
        start = process_time()
        found = set_label()
        times.append((process_time() - start) * 1000)
    return statistics.median(times), found


def rows():
    """The row of the table: the slowest of the artworks and stocks on which the longest label fits."""
    text, fonts = longest(), tables.fonts()
    qr = matrix(text.qr.payload)
    slowest = 0.0, ""
    for stock in STOCKS:
        for artwork in find_artworks(("back", "front", "front-and-back"), None):
            took, found = milliseconds(partial(typeset, text, artwork, layouts.stock(stock, None), qr, fonts))
            if not isinstance(found, Misfit):
                slowest = max(slowest, (took, f"{artwork.name} on {stock}"))
    yield Row("type fit of the longest demo label, slowest layout", "30 ms", slowest[0], 30.0, "ms",
              f"{slowest[0]:.0f} ms, {slowest[1]}")


def main():
    text, fonts = longest(), tables.fonts()
    qr = matrix(text.qr.payload)
    letters = sum(len(block.heading) + len(block.text) for block in text.blocks)
    print(f"{text.product}: {letters} letters; {platform.machine()}, Python {platform.python_version()}")
    for stock in STOCKS:
        for artwork in find_artworks(("back", "front", "front-and-back"), None):
            took, found = milliseconds(partial(typeset, text, artwork, layouts.stock(stock, None), qr, fonts))
            size = "does not fit" if isinstance(found, Misfit) else f"x-height {found.x_height_mm:.2f} mm"
            print(f"{artwork.name} on {stock}: {took:.0f} ms, {size}")


if __name__ == "__main__":
    main()
