"""The model of a print: dots of ink with their gain and soft edges, on a stock, as the light that comes back.

Each dark area grows by the gain on all sides; then all edges are blurred by a Gaussian. Both are worked out exactly:
a print is a sum of strips of dots that are equal from top to bottom, and each strip an area function across times
one down.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from labeltool.readback.quality.model import Picture

Run = tuple[float, float]
INCH_MM = 25.4
_FAR = 4.0  # sigmas beyond which an edge is felt no more


@dataclass(frozen=True, slots=True)
class Dots:
    """Printer dots: rows of "0"/"1" (1 = inked), all equally long, and the side of a dot, mm."""

    rows: tuple[str, ...]
    dot_mm: float


@dataclass(frozen=True, slots=True)
class Press:
    """How a print comes out: gain of each edge across and down, mm; softness, mm; light of stock and ink, 0 to 1."""

    gain_mm: tuple[float, float]
    edge_mm: float
    paper: float
    ink: float


def press_of(table: Mapping[str, Any], medium: str, face: str, behind_red: float | None = None,
             face_red: float | None = None) -> Press:
    """The press of a stock, from the table of presses.

    `face`: white, kraft, clear or a colour, whose red light is `face_red`; `behind_red`: that of what clear stock lies
    on, None where it is not known.
    """
    process = table["process"][medium]
    ink = process["ink"]
    if face == "clear":
        clear = table["clear"]
        paper = clear["unknown"] if behind_red is None else clear["film"] * behind_red
    else:
        paper = table["face"].get(face, table["colour"]["share"] * (face_red or 0.0))
    across, down = process["gain"]
    return Press((across, down), process["edge"], paper, min(ink, paper))


def printed(dots: Dots, press: Press, pixel_mm: float) -> Picture:
    """The light that comes back from a print, as pixels of `pixel_mm`; the picture is as large as the dots."""
    width = max(2, round(len(dots.rows[0]) * dots.dot_mm / pixel_mm))
    height = max(2, round(len(dots.rows) * dots.dot_mm / pixel_mm))
    sigma = math.hypot(press.edge_mm, pixel_mm / math.sqrt(12))
    strips = [(top, bottom, _profile(runs, width, pixel_mm, sigma)) for top, bottom, runs in _strips(dots, press)]
    out: list[bytes] = []
    known: dict[tuple[tuple[int, float], ...], bytes] = {}
    for y in range(height):
        weights = tuple(_weights(strips, (y + 0.5) * pixel_mm, sigma))
        if weights not in known:
            known[weights] = _line([(strips[index][2], share) for index, share in weights], width, press)
        out.append(known[weights])
    return Picture(b"".join(out), width, height)


def _strips(dots: Dots, press: Press) -> Iterator[tuple[float, float, list[Run]]]:
    """Strips of a print that are equal from top to bottom: (top, bottom, inked runs), mm, the gain applied."""
    across, down = press.gain_mm
    bands = list(_bands(dots))
    sides = [side for top, bottom, _ in bands for side in (top, bottom)]
    edges = sorted({edge for side in sides for edge in (side - down, side + down)})
    inner = [edge for edge in edges if bands[0][0] < edge < bands[-1][1]]
    marks = [bands[0][0], *inner, bands[-1][1]]
    first = 0
    for top, bottom in pairwise(marks):
        middle = (top + bottom) / 2
        while bands[first][1] + abs(down) < middle and first < len(bands) - 1:
            first += 1
        reached = []
        for index in range(first, len(bands)):
            if bands[index][0] - abs(down) > middle:
                break
            reached.append(bands[index])
        yield top, bottom, _inked(reached, middle, across, down)


def _inked(bands: Sequence[tuple[float, float, list[Run]]], y: float, across: float, down: float) -> list[Run]:
    """The inked runs at a height: of all bands that grow over it, or, where ink shrinks, what they have in common."""
    if down >= 0:
        rows = [runs for top, bottom, runs in bands if top - down <= y <= bottom + down]
        return merged([(left - across, right + across) for runs in rows for left, right in runs])
    rows = [runs for top, bottom, runs in bands if top + down <= y <= bottom - down]
    common = rows[0]
    for runs in rows[1:]:
        common = [(max(a, c), min(b, d)) for a, b in common for c, d in runs if max(a, c) < min(b, d)]
    return merged([(left - across, right + across) for left, right in common if right - left > -2 * across])


def merged(runs: Sequence[Run]) -> list[Run]:
    """The runs from left to right, those that touch joined."""
    out: list[Run] = []
    for left, right in sorted(runs):
        if out and left <= out[-1][1]:
            out[-1] = (out[-1][0], max(out[-1][1], right))
        else:
            out.append((left, right))
    return out


def _bands(dots: Dots) -> Iterator[tuple[float, float, list[Run]]]:
    """Equal rows of dots as one: (top, bottom, inked runs), mm."""
    start = 0
    for row in range(1, len(dots.rows) + 1):
        if row == len(dots.rows) or dots.rows[row] != dots.rows[start]:
            yield start * dots.dot_mm, row * dots.dot_mm, list(_runs(dots.rows[start], dots.dot_mm))
            start = row


def _runs(row: str, dot_mm: float) -> Iterator[Run]:
    at = row.find("1")
    while at >= 0:
        end = row.find("0", at)
        end = len(row) if end < 0 else end
        yield at * dot_mm, end * dot_mm
        at = row.find("1", end)


def _profile(runs: Sequence[Run], width: int, pixel_mm: float, sigma: float) -> list[float]:
    """The share of ink at each pixel of a line with these runs."""
    out = [0.0] * width
    for left, right in runs:
        low = max(0, math.floor((left - _FAR * sigma) / pixel_mm))
        high = min(width, math.ceil((right + _FAR * sigma) / pixel_mm))
        sure_low, sure_high = left + _FAR * sigma, right - _FAR * sigma
        for x in range(low, high):
            at = (x + 0.5) * pixel_mm
            out[x] += 1.0 if sure_low <= at <= sure_high else _within(at, left, right, sigma)
    return out


def _within(at: float, low: float, high: float, sigma: float) -> float:
    """How much of a blurred stretch is felt at a place."""
    scale = sigma * math.sqrt(2)
    return (math.erf((high - at) / scale) - math.erf((low - at) / scale)) / 2


def _weights(strips: Sequence[tuple[float, float, list[float]]], y: float, sigma: float) -> Iterator[tuple[int, float]]:
    """(strip, share) of those felt at a height, the outermost ones without end."""
    last = len(strips) - 1
    for index, (top, bottom, _) in enumerate(strips):
        if top - _FAR * sigma < y < bottom + _FAR * sigma:
            low = -1e9 if index == 0 else top
            high = 1e9 if index == last else bottom
            share = round(_within(y, low, high, sigma), 6)
            if share > 0:
                yield index, share


def _line(parts: Sequence[tuple[list[float], float]], width: int, press: Press) -> bytes:
    depth = press.paper - press.ink
    if len(parts) == 1:
        profile = parts[0][0]
        return bytes(round(255 * (press.paper - depth * min(1.0, share))) for share in profile)
    sums = [0.0] * width
    for profile, weight in parts:
        sums = [total + weight * share for total, share in zip(sums, profile, strict=True)]
    return bytes(round(255 * (press.paper - depth * min(1.0, share))) for share in sums)
