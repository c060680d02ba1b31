"""The proof of the order: which pairs of the list some composition inside the stated ranges turns round.

Within one material whose components must sum to 100 %, let i and j be two names with tightened ranges [l, h] (see
`ranges`). Set j to its highest and i to its lowest. If i's lowest is its stated low, what is left for the others
is within their reach because j's highest leaves them at least their lows; if it was raised, the others are all at
their highs, and then j's highest is its stated high, so the sum is met exactly. So one composition reaches
both, in every material at once, and the largest total(j) - total(i) is high(j) - low(i). That composition has the
largest j as well, so asking for j of 1 % or more adds nothing: the pair is open exactly when high(j) > low(i) and
high(j) >= 1 %.

One case needs more: a share that is itself a range ("to pH"), of a material that holds both names. Its amount moves
both, so that high(j) and low(i) are not reached together. There the amount s of each such share is chosen: the gap
grows by s * (high(j) - low(i)) of that material, and where j must still be raised to 1 %, the shares that raise it
at the least cost to the gap are taken first (a fractional knapsack with one side condition, which is exact).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import lcm

from labeltool.compose.decimals import decimal
from labeltool.compose.lines import ONE, Draft, Flow
from labeltool.compose.model import Doubt

ZERO = Fraction(0)
Scales = dict[Hashable, Fraction]


@dataclass(frozen=True, slots=True)
class _Tied:
    """Parts whose amount varies together: `rest` is the lowest amount as a share of the highest (mostly 0)."""

    rest: Fraction
    high: Fraction = ZERO
    low: Fraction = ZERO


@dataclass(frozen=True, slots=True)
class _Reach:
    """How far one line can go: over everything, and over what its tied parts bring at their full amount."""

    draft: Draft
    high: Fraction
    low: Fraction
    tied: dict[Hashable, _Tied] = field(default_factory=dict)


def doubts(drafts: Sequence[Draft]) -> tuple[Doubt, ...]:
    """Every pair of the order that is not proved; colorants stand outside the order."""
    reaches = [_reach(item) for item in drafts if not item.colorant]
    return tuple(_doubts(reaches))


def _doubts(reaches: Sequence[_Reach]) -> Iterator[Doubt]:
    """Pairs by the place of the first name, then of the second."""
    for before, after in _candidates(reaches):
        gap, scales = _gap(before, after)
        if gap > 0:
            because = _because(before, after, scales)
            yield Doubt(before.draft.label, after.draft.label, decimal(gap), because)


def _candidates(reaches: Sequence[_Reach]) -> Iterator[tuple[_Reach, _Reach]]:
    """Pairs with high(j) > low(i) and high(j) >= 1 %, compared as whole numbers over a common denominator."""
    scale = lcm(*(value.denominator for item in reaches for value in (item.high, item.low)))
    highs = [item.high.numerator * (scale // item.high.denominator) for item in reaches]
    lows = [item.low.numerator * (scale // item.low.denominator) for item in reaches]
    reaching = [place for place, high in enumerate(highs) if high >= scale]
    for first, low in enumerate(lows):
        for second in reaching[bisect_right(reaching, first):]:
            if highs[second] > low:
                yield reaches[first], reaches[second]


def _reach(draft: Draft) -> _Reach:
    tied: dict[Hashable, _Tied] = {}
    for flow in draft.flows:
        part, share = flow.part, flow.share
        if part.low != part.high:
            before = tied.get(_tie(flow), _Tied(part.low / part.high))
            high, low = before.high + part.high * share.high, before.low + part.high * share.low
            tied[_tie(flow)] = _Tied(before.rest, high, low)
    return _Reach(draft, draft.total.high, draft.total.low, tied)


def _tie(flow: Flow) -> Hashable:
    """What varies together has one tie; parts alike in everything may share theirs, for their amounts add up."""
    return flow.part.tie or flow.part


def _gap(before: _Reach, after: _Reach) -> tuple[Fraction, Scales]:
    """The largest after - before with `after` at 1 % or more, and how far each share that feeds both is drawn on.

    Expects that `after` can reach 1 %.
    """
    both = [name for name, tied in after.tied.items() if tied.high and name in before.tied and before.tied[name].low]
    up = {name: after.tied[name].high for name in both}
    down = {name: before.tied[name].low for name in both}
    rest = {name: before.tied[name].rest for name in both}
    scales = {name: ONE if up[name] >= down[name] else rest[name] for name in both}
    missing = ONE - after.high + sum((up[name] * (1 - scales[name]) for name in both), ZERO)
    for name in sorted((name for name in both if up[name] < down[name]), key=lambda name: down[name] / up[name]):
        step = max(ZERO, min(ONE - rest[name], missing / up[name]))
        scales[name] += step
        missing -= step * up[name]
    top = after.high - sum((up[name] * (1 - scales[name]) for name in both), ZERO)
    bottom = before.low + sum((down[name] * (scales[name] - rest[name]) for name in both), ZERO)
    return top - bottom, scales


def _because(before: _Reach, after: _Reach, scales: Scales) -> tuple[str, ...]:
    """The materials that leave their nominal place in the worst case, those that move the pair most first.

    Where a composition is a range, the material is named; where only the amount is one, the formula's row.
    """
    moved: dict[str, Fraction] = {}
    for flow in after.draft.flows:
        reached = flow.part.high * scales.get(_tie(flow), ONE) * flow.share.high
        _move(moved, flow, reached - flow.percent.nominal)
    for flow in before.draft.flows:
        amount = flow.part.high * scales[_tie(flow)] if _tie(flow) in scales else flow.part.low
        _move(moved, flow, flow.percent.nominal - amount * flow.share.low)
    return tuple(sorted((name for name, by in moved.items() if by), key=lambda name: (-moved[name], name)))


def _move(moved: dict[str, Fraction], flow: Flow, by: Fraction) -> None:
    ranged = flow.share.low != flow.share.high
    name = flow.part.material.key if ranged else flow.part.source
    moved[name] = moved.get(name, ZERO) + by
