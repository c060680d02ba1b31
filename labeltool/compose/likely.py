"""How often the nominal order holds when every material's composition is drawn at random within its ranges."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence

from labeltool.compose.colours import ColourTable
from labeltool.compose.identity import Book, LineKey
from labeltool.compose.lines import Draft, Flow, drafts
from labeltool.compose.names import NameTable
from labeltool.compose.order import doubts
from labeltool.compose.parts import Part
from labeltool.compose.ranges import Spread
from labeltool.formula.model import Material

SAMPLES = 10_000
_MASK = (1 << 64) - 1
_Random = Iterator[float]
_Point = dict[LineKey, float]


def most_likely(
    parts: Sequence[Part], names: NameTable, colours: ColourTable, seed: int, samples: int = SAMPLES,
) -> int:
    """In how many of `samples` random compositions the order of the declaration is right.

    Each material is one random point of its polytope, the same for all its parts; a "to pH" share is uniform in its
    range. Right: no name of 1 % or more stands behind one that is less. The same seed gives the same answer.
    """
    found = drafts(parts, Book(names, colours))
    pairs = [(item.before, item.after) for item in doubts(found)]
    if not pairs:
        return samples
    touched = {label for pair in pairs for label in pair}
    lines = {item.label: item for item in found if item.label in touched and not item.colorant}
    draws = _draws(tuple(lines.values()), _ranges(found), splitmix64(seed))
    return sum(_right(next(draws), pairs) for _ in range(samples))


def splitmix64(seed: int) -> _Random:
    """Numbers in [0, 1) from the SplitMix64 generator (Steele, Lea, Flood 2014), the upper 53 bits of each word."""
    return ((word >> 11) / (1 << 53) for word in splitmix64_words(seed))


def splitmix64_words(seed: int) -> Iterator[int]:
    """The 64-bit words of SplitMix64."""
    state = seed & _MASK
    while True:
        state = (state + 0x9E3779B97F4A7C15) & _MASK
        word = ((state ^ (state >> 30)) * 0xBF58476D1CE4E5B9) & _MASK
        word = ((word ^ (word >> 27)) * 0x94D049BB133111EB) & _MASK
        yield word ^ (word >> 31)


def _right(totals: Mapping[str, float], pairs: Sequence[tuple[str, str]]) -> bool:
    return not any(totals[after] >= 1 and totals[after] > totals[before] for before, after in pairs)


def _ranges(found: Sequence[Draft]) -> dict[Material, dict[LineKey, Spread]]:
    """The components of every material that can move."""
    ranges: dict[Material, dict[LineKey, Spread]] = {}
    for line in found:
        for flow in line.flows:
            if flow.share.low != flow.share.high:
                ranges.setdefault(flow.part.material, {})[line.who.key] = flow.share
    return ranges


def _draws(
    lines: Sequence[Draft], ranges: Mapping[Material, Mapping[LineKey, Spread]], random: _Random,
) -> Iterator[dict[str, float]]:
    """The percents of the lines in one random composition after another."""
    moving = {flow.part.material for line in lines for flow in line.flows} & ranges.keys()
    walks = {material: _walk(ranges[material], random) for material in ranges if material in moving}
    while True:
        points = {material: next(walk) for material, walk in walks.items()}
        scales: dict[Hashable, float] = {}
        yield {line.label: sum(_amount(flow, line, points, scales, random) for flow in line.flows) for line in lines}


def _amount(
    flow: Flow, line: Draft, points: Mapping[Material, _Point], scales: dict[Hashable, float], random: _Random,
) -> float:
    part = flow.part
    point = points.get(part.material, {})
    share = point.get(line.who.key, float(flow.share.nominal))
    if part.low == part.high:
        return float(part.high) * share
    tie = part.tie or part
    if tie not in scales:
        scales[tie] = next(random)
    return (float(part.low) + scales[tie] * float(part.high - part.low)) * share


def _walk(ranges: Mapping[LineKey, Spread], random: _Random) -> Iterator[_Point]:
    """Random points of a material's polytope, uniform in the long run.

    From the nominal point on, two components at a time share their sum anew, uniformly within both ranges: a Gibbs
    walk, whose only lasting distribution is the uniform one. Two components alone are drawn afresh each time.
    """
    names = sorted(ranges)
    lows, highs = ([float(getattr(ranges[name], side)) for name in names] for side in ("low", "high"))
    point = [float(ranges[name].nominal) for name in names]
    count = len(names)
    while True:
        for step in range(1 if count == 2 else 2 * count):
            one, other = step % count, (step + 1 + int(next(random) * (count - 1))) % count
            both = point[one] + point[other]
            least, most = max(lows[one], both - highs[other]), min(highs[one], both - lows[other])
            point[one] = least + next(random) * (most - least)
            point[other] = both - point[one]
        yield dict(zip(names, point, strict=True))
