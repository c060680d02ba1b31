"""A label's QR symbols: cropped by place, read by both decoders at several resolutions, compared module by module."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from labeltool.raster import Grey
from labeltool.readback import zbar, zxing
from labeltool.readback.ink import pixels, shape_rect, wrong_modules
from labeltool.readback.margins import quiet_faults
from labeltool.readback.model import Decoded, ExpectedLabel
from labeltool.readback.words import WordFault
from labeltool.typeset.frame import Modules

RESOLUTIONS = (300.0, 600.0, 200.0)
MARGIN_MODULES = 5
MOVED_MM = 0.3

Rasters = Callable[[float], Grey]  # a page at a resolution


@dataclass(slots=True)
class Decoders:
    """Reads symbols; what zbar made of an equal symbol is remembered, since it is the slow one."""

    known: dict[tuple[str, ...], tuple[str | None, float | None]] = field(default_factory=dict)

    def read(self, label: ExpectedLabel, rasters: Rasters) -> tuple[Decoded, tuple[WordFault, ...]]:
        """What the decoders read of a label's first symbol, and what is wrong with any of them."""
        readings = [self._symbol(label, item, rasters) for item in label.frame.symbols]
        if not readings:
            return Decoded(), ()
        return readings[0][0], tuple(fault for _, faults in readings for fault in faults)

    def _symbol(self, label: ExpectedLabel, item: Modules, rasters: Rasters) -> tuple[Decoded, list[WordFault]]:
        seen, zxing_dpi = _by_zxing(label, item, rasters)
        wrong = wrong_modules(rasters(RESOLUTIONS[0]), label, item)
        text, zbar_dpi = self._by_zbar(label, item, rasters, sound=not wrong)
        decoded = Decoded(text, seen.payload if seen else None, zbar_dpi, zxing_dpi)
        return decoded, list(_faults(label, item, seen, decoded, wrong, rasters))

    def _by_zbar(self, label: ExpectedLabel, item: Modules, rasters: Rasters, *,
                 sound: bool) -> tuple[str | None, float | None]:
        if sound and item.rows in self.known:
            return self.known[item.rows]
        found: tuple[str | None, float | None] = (None, None)
        for dpi in RESOLUTIONS:
            grey = rasters(dpi)
            text = zbar.read(grey, area_of(grey, label, item))
            if text is not None:
                found = (text, dpi)
            if text == item.payload:
                break
        if sound:
            self.known[item.rows] = found
        return found


def _by_zxing(label: ExpectedLabel, item: Modules, rasters: Rasters) -> tuple[zxing.Seen | None, float | None]:
    best: tuple[zxing.Seen | None, float | None] = (None, None)
    for dpi in RESOLUTIONS:
        grey = rasters(dpi)
        for seen in zxing.find(grey, area_of(grey, label, item)):
            best = (seen, dpi)
            if seen.payload == item.payload:
                return best
    return best


def area_of(grey: Grey, label: ExpectedLabel, item: Modules) -> tuple[int, int, int, int]:
    """The pixels of a symbol with a margin of five modules."""
    return pixels(grey, shape_rect(label, item), MARGIN_MODULES * item.module_mm)


def _faults(label: ExpectedLabel, item: Modules, seen: zxing.Seen | None, decoded: Decoded, wrong: int,
            rasters: Rasters) -> Iterator[WordFault]:
    read = {"zxing": decoded.zxing, "zbar": decoded.zbar}
    other = {name: text for name, text in read.items() if text not in (None, item.payload)}
    silent = [name for name, text in read.items() if text is None]
    if other:
        told = ", ".join(f"{name} {text!a}" for name, text in other.items())
        yield WordFault("readback.payload", f"the symbol says something else: {told} instead of {item.payload!a}")
    elif silent:
        yield WordFault("readback.symbol", f"the symbol was not read by {' nor '.join(silent)}")
    if seen is not None and not other:
        away = _moved(label, item, seen, rasters(decoded.zxing_dpi or RESOLUTIONS[0]))
        if away > MOVED_MM:
            yield WordFault("readback.moved", f"the symbol stands {away:.2f} mm from its place")
            return
    if not other:
        yield from quiet_faults(rasters(RESOLUTIONS[0]), label, item)
    if wrong and not other:
        total = len(item.rows) ** 2
        yield WordFault("readback.modules", f"{wrong} of {total} modules of the symbol are not as printed")


def _moved(label: ExpectedLabel, item: Modules, seen: zxing.Seen, grey: Grey) -> float:
    """How far the symbol's middle lies from its place, mm."""
    half = item.module_mm * len(item.rows) / 2
    x, y = middle(seen.corners, grey)
    return math.hypot(x - label.x_mm - item.x_mm - half, y - label.y_mm - item.y_mm - half)


def middle(corners: Sequence[tuple[float, float]], grey: Grey) -> tuple[float, float]:
    """The middle of four corners, mm."""
    return (
        grey.to_mm(sum(x for x, _ in corners) / len(corners)), grey.to_mm(sum(y for _, y in corners) / len(corners)),
    )
