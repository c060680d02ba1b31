"""Write docs/packs.md and its pictures: the labels of each demo product on the wall of its container, unrolled.

Usage: python tools/packs_docs.py
"""

from __future__ import annotations

import math
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageDraw

from labeltool.formula.model import Container
from labeltool.formula.sizes import find_pack
from labeltool.output.pictures import AIR_MM, label_page
from labeltool.output.png import rasterise_page
from labeltool.records.store import open_store
from labeltool.typeset.frame import Frame
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.plain import stored

ROOT = Path(__file__).resolve().parent.parent
PAGE, PICTURES = ROOT / "docs" / "packs.md", ROOT / "docs" / "packs"
LABELTOOL = Path(sys.executable).with_name("labeltool")
DPI, DAY = 150, "2026-05-04"
WALL, FOLD, PAPER = 222, 150, 255
HEAD = """# Packs, looked at on their containers

The labels of every product of the demo workshop on the wall they go on, unrolled: a cylinder's wall from seam to
seam, a box's four sides with their folds (a wide label goes round them), the front and back of a pouch, all to one
scale. Grey is the container. How packs are written stands in the [README](../README.md#one-batch-several-sizes). This
page and its pictures are generated: `make docs` writes them again.
"""


@dataclass(frozen=True)
class Shown:
    """Labels that are printed together, and what they go on. `on`: of the pack, its container or its outer."""

    formula: str
    said: str
    call: tuple[str, ...]
    pack: str = ""
    on: str = "container"

    @property
    def name(self) -> str:
        """The picture's."""
        return "-".join(part for part in (self.formula, self.pack, self.on if self.on == "outer" else "") if part)


SERUM = "lactic-night-serum"
ALL = (
    Shown("oat-milk-hand-lotion", "Oat Milk Hand Lotion, pump bottle: one label round it.",
          ("--artwork", "wrap", "--stock", "a4-1x4-190x60")),
    Shown("cedar-beard-oil", "Cedar Beard Oil, dropper bottle: one label.",
          ("--artwork", "back", "--stock", "a4-3x4-62x58")),
    Shown("mint-shampoo-bar", "Mint Shampoo Bar, folding carton: front and back.",
          ("--artwork", "front", "--artwork", "back", "--stock", "a4-3x4-62x58")),
    Shown("tinted-lip-balm", "Tinted Lip Balm, tube of card: one label.",
          ("--artwork", "back", "--stock", "a4-3x4-62x58")),
    Shown(SERUM, "Lactic Night Serum, sample sachet: one label with its mark.", ("--pack", "sample"), "sample"),
    Shown(SERUM, "Lactic Night Serum, 30 ml: front and back of the bottle.",
          ("--pack", "30ml", "--label", "front", "--label", "back"), "30ml"),
    Shown(SERUM, "Lactic Night Serum, box of the 30 ml: one label round three sides.",
          ("--pack", "30ml", "--label", "box"), "30ml", "outer"),
    Shown(SERUM, "Lactic Night Serum, 50 ml: front and back.", ("--pack", "50ml"), "50ml"),
    Shown("evening-set", "Evening Set, gift box: each product's list, code and date on the outer.",
          ("--artwork", "back", "--stock", "a4-2x2-99.1x139")),
)
IN_SET = ("oat-milk-hand-lotion", SERUM, "tinted-lip-balm")


class Shop:
    """A copy of the demo workshop in which the labels are printed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.codes: dict[str, str] = {}

    def print(self, shown: Shown) -> tuple[tuple[Frame, ...], Container]:
        """The frames of one copy of the labels, and what they go on."""
        known = self.codes.get(shown.formula)
        words = [known] if known else [shown.formula, "--made", DAY]
        if shown.formula == "evening-set":
            words += [word for name in IN_SET for word in ("--of", self.codes[name])]
        self._run("print", *words, "--on", DAY, "--count", "1", "--no-verify", *shown.call)
        with open_store(self.folder / "records.sqlite") as store:
            batches = {batch.formula_key: batch for batch in (store.batch(item.code) for item in store.batches())
                       if batch is not None}
            batch = batches[shown.formula]
            rows = store.prints(batch.code)
        self.codes[shown.formula] = batch.code
        count = sum(shown.call.count(word) for word in ("--label",)) or (2 if shown.pack == "50ml" else 1)
        frames = tuple(stored(Frame, one, "a frame") for row in rows[-count:] for one in row.frames)
        formula = stored(Inputs, batch.frozen, batch.code).formula
        pack = find_pack(formula, shown.pack) if shown.pack else None
        found = pack.outer if pack and shown.on == "outer" else (pack.container if pack else None) or formula.container
        assert found is not None
        return frames, found

    def _run(self, *words: str) -> None:
        ran = subprocess.run([LABELTOOL, *words], cwd=self.folder, capture_output=True, text=True, encoding="utf-8")
        if ran.returncode:
            raise SystemExit(f"labeltool {' '.join(words)}\n{ran.stderr}")


def walls(container: Container) -> tuple[float, ...]:
    """The widths of the faces of a container's wall side by side, mm."""
    if container.shape == "cylinder":
        return (math.pi * float(container.diameter_mm or 0),)
    width, depth = float(container.width_mm or 0), float(container.depth_mm or 0)
    return (width, depth, width, depth) if container.shape == "box" else (width, width)


def lefts(container: Container, frames: Sequence[Frame]) -> tuple[float, ...]:
    """Where the labels begin, mm from the left.

    With equal gaps round a cylinder; on front and back of what has sides, from the fold on where one is wider.
    """
    faces, widths = walls(container), [frame.width_mm for frame in frames]
    if len(faces) == 1:
        gap = (faces[0] - sum(widths)) / len(widths)
        return tuple(gap / 2 + index * gap + sum(widths[:index]) for index in range(len(widths)))
    edges = (0.0, sum(faces[:2]) if len(faces) > 2 else faces[0])
    return tuple(edge + max(0.0, (faces[0] - width) / 2) for edge, width in zip(edges, widths, strict=False))


def dots(mm: float) -> int:
    """Millimetres in dots of the picture."""
    return round(mm * DPI / 25.4)


def label(frame: Frame) -> tuple[Image.Image, Image.Image]:
    """A label as a picture, and its mask: the shape of its paper."""
    grey = rasterise_page(label_page(frame), 0, DPI)
    whole = Image.frombytes("L", (grey.width, grey.height), bytes(grey.pixels))
    size = dots(frame.width_mm), dots(frame.height_mm)
    cut = whole.crop((dots(AIR_MM), dots(AIR_MM), dots(AIR_MM) + size[0], dots(AIR_MM) + size[1]))
    mask = Image.new("L", size, 0)
    box = (0, 0, size[0] - 1, size[1] - 1)
    if frame.shape == "rectangle":
        ImageDraw.Draw(mask).rounded_rectangle(box, dots(frame.corner_mm), fill=255)
    else:
        ImageDraw.Draw(mask).ellipse(box, fill=255)
    return cut, mask


def unrolled(frames: tuple[Frame, ...], container: Container) -> Image.Image:
    """The wall with its labels; on a box the folds are drawn."""
    faces, high = walls(container), float(container.height_mm or 0)
    image = Image.new("L", (dots(sum(faces)), dots(high)), WALL)
    pen = ImageDraw.Draw(image)
    for edge in range(1, len(faces)):
        pen.line([(dots(sum(faces[:edge])), 0), (dots(sum(faces[:edge])), image.height)], fill=FOLD, width=2)
    for frame, left in zip(frames, lefts(container, frames), strict=True):
        cut, mask = label(frame)
        image.paste(cut, (dots(left), (image.height - cut.height) // 2), mask)
    return image


def size_said(container: Container) -> str:
    """The container in words."""
    if container.shape == "cylinder":
        return f"cylinder of {container.diameter_mm} × {container.height_mm} mm"
    measures = [container.width_mm, container.depth_mm, container.height_mm]
    return f"{container.shape} of {' × '.join(str(item) for item in measures if item)} mm"


def main() -> int:
    """Write the pictures and the page."""
    PICTURES.mkdir(exist_ok=True)
    parts = [HEAD]
    with tempfile.TemporaryDirectory() as folder:
        shop = Shop(Path(shutil.copytree(ROOT / "demo" / "ottersholt", Path(folder) / "shop")))
        for shown in ALL:
            frames, container = shop.print(shown)
            image = unrolled(frames, container)
            image.quantize(16).save(PICTURES / f"{shown.name}.png", optimize=True)
            what, _, labels = shown.said.partition(": ")
            parts.append(f"## {what}\n\n{labels.capitalize()} On a {size_said(container)}.\n\n"
                         f"![{shown.said}](packs/{shown.name}.png)\n")
    PAGE.write_text("\n".join(parts), encoding="utf-8")
    print(f"wrote {len(ALL)} pictures and {PAGE.relative_to(ROOT)}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
