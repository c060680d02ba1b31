"""What a page shows too much or too little, label by label, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from labeltool.raster import Grey
from labeltool.readback.ink import Rect, label_rect
from labeltool.readback.model import ExpectedLabel
from labeltool.readback.reference import differences

Told = tuple[int, str, str]  # label from 1 (0: none), rule, text
NEAR_MM = 0.3


def drawing_faults(found: Grey, drawn: Grey, labels: Sequence[ExpectedLabel]) -> Iterator[Told]:
    """The faults that the page as drawn anew shows."""
    differing = differences(found, drawn)
    for number, spots in _by_label(differing.surplus, labels).items():
        left, top, right, bottom = _around(spots)
        x, y = (labels[number - 1].x_mm, labels[number - 1].y_mm) if number else (0.0, 0.0)
        yield (number, "readback.stray-ink", f"ink where none should be, from {left - x:.1f}, {top - y:.1f} to"
               f" {right - x:.1f}, {bottom - y:.1f} mm of the {'label' if number else 'page'}")
    for number, spots in _by_label(differing.lacking, labels).items():
        blocks = _blocks(labels[number - 1], spots) if number else ()
        yield number, "readback.ink", f"ink is missing in {', '.join(blocks) or 'the page'}"


def _by_label(spots: Sequence[Rect], labels: Sequence[ExpectedLabel]) -> dict[int, list[Rect]]:
    rects = [label_rect(label) for label in labels]
    sorted_: dict[int, list[Rect]] = {}
    last = 0
    for spot in spots:
        if not (rects and _within(spot, rects[last])):
            last = next((index for index, rect in enumerate(rects) if _within(spot, rect)), -1)
        sorted_.setdefault(last + 1, []).append(spot)
        last = max(last, 0)
    return dict(sorted(sorted_.items()))


def _within(spot: Rect, rect: Rect) -> bool:
    return rect[0] <= spot[0] <= rect[2] and rect[1] <= spot[1] <= rect[3]


def _around(spots: Sequence[Rect]) -> Rect:
    lefts, tops, rights, bottoms = zip(*spots, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _blocks(label: ExpectedLabel, spots: Sequence[Rect]) -> tuple[str, ...]:
    """The blocks in whose boxes the spots lie, in the order of the boxes."""
    return tuple(dict.fromkeys(
        box.block for box in label.frame.boxes
        if any(box.x_mm - NEAR_MM <= x - label.x_mm <= box.x_mm + box.width_mm + NEAR_MM
               and box.y_mm - NEAR_MM <= y - label.y_mm <= box.y_mm + box.height_mm + NEAR_MM for x, y, _, _ in spots)
    ))
