"""All sizes of a label follow from one: the x-height of its running text."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from labeltool.stock.model import Stock
from labeltool.typeset.frame import Weight
from labeltool.typeset.metrics import FontMetrics, FontSet
from labeltool.typeset.paras import Item, Para, Role
from labeltool.wording.model import Block

ASCENT, DESCENT = 0.76, 0.22  # ems: what a line of Latin letters needs above and below its baseline
BORROWED = 1 / 12  # of a half line, from the white above larger type
STEP_MM = 0.01  # sizes are found to this x-height
LARGEST_X_MM = 2.2
FLOOR_X_MM = 0.9  # where no block says more
STEM_DOTS = 2
ALIKE = 1.15  # sizes nearer than this look like a mistake, so they are made equal
THERMAL = ("thermal-transfer", "direct-thermal")


@dataclass(frozen=True, slots=True)
class Sizes:
    """Type sizes (em heights), half the line pitch and the height of drawn signs, all in mm.

    `dot_mm`: the side of a printer dot where signs must stand on whole dots, else 0.
    """

    x_mm: float
    body: Weight
    running_mm: float
    name_mm: float
    net_mm: float
    grid_mm: float
    sign_mm: float = 0.0
    dot_mm: float = 0.0

    def of(self, role: Role) -> float:
        """The size of a role, mm."""
        return self.name_mm if role == "name" else self.net_mm if role == "net" else self.running_mm

    def units(self, length_mm: float, borrow: float = BORROWED) -> int:
        """How many half lines a length needs; so much of one may be borrowed from the white around it."""
        return max(0, math.ceil(length_mm / self.grid_mm - borrow))


def sizes_of(x_mm: float, body: Weight, ratio: float, leading: float, net_em_mm: float, fonts: FontSet) -> Sizes:
    """The sizes for one x-height; `net_em_mm`: the smallest size the law allows for the net quantity, mm.

    The net quantity takes the running size or the name's where those do, so that a label has few sizes.
    """
    running = x_mm / fonts.of(body).em(fonts.of(body).x_height)
    name = ratio * x_mm / fonts.semibold.em(fonts.semibold.x_height)
    net = running if net_em_mm <= running else max(net_em_mm, running * ALIKE)
    if net > running and max(net, name) <= ALIKE * min(net, name):
        net = name = max(net, name)
    return Sizes(x_mm, body, running, name, net, running * leading / 2)


def body_weights(stock: Stock, fonts: FontSet) -> tuple[tuple[Weight, float], ...]:
    """(weight, smallest x-height) the running text may take: on thermal stock the stems are two dots at least.

    Lightest first. Elsewhere Regular does at any size.
    """
    if stock.medium not in THERMAL:
        return (("regular", 0.0),)
    stem = STEM_DOTS * 25.4 / stock.dpi
    weights: tuple[Weight, ...] = ("regular", "medium", "semibold")
    return tuple((weight, stem * font.x_height / font.stem) for weight in weights for font in (fonts.of(weight),))


def least_x_mm(
    blocks: Iterable[Block], ratio: float, fonts: FontSet, big: tuple[str, ...] = ("name",),
) -> float:
    """The smallest x-height of the running text that keeps every block's minimum but the net quantity's, mm."""
    least = FLOOR_X_MM
    for block in blocks:
        share = ratio if block.name in big else 1.0
        if block.name not in ("net", "e-mark"):
            least = max([least, *(_x_height(item.height_mm, item.measure, fonts.regular) / share
                                  for item in block.minimums)])
    return least


def least_net_mm(blocks: Iterable[Block], font: FontMetrics) -> float:
    """The smallest size (em) of the net quantity, mm."""
    sizes = [0.0]
    for block in blocks:
        if block.name == "net":
            sizes += [_x_height(item.height_mm, item.measure, font) / font.em(font.x_height) for item in block.minimums]
    return max(sizes)


def _x_height(height_mm: float, measure: str, font: FontMetrics) -> float:
    return height_mm if measure == "x" else height_mm * font.x_height / font.figure_height


def first_ink(items: Iterable[Item], sizes: Sizes) -> float:
    """How far the ink of a first line rises above its baseline, mm."""
    return max((_rise(item, sizes) for item in items), default=0.0)


def _rise(item: Item, sizes: Sizes) -> float:
    if isinstance(item, Para):
        return item.reach[0] * sizes.of(item.role)
    return (item.logo.height_mm if item.logo else sizes.sign_mm) + sizes.dot_mm


def carried_items(items: Mapping[str, tuple[Item, ...]], names: Iterable[str]) -> tuple[Item, ...]:
    """The items of these blocks, in this order."""
    return tuple(item for name in names for item in items.get(name, ()))
