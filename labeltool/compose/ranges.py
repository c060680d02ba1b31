"""Ranges of one material: what its stated percents allow when they must sum to 100. Fractions throughout.

Limits of a name are reached: for a sum held at 100, the highest of one name and the lowest of another are reached by
one and the same composition (see `order`), so ranges tightened here lose nothing that the order needs.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from labeltool.errors import input_error

K = TypeVar("K", bound=Hashable)
WHOLE = Fraction(100)


@dataclass(frozen=True, slots=True)
class Spread:
    """Lowest, nominal and highest of something, as exact fractions of one unit that the context names."""

    low: Fraction
    nominal: Fraction
    high: Fraction

    def times(self, low: Fraction, nominal: Fraction, high: Fraction) -> Spread:
        """The spread of a product with another non-negative spread."""
        return Spread(self.low * low, self.nominal * nominal, self.high * high)

    def __add__(self, other: Spread) -> Spread:
        return Spread(self.low + other.low, self.nominal + other.nominal, self.high + other.high)


NOTHING = Spread(Fraction(0), Fraction(0), Fraction(0))
ALL = Spread(Fraction(1), Fraction(1), Fraction(1))


def spreads(stated: Iterable[tuple[K, Fraction, Fraction]], where: str) -> dict[K, Spread]:
    """For each key, the shares of a material (1 = all of it) that its stated (key, low, high) percents allow.

    A key stated several times is one name: its ranges add up first, which loses nothing. Raises InputError where no
    composition within the ranges sums to 100 %; `where` names the material.
    """
    ranges: dict[K, tuple[Fraction, Fraction]] = {}
    for name, low, high in stated:
        before = ranges.get(name, (Fraction(0), Fraction(0)))
        ranges[name] = (before[0] + low, before[1] + high)
    lows = sum((low for low, _ in ranges.values()), Fraction(0))
    highs = sum((high for _, high in ranges.values()), Fraction(0))
    if not lows <= WHOLE <= highs:
        raise _cannot_sum(where, lows, highs)
    step = (WHOLE - lows) / (highs - lows) if highs != lows else Fraction(0)
    return {
        name: Spread(
            max(low, WHOLE - (highs - high)) / WHOLE,
            (low + step * (high - low)) / WHOLE,
            min(high, WHOLE - (lows - low)) / WHOLE,
        )
        for name, (low, high) in ranges.items()
    }


def _cannot_sum(where: str, lows: Fraction, highs: Fraction) -> Exception:
    sums = f"the lows sum to {float(lows):g} %, the highs to {float(highs):g} %"
    return input_error(
        "material.sum",
        f"the composition of {where} cannot sum to 100 %: {sums}",
        do="correct its percents from the supplier's composition sheet",
    )
