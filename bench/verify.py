"""How long reading a sheet of 24 labels back takes: `python bench/verify.py`.

The ratio is to drawing the page once at 300 dpi and decoding it once with one decoder: the least any check must do.
"""

import contextlib
import io
import os
import tempfile
from pathlib import Path
from time import perf_counter, process_time

from labeltool.cli.main import run
from labeltool.raster import Pdf
from labeltool.readback import zxing
from labeltool.readback.read import read_back
from labeltool.records.store import open_store
from labeltool.workflow import setting
from labeltool.workflow.expecting import expected_of
from labeltool.workflow.reading import verify_file

STOCK = "a4-3x8-63.5x33.9"
RUNS = 5


def labeltool(*words: object) -> None:
    """A command in this process."""
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()), \
            contextlib.suppress(SystemExit):
        run([str(word) for word in words])


def best(work) -> tuple[float, float]:
    """The best of some runs by the clock and by the processor, seconds."""
    times = []
    for _ in range(RUNS):
        start, busy = perf_counter(), process_time()
        work()
        times.append((perf_counter() - start, process_time() - busy))
    return min(clock for clock, _ in times), min(busy for _, busy in times)


def least(data: bytes) -> int:
    """The page drawn once, its symbols decoded once."""
    return len(zxing.find(Pdf(data).grey(0, 300)))


def main() -> None:
    """Print the times and their ratio."""
    with tempfile.TemporaryDirectory() as name:
        os.chdir(name)
        labeltool("start", "shop")
        os.chdir("shop")
        labeltool("print", "plain-foot-balm", "--stock", STOCK, "--artwork", "back", "--made", "2026-05-03")
        path = next(Path("prints").glob("*.pdf"))
        data = path.read_bytes()
        with open_store(Path("records.sqlite"), create=False) as store:
            expected = expected_of(store, store.prints(path.name.rpartition("-")[0])[0])
        labels = sum(len(page.labels) for page in expected.pages)
        floor, reading = best(lambda: least(data)), best(lambda: read_back(data, expected))
        whole = best(lambda: verify_file(path, setting.real_setting(None)))
        assert read_back(data, expected).matches and least(data) == labels
        for name, which in (("by the clock", 0), ("of processor time", 1)):
            print(f"{labels} labels, {name}: drawn and decoded once {floor[which] * 1000:.0f} ms; read back "
                  f"{reading[which] * 1000:.0f} ms, {reading[which] / floor[which]:.1f} times that; "
                  f"verify with record and predicted grade {whole[which]:.2f} s")


if __name__ == "__main__":
    main()
