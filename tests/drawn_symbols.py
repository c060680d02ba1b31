"""Hand-made pictures of symbols: known light, edges and damage; of the package only the matrix is used."""

from __future__ import annotations

from itertools import pairwise

from labeltool import tables
from labeltool.readback.quality.grading import grade
from labeltool.readback.quality.model import Known, Picture
from labeltool.readback.quality.scale import standard
from labeltool.symbol.qr import blocks, matrix

RULES = standard(tables.toml("readback", "print_quality"))
QUIET = 4
LINK = "HTTPS://OTTERSHOLT.EXAMPLE/B/260503A31"  # 2-M


def known(payload=LINK):
    qr = matrix(payload)
    return Known(qr.rows, qr.version, qr.level, blocks(qr.version, qr.level))


class Drawing:
    """A symbol drawn module by module: its light, modules changed by hand, and where each edge lies, in modules."""

    def __init__(self, symbol=None, *, light=255, dark=0, module=(12.0, 12.0)):
        self.symbol = symbol or known()
        self.light, self.dark, self.module = light, dark, module
        self.changed = {}
        self.growth = (0.0, 0.0)
        self.bend = (lambda at: at, lambda at: at)  # from an even place in modules to the place drawn

    def put(self, cell, value):
        """Give one module, by column and row, a light of its own."""
        self.changed[cell] = value
        return self

    def flip(self, *cells):
        for x, y in cells:
            self.put((x, y), self.light if self.symbol.dark(x, y) else self.dark)
        return self

    def value(self, x, y):
        return self.changed.get((x, y), self.dark if self.symbol.dark(x, y) else self.light)

    def picture(self):
        size = self.symbol.size
        lines = [self._line([self.value(x, y) for x in range(-QUIET, size + QUIET)], 0)
                 for y in range(-QUIET, size + QUIET)]
        drawn = {}
        for column in zip(*lines, strict=True):
            if column not in drawn:
                drawn[column] = self._line(column, 1)
        done = zip(*(drawn[column] for column in zip(*lines, strict=True)), strict=True)
        rows = [bytes(round(value) for value in row) for row in done]
        return Picture(b"".join(rows), len(rows[0]), len(rows))

    def _line(self, values, axis):
        """Pixels along one way: each edge where it was bent to, dark modules grown, the share of a pixel counted."""
        scale, bend, growth = self.module[axis], self.bend[axis], self.growth[axis] / 2
        size, middle = self.symbol.size, (self.light + self.dark) / 2
        pixels = [0.0] * round((size + 2 * QUIET) * scale)
        ends = [0.0]
        for place, (before, after) in enumerate(pairwise(values), 1 - QUIET):
            at = bend(place) + growth * ((before < middle) - (after < middle)) + QUIET
            ends.append(at * scale)
        ends.append(float(len(pixels)))
        for value, left, right in zip(values, ends[:-1], ends[1:], strict=True):
            for x in range(int(left), min(len(pixels), int(right) + 1)):
                pixels[x] += value * max(0.0, min(right, x + 1) - max(left, x))
        return pixels

    def corners(self):
        size = self.symbol.size
        left, right = ((self.bend[0](at) + QUIET) * self.module[0] for at in (0, size))
        top, bottom = ((self.bend[1](at) + QUIET) * self.module[1] for at in (0, size))
        return ((left, top), (right, top), (right, bottom), (left, bottom))

    def grade(self, corners=None):
        return grade(self.picture(), corners or self.corners(), self.symbol, RULES)
