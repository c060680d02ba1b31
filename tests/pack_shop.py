"""A workshop with a formula in three packs, for tests."""

from __future__ import annotations

from pathlib import Path

from cli_runs import BALM, CREAM, Shop, new_shop

SET = f"""\
[product]
name = "Winter Set"
function = "Gift set"

[container]
shape = "box"
width = 150
depth = 60
height = 150

[[contains]]
formula = "{CREAM}"
pack = "30ml"
count = 2

[[contains]]
formula = "{BALM}"
"""
SHEET, LARGE = "a4-2x7-99.1x38.1", "a4-2x4-99.1x67.7"
PACKS = f"""
[[pack]]
name = "sample"
net = "4.9 ml"
mark = "Sample. Not for sale."
container = {{ shape = "pouch", width = 60, height = 80 }}
labels = [ {{ name = "all", artwork = "back", stock = "{LARGE}" }} ]

[[pack]]
name = "30ml"
net = "30 ml"
container = {{ shape = "cylinder", diameter = 33, height = 78 }}
outer = {{ shape = "box", width = 40, depth = 40, height = 100 }}
labels = [
  {{ name = "front", on = "container", artwork = "front", stock = "{SHEET}" }},
  {{ name = "back", on = "container", artwork = "back", stock = "{SHEET}" }},
  {{ name = "box", on = "outer", artwork = "front-and-back", stock = "{LARGE}" }},
]

[[pack]]
name = "100ml"
net = "100 ml"
labels = [
  {{ name = "front", artwork = "front", stock = "{SHEET}" }},
  {{ name = "back", artwork = "back", stock = "{SHEET}" }},
]
"""


def pack_shop(parent: Path, packs: str = PACKS, name: str = "shop") -> Shop:
    """The new workshop with its cream in packs."""
    shop = new_shop(parent, name)
    path = shop.folder / "formulas" / f"{CREAM}.toml"
    path.write_text(path.read_text(encoding="utf-8") + packs, encoding="utf-8")
    return shop
