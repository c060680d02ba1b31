"""The QR symbols of a picture: found however they lie, read by both decoders, and what the picture lets be measured."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from labeltool.raster import Area, Grey
from labeltool.readback import zbar, zxing
from labeltool.readback.pictures import Photo, scaled, softened, stretched, turned_over

Point = tuple[float, float]
SMALL_PIXELS, LARGE_PIXELS = 6_000_000, 24_000_000
MARGIN = 0.3              # of a symbol's side, around it
ZBAR_SOFTNESS = (0.0, 1.0, 1.8)
ZBAR_SIDE = 300.0         # pixels a side at which the second decoder reads well


@dataclass(frozen=True, slots=True)
class PhotoSymbol:
    """A symbol in a picture: what each decoder reads, and its corners, from the first module's clockwise, in pixels.

    `corners` is empty where only zbar saw it. `negative`: light on dark.
    """

    zxing: str | None
    zbar: str | None
    corners: tuple[Point, ...]
    negative: bool = False

    @property
    def payload(self) -> str:
        """What it says."""
        return self.zxing if self.zxing is not None else self.zbar or ""

    @property
    def side(self) -> float:
        """The mean length of its sides, pixels."""
        return sum(_sides(self.corners)) / 4 if self.corners else 0.0

    @property
    def slant(self) -> float:
        """By how much its opposite sides differ, as a share: 0 seen straight on."""
        if not self.corners:
            return 0.0
        top, right, foot, left = _sides(self.corners)
        return max(abs(top - foot) / max(top, foot), abs(left - right) / max(left, right))

    @property
    def turn_deg(self) -> float:
        """How far it is turned clockwise, degrees from -180 to 180."""
        (x0, y0), (x1, y1) = self.corners[:2]
        return math.degrees(math.atan2(y1 - y0, x1 - x0))


def symbols_in(photo: Photo) -> tuple[PhotoSymbol, ...]:
    """All symbols, row by row. Where none is found it is looked at again: lighter, larger, softer, inverted."""
    for prepare, factor, negative in _WAYS:
        grey = prepare(photo.grey)
        seen = zxing.find(grey) if grey is not None else ()
        if grey is not None and seen:
            return tuple(_in_order([_symbol(photo.grey, grey, item, factor, negative=negative) for item in seen]))
    text = zbar.read(*_whole(stretched(photo.grey)))
    return (PhotoSymbol(None, text, ()),) if text is not None else ()


def _if_small(change: Callable[[Grey], Grey]) -> Callable[[Grey], Grey | None]:
    return lambda grey: change(grey) if grey.width * grey.height <= SMALL_PIXELS else None


def _if_fair(change: Callable[[Grey], Grey]) -> Callable[[Grey], Grey | None]:
    return lambda grey: change(grey) if grey.width * grey.height <= LARGE_PIXELS else None


_WAYS: tuple[tuple[Callable[[Grey], Grey | None], float, bool], ...] = (
    (lambda grey: grey, 1, False),
    (stretched, 1, False),
    (_if_small(lambda grey: scaled(grey, 2)), 2, False),
    (_if_fair(lambda grey: softened(stretched(grey), 1.5)), 1, False),
    (lambda grey: scaled(softened(stretched(grey), 2.0), 0.5), 0.5, False),
    (_if_fair(turned_over), 1, True),
)


def _symbol(original: Grey, looked_at: Grey, seen: zxing.Seen, factor: float, *, negative: bool) -> PhotoSymbol:
    corners = tuple((x / factor, y / factor) for x, y in seen.corners)
    return PhotoSymbol(seen.payload, _second(original, looked_at, seen, negative=negative), corners, negative)


def _second(original: Grey, looked_at: Grey, seen: zxing.Seen, *, negative: bool) -> str | None:
    """What zbar reads at the same place: in the picture that was looked at, and larger or smaller."""
    area = area_around(looked_at, seen.corners)
    side = sum(_sides(seen.corners)) / 4
    factors = dict.fromkeys((1.0, min(8.0, ZBAR_SIDE / max(side, 1.0)), min(8.0, 2 * ZBAR_SIDE / max(side, 1.0))))
    best = None
    for softness in ZBAR_SOFTNESS:
        for factor in factors:
            part = looked_at.cut(area)
            part = scaled(softened(part, softness) if softness else part, factor)
            text = zbar.read(part, (0, 0, part.width, part.height))
            best = text if text is not None else best
            if text == seen.payload:
                return best
    return best


def area_around(grey: Grey, corners: Sequence[Point]) -> Area:
    """The pixels around a symbol."""
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    air = MARGIN * sum(_sides(corners)) / 4
    return (max(0, math.floor(min(xs) - air)), max(0, math.floor(min(ys) - air)),
            min(grey.width, math.ceil(max(xs) + air)), min(grey.height, math.ceil(max(ys) + air)))


def _whole(grey: Grey) -> tuple[Grey, Area]:
    """The picture at a size that zbar is quick with."""
    pixels = grey.width * grey.height
    small = grey if pixels <= SMALL_PIXELS else scaled(grey, math.sqrt(SMALL_PIXELS / pixels))
    return small, (0, 0, small.width, small.height)


def _sides(corners: Sequence[Point]) -> tuple[float, float, float, float]:
    a, b, c, d = corners
    return math.dist(a, b), math.dist(b, c), math.dist(d, c), math.dist(a, d)


def _in_order(symbols: Sequence[PhotoSymbol]) -> Iterator[PhotoSymbol]:
    """Row by row from the top, each from the left; what lies within half a side of a row's first is in that row."""
    left = sorted(symbols, key=lambda item: min(y for _, y in item.corners))
    while left:
        top = min(y for _, y in left[0].corners)
        row = [item for item in left if min(y for _, y in item.corners) <= top + item.side / 2]
        yield from sorted(row, key=lambda item: min(x for x, _ in item.corners))
        left = [item for item in left if item not in row]
