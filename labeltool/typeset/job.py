"""What setting a panel needs, and what comes of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from labeltool.typeset.artmodel import Entry, Panel
from labeltool.typeset.bed import Bed, Spot
from labeltool.typeset.metrics import FontSet
from labeltool.typeset.paras import Item, Para
from labeltool.typeset.qrspot import Clear, Symbol
from labeltool.typeset.region import Rect, Region
from labeltool.typeset.setter import Placed, Setter
from labeltool.typeset.sizes import Sizes

FAR = 10_000


@dataclass(frozen=True, slots=True)
class Job:
    """All that setting a panel needs besides the panel: what to set, at which sizes, on what."""

    items: Mapping[str, tuple[Item, ...]]
    sizes: Sizes
    fonts: FontSet
    region: Region
    symbol: Symbol | None
    tidy: bool = True  # only columns of a good measure
    close: bool = False  # no margin inside the safe edge, narrow gaps
    quick: bool = False  # the first way that fits, columns not evened
    balanced: bool = False  # the ink of a panel with a middle group balances round the panel's middle

    def there(self, entries: Sequence[Entry]) -> bool:
        """Whether the text has any of these blocks."""
        return any(name in self.items for entry in entries for name in entry.names)

    def of(self, entry: Entry) -> tuple[Item, ...]:
        """The items of an entry."""
        return tuple(item for name in entry.names for item in self.items.get(name, ()))

    def first(self, entries: Sequence[Entry]) -> tuple[Item, ...]:
        """The items on the first line of a group."""
        for entry in entries:
            found = self.of(entry)
            if found:
                return found if entry.kind == "row" else found[:1]
        return ()

    def hang_mm(self, entries: Sequence[Entry]) -> float | None:
        """How far the ink of a group's last entry may fall below its baseline, mm; None where the group is empty."""
        for entry in reversed(entries):
            found = self.of(entry)
            if found:
                return max(self._hang(item) for item in found)
        return None

    def _hang(self, item: Item) -> float:
        para = item if isinstance(item, Para) else item.words
        return para.reach[1] * self.sizes.of(para.role) if para is not None else 0.0


@dataclass(frozen=True, slots=True)
class Place:
    """A panel on the label: its rectangle and how far away the next ink is."""

    panel: Panel
    rect: Rect
    clear: Clear


@dataclass(frozen=True, slots=True)
class PanelResult:
    """A set panel: lines and signs in reading order, the symbol's place, the lowest its last baseline may come, mm."""

    placed: tuple[Placed, ...]
    spot: Spot | None
    bed: Bed
    bottom_mm: float


def setter(panel: Panel, job: Job, bed: Bed, ends: tuple[int, ...], starts: tuple[int, ...], earnest: bool) -> Setter:
    """A setter for one group of a panel."""
    return Setter(bed, job.items, job.fonts, panel.align, ends, starts, earnest, panel.space, not job.close)
