"""The hand that points on an open book: "see the enclosed information" (Annex VII, 1)."""

from __future__ import annotations

import math

from labeltool.symbol.model import Drawn
from labeltool.symbol.pen import Pen, Point, shifted, smooth

WIDTH, SPINE, HALF = 1.12, 0.55, 0.55
VALLEY, RISE, PAGE = 0.63, 0.1, 0.37  # top of the spine, how far pages arch above it, height of a page
TIP, TURN, SCALE = (0.67, 0.82), math.radians(36), 0.88
THICKEST = 0.065
_HAND: tuple[Point, ...] = (  # a fist with the index finger out, tip at the origin, pointing down
    (-0.088, -0.11), (-0.066, -0.032), (0, 0), (0.066, -0.032), (0.088, -0.11), (0.092, -0.34),
    (0.125, -0.275), (0.185, -0.255), (0.245, -0.28), (0.265, -0.335),
    (0.29, -0.295), (0.35, -0.285), (0.405, -0.325), (0.425, -0.42),
    (0.415, -0.55), (0.36, -0.68), (0.35, -0.84), (0.35, -0.84), (0.05, -0.84), (0.05, -0.84),
    (0.04, -0.72), (-0.03, -0.65), (-0.11, -0.57), (-0.165, -0.49), (-0.185, -0.41), (-0.155, -0.36),
    (-0.105, -0.34), (-0.09, -0.26),
)


def hand_on_book(stem: float) -> Drawn:
    """An open book with lines of text on its left page and a hand that points on its right page."""
    hand = _hand()
    pen = Pen()
    stem = min(stem, THICKEST)
    _book(pen, stem, hand)
    pen.polygon(hand).polygon(shifted(hand, stem, closed=True))
    return Drawn("hand-on-book", WIDTH, pen.path())


def _hand() -> list[Point]:
    cos, sin = math.cos(TURN) * SCALE, math.sin(TURN) * SCALE
    points = smooth(_HAND, closed=True, steps=5)
    return [(TIP[0] - x * cos - y * sin, TIP[1] - x * sin + y * cos) for x, y in points]


def _top(x: float) -> float:
    return VALLEY - RISE * math.sin(0.7 * math.pi * abs(x - SPINE) / HALF)


def _edge(start: float, end: float, down: float) -> list[Point]:
    return [(x, _top(x) + down) for x in (start + (end - start) * step / 16 for step in range(17))]


def _book(pen: Pen, stem: float, hand: list[Point]) -> None:
    left, right = SPINE - HALF, SPINE + HALF
    inner_left, inner_right = left + stem, right - stem
    fold_left, fold_right = SPINE - stem / 2, SPINE + stem / 2
    low = PAGE - stem
    gap_from, gap_to = _gap(hand, stem)
    pen.polygon([
        *_edge(gap_to, right, 0), *_edge(right, SPINE, PAGE), *_edge(SPINE, left, PAGE), *_edge(left, SPINE, 0),
        *_edge(SPINE, gap_from, 0), *_edge(gap_from, fold_right, stem), *_edge(fold_right, inner_right, low),
        *_edge(inner_right, gap_to, stem),
    ])
    pen.polygon([*_edge(inner_left, fold_left, stem), *_edge(fold_left, inner_left, low)])
    for line in (0.135, 0.225):
        start, end = left + 0.11, SPINE - 0.1
        pen.polygon([*_edge(start, end, line - stem * 0.4), *_edge(end, start, line + stem * 0.4)])


def _gap(hand: list[Point], stem: float) -> tuple[float, float]:
    """From where to where the right page's upper edge stands back for the hand."""
    wide = shifted(hand, -1.0 * stem, closed=True)
    inside = [
        x for x in (SPINE + HALF * step / 400 for step in range(401))
        if _within((x, _top(x)), wide) or _within((x, _top(x) + stem), wide)
    ]
    return min(inside), min(max(inside), SPINE + HALF - stem)


def _within(point: Point, polygon: list[Point]) -> bool:
    x, y = point
    inside = False
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            inside = not inside
    return inside
