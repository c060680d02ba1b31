"""The largest whole number that fits, by halving."""

from __future__ import annotations

from collections.abc import Callable, Iterable

GAP = 4  # so many numbers beyond a bound are looked at, because fitting is not quite even


def largest(low: int, high: int, fits: Callable[[int], bool], gap: int = GAP) -> int | None:
    """The largest whole number from low to high that fits, by halving; `gap` numbers past the bound are tried too."""
    if low > high:
        return None
    if fits(high):
        return high
    if not fits(low):
        return _first(range(min(high, low + gap), low, -1), fits)
    good, bad = low, high
    while bad - good > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if fits(middle) else (good, middle)
    beyond = _first(range(min(high, good + gap), good, -1), fits)
    return good if beyond is None else beyond


def _first(steps: Iterable[int], fits: Callable[[int], bool]) -> int | None:
    return next((step for step in steps if fits(step)), None)
