"""The largest whole number that fits, by halving; the lowest place of what changes its height as it moves."""

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
        return _first(range(min(high - 1, low + gap), low, -1), fits)
    good, bad, failed = low, high, {high}
    while bad - good > 1:
        middle = (good + bad) // 2
        if fits(middle):
            good = middle
        else:
            bad = middle
            failed.add(middle)
    beyond = _first((step for step in range(min(high, good + gap), good, -1) if step not in failed), fits)
    return good if beyond is None else beyond


def lowest_begin(low: int, end: int, height: Callable[[int], int | None]) -> int | None:
    """The largest begin from `low` on with begin + height(begin) not beyond `end`.

    Heights (2 at least; None: it cannot stand) never shrink as begins grow, so two that are equal decide it.
    """

    def stands(begin: int) -> bool:
        found = height(begin)
        return found is not None and begin + found <= end

    good, bad, tall = low - 1, end - 1, height(end - 2) if low <= end - 2 else None
    while tall is not None and good < end - tall < bad:
        begin = end - tall
        now = height(begin)
        if now is None or now > tall:
            bad = begin
            break
        good, bad = begin, min(bad, end - now + 1)
        if now == tall:
            return begin
        tall = now
    return largest(max(low, good), bad - 1, stands, gap=0)


def _first(steps: Iterable[int], fits: Callable[[int], bool]) -> int | None:
    return next((step for step in steps if fits(step)), None)
