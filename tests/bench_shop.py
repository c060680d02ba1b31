"""A workshop with a bench, for the tests of weighing, releasing and tracing."""

from __future__ import annotations

import csv
import io
import shutil
from collections.abc import Mapping
from pathlib import Path

from cli_runs import Shop
from source_tree import ROOT

LOTION = "oat-milk-hand-lotion"
CODE = "260503A31"


def demo_shop(parent: Path) -> Shop:
    """A copy of the demo workshop."""
    return Shop(shutil.copytree(ROOT / "demo" / "ottersholt", parent / "ottersholt"))


def opened(shop: Shop, formula: str = LOTION, size: str | None = "2500g", made: str = "2026-05-03") -> str:
    """A batch opened; its code."""
    sized = ("--size", size) if size else ()
    return shop.done("batch", "open", formula, *sized, "--made", made).out.splitlines()[0]


def filled_sheet(shop: Shop, code: str, name: str = "filled.csv", **cells: Mapping[str, str]) -> Path:
    """The batch's sheet with every planned mass as weighed, and a lot for each; `cells` by material change a row."""
    shop.done("weigh", code, "-o", f"empty-{code}-{name}")
    rows = list(csv.DictReader((shop.folder / f"empty-{code}-{name}").open(encoding="utf-8")))
    for row in rows:
        row["grams"] = row["planned"]
        row["lot"] = f"L-{row['line']}" if row["material"] != "water" and row["grams"] else ""
        row |= cells.get(row["material"].replace("-", "_"), {})
    stream = io.StringIO()
    writer = csv.DictWriter(stream, rows[0].keys())
    writer.writeheader()
    writer.writerows(rows)
    return shop.write(name, stream.getvalue())


def weighed(shop: Shop, code: str, **cells: Mapping[str, str]) -> None:
    """A batch weighed whole, from its sheet."""
    shop.done("batch", "bench", code, "--from", filled_sheet(shop, code, **cells).name)


def ready(shop: Shop, **cells: Mapping[str, str]) -> str:
    """A lotion weighed, brought to its pH, yielded and filled; its code."""
    code = opened(shop)
    weighed(shop, code, **cells)
    shop.done("batch", "bench", code, "--add", "citric-solution=48.72-47.42@CS-1", "--reading", "ph=5.32@21C",
              "--yield", "2450g", "--filled", "9")
    return code


SMALL = """
[product]
name = "Plain Test Lotion"
function = "Hand lotion"
use = "leave-on"
body-area = ["hands"]
form = "cream"
net = "50 ml"
directions = "Apply to clean, dry hands."
shelf-life = "12 months"
period-after-opening = "6 months"
ph = [5.5, 6.5]
markets = ["UK"]

[container]
shape = "cylinder"
diameter = 60
height = 90

[[ingredient]]
material = "water"
percent = "qs"
phase = "A"

[[ingredient]]
material = "glycerin"
percent = 5
phase = "A"

[[ingredient]]
material = "coconut-ester"
percent = 4.9
phase = "B"

[[ingredient]]
material = "half-citric"
percent = "to pH"
up-to = 1
phase = "C"
"""

HALF = """
[half-citric]
name = "Citric acid and water, equal parts"
made-of = [
  { inci = "Aqua", percent = 50 },
  { inci = "Citric Acid", percent = 50, purpose = "ph-adjuster" },
]
"""


def small_shop(parent: Path) -> Shop:
    """The demo workshop with a lotion of three rows that is brought to pH 6."""
    shop = demo_shop(parent)
    shop.write("formulas/plain-test-lotion.toml", SMALL)
    path = shop.folder / "materials.toml"
    path.write_text(path.read_text(encoding="utf-8") + HALF, encoding="utf-8")
    return shop


def small_weighed(shop: Shop, water: str = "901", glycerin: str = "50", ester: str = "49") -> str:
    """A kilogram of the small lotion weighed; its code."""
    code = opened(shop, "plain-test-lotion", "1000g")
    weighed(shop, code, water={"grams": water}, glycerin={"grams": glycerin}, coconut_ester={"grams": ester})
    return code
