"""Artwork as a value: what stands where on one label, before any size is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from labeltool.symbol.logo import Logo

Corner = Literal["bottom-right", "bottom-left", "bottom-centre"]
Range = tuple[float, float]
EVERYWHERE: Range = (0.0, float("inf"))


@dataclass(frozen=True, slots=True)
class Entry:
    """Blocks that stand together: one alone, a `stack` without gaps, a `row` on one baseline, or a `run`.

    In a run a block begins on the line where the one before ends, if it fits there whole, else on the next line.
    `spread`: the last of a row stands at the right edge.
    """

    names: tuple[str, ...]
    kind: Literal["stack", "row", "run"] = "stack"
    spread: bool = False


@dataclass(frozen=True, slots=True)
class Panel:
    """One area with words: groups at its top, in its middle and at its foot, and text that flows over columns.

    `air`: the least white above and below the middle group, in lines; `space`: between entries, in half lines;
    `arc`: the block along the upper edge of a round label, with the middle group inside.
    """

    top: tuple[Entry, ...] = ()
    middle: tuple[Entry, ...] = ()
    flow: tuple[Entry, ...] = ()
    foot: tuple[Entry, ...] = ()
    align: Literal["left", "centre"] = "left"
    columns: tuple[int, int] = (1, 1)
    qr: Corner | None = None
    air: float = 0.5
    space: int = 1
    arc: str | None = None

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All entries in reading order."""
        return ((Entry((self.arc,)),) if self.arc else ()) + self.top + self.middle + self.flow + self.foot


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a split area: so many mm, a share of what is left, or as large as the QR symbol with its quiet zone."""

    area: Area
    unit: Literal["mm", "share", "symbol"] = "share"
    size: float = 1.0


@dataclass(frozen=True, slots=True)
class Split:
    """An area cut into columns or rows, with a hairline between them where `rule`; `gap` in x-heights."""

    direction: Literal["columns", "rows"]
    parts: tuple[Part, ...]
    rule: bool = False
    gap: float = 3.0


Area = Panel | Split


@dataclass(frozen=True, slots=True)
class When:
    """The labels that a variant is for; lengths mm, area mm², aspect = width / height; ranges are [from, below)."""

    shapes: tuple[str, ...] = ("rectangle", "round", "oval")
    width: Range = EVERYWHERE
    height: Range = EVERYWHERE
    area: Range = EVERYWHERE
    aspect: Range = EVERYWHERE

    def holds(self, shape: str, width: float, height: float) -> bool:
        """Whether a label is one of them."""
        pairs = ((self.width, width), (self.height, height), (self.area, width * height), (self.aspect, width / height))
        return shape in self.shapes and all(low <= value < high for (low, high), value in pairs)


@dataclass(frozen=True, slots=True)
class Variant:
    """One arrangement. `comfort_mm`: the x-height from which on it is preferred to later ones.

    `ratio`: x-height of the name to that of the running text: least, wished, most. `margin`: the white inside the
    safe edge, in x-heights of the running text; `largest_mm`: its x-height stops there; `big`: the blocks in the
    size of the name.
    """

    area: Area
    when: When = When()
    ratio: tuple[float, float, float] = (1.8, 2.2, 3.0)
    comfort_mm: float = 1.2
    margin: float = 1.0
    largest_mm: float = 2.2
    big: tuple[str, ...] = ("name",)


@dataclass(frozen=True, slots=True)
class Artwork:
    """One artwork file. `module_mm`: least and wished side of a QR module; `leading`: line pitch by size.

    `semibold`: the blocks set in the heavier weight as a whole; `overlap_mm`: kept clear at the right end of a wrap;
    `logo_file`: beside the artwork's own file, its bytes read into `logo`, `logo_mm` high.
    """

    name: str
    title: str
    variants: tuple[Variant, ...]
    module_mm: Range = (0.33, 0.39)
    leading: Range = (1.15, 1.25)
    semibold: tuple[str, ...] = ("brand", "name", "net", "mark")
    overlap_mm: float = 0.0
    logo_file: str | None = None
    logo_mm: float = 8.0
    logo: Logo | None = None


def panels(area: Area) -> tuple[Panel, ...]:
    """The panels of an area in reading order."""
    if isinstance(area, Panel):
        return (area,)
    return tuple(panel for part in area.parts for panel in panels(part.area))


def blocks_of(variant: Variant) -> frozenset[str]:
    """The names of the blocks a variant has a place for; "qr" where it has a symbol."""
    found = panels(variant.area)
    names = {name for panel in found for entry in panel.entries for name in entry.names}
    return frozenset(names | {"qr" for panel in found if panel.qr})


def carries(artwork: Artwork) -> frozenset[str]:
    """The names of the blocks that an artwork prints, the same for all its variants; "qr" for the symbol."""
    return blocks_of(artwork.variants[0])
