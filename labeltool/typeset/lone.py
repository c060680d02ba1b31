"""A panel whose words all stand in one group, on a label of any shape: centred by its ink, on a grid of its own."""

from __future__ import annotations

from dataclasses import replace

from labeltool.typeset.arc import LOWER, Arc, bend
from labeltool.typeset.bed import Bed, Spot
from labeltool.typeset.job import FAR, Job, PanelResult, Place, setter
from labeltool.typeset.paras import Para
from labeltool.typeset.qrspot import spot
from labeltool.typeset.region import Region
from labeltool.typeset.setter import Setter
from labeltool.typeset.sizes import first_ink


def set_lone(place: Place, job: Job, earnest: bool) -> PanelResult | None:
    """The group set; None where it does not fit. The symbol, if any, stands first, and the group above it."""
    bent = _bent(place, job)
    if bent is None:
        return None
    curved, place, job = bent
    symbol = None
    if place.panel.qr is not None and job.symbol is not None:
        symbol = spot(job.symbol, place.panel.qr, place.rect, place.clear, job.region, place.rect.bottom)
        if symbol is None:
            return None
    found = _Lone(place, job, symbol).run(earnest)
    return replace(found, placed=(*curved, *found.placed)) if found is not None else None


def _bent(place: Place, job: Job) -> tuple[tuple[Arc, ...], Place, Job] | None:
    """What stands on the label's edge, and place and job for what stands inside; None where it is too long."""
    if place.panel.arc is None:
        return (), place, job
    para = next((item for item in job.items.get(place.panel.arc, ()) if isinstance(item, Para)), None)
    if para is None:
        return (), place, job
    found = bend(para, job.sizes.of(para.role), job.sizes.running_mm, job.region)
    if found is None:
        return None
    arc, region = found
    lower = 2 * LOWER * region.box.height / 2
    rect = replace(region.box, top=region.box.top + lower)
    return (arc,), replace(place, rect=rect), replace(job, region=region)


class _Lone:
    """Tries numbers of lines until the group, centred for that number, needs no more."""

    def __init__(self, place: Place, job: Job, symbol: Spot | None) -> None:
        self.place, self.job, self.symbol = place, job, symbol
        across = symbol is not None and symbol.across
        self.floor = symbol.quiet.top if symbol is not None and across else place.rect.bottom
        self.up = first_ink(job.first(place.panel.middle), job.sizes)
        self.down = job.hang_mm(place.panel.middle) or 0.0

    def run(self, earnest: bool) -> PanelResult | None:
        """The group set, or None."""
        length = self._fewest()
        while length is not None and self._height(length) <= self.floor - self.place.rect.top + 1e-6:
            bed = self._bed(length)
            needed = self._needed(bed)
            if needed is not None and needed <= length:
                return self._result(bed, needed, earnest)
            length += 1
        return None

    def _height(self, length: int) -> float:
        return self.up + length * self.job.sizes.grid_mm + self.down

    def _bed(self, length: int) -> Bed:
        """The bed on which a group of so many half lines between first and last baseline is centred."""
        first = (self.place.rect.top + self.floor - self._height(length)) / 2 + self.up
        return Bed((self.place.rect,), self.job.region, self.job.sizes, first, FAR, FAR, self.symbol)

    def _fewest(self) -> int | None:
        """The half lines needed if the label were a rectangle without symbol."""
        region = self.job.region
        plain = Region("rectangle", region.width, FAR * region.height, 0.0, region.inset)
        return self._needed(replace(self._bed(0), region=plain, spot=None))

    def _setter(self, bed: Bed, earnest: bool) -> Setter:
        return setter(self.place.panel, self.job, bed, (FAR,), (0,), earnest)

    def _needed(self, bed: Bed) -> int | None:
        draft = self._setter(bed, False)
        return draft.reached if draft.entries(self.place.panel.middle, (0, 0), True) is not None else None

    def _result(self, bed: Bed, needed: int, earnest: bool) -> PanelResult:
        tighter = self._bed(needed)
        if self._needed(tighter) == needed:
            bed = tighter
        final = self._setter(bed, earnest)
        final.entries(self.place.panel.middle, (0, 0), True)
        return PanelResult(tuple(final.placed), self.symbol, replace(bed, last=needed), self.floor - self.down)
