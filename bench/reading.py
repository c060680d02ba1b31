"""How the time of reading a formula grows with its rows: `python bench/reading.py`. Near 10 is straight growth."""

import tempfile
from pathlib import Path
from time import perf_counter

from labeltool.formula.load import load

MATERIALS = '[water]\nname = "Water"\ninci = "Aqua"\n'
ROW = '[[ingredient]]\nmaterial = "water"\npercent = {share}\n'
SIZES = (2_000, 20_000)


def seconds(folder, rows):
    """The best of three readings of a formula with so many rows."""
    (folder / "formulas").mkdir(exist_ok=True)
    (folder / "workshop.toml").write_text('[maker]\ncountry = "GB"\n')
    (folder / "materials.toml").write_text(MATERIALS)
    path = folder / "formulas" / "large.toml"
    path.write_text('[product]\nname = "Large"\n' + ROW.format(share=100 / rows) * rows)
    times = []
    for _ in range(3):
        start = perf_counter()
        loaded, _findings = load(path, env={}, cwd=folder)
        times.append(perf_counter() - start)
        assert loaded is not None
    return min(times)


def main():
    """Print both times and their ratio."""
    with tempfile.TemporaryDirectory() as name:
        small, large = (seconds(Path(name), rows) for rows in SIZES)
    print(f"{SIZES[0]:,} rows {small * 1000:.0f} ms, {SIZES[1]:,} rows {large * 1000:.0f} ms: "
          f"{large / small:.1f} times as long for {SIZES[1] // SIZES[0]} times the rows")


if __name__ == "__main__":
    main()
