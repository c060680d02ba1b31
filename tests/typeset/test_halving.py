"""Halving."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from labeltool.typeset.halving import largest, lowest_begin


@given(st.integers(-60, 60), st.integers(0, 60), st.integers(-70, 130))
def test_halving_finds_the_largest_of_a_plain_threshold(low, more, limit):
    found = largest(low, low + more, lambda step: step <= limit)
    assert found == (min(low + more, limit) if limit >= low else None)


def test_halving_looks_past_a_small_gap():
    assert largest(0, 100, lambda step: step <= 40 or step in (42, 43)) == 43
    assert largest(5, 4, lambda step: True) is None


@given(st.integers(0, 20), st.integers(0, 60), st.lists(st.integers(0, 6), min_size=81, max_size=81), st.integers(2, 9),
       st.integers(0, 90))
def test_the_lowest_begin_is_the_one_that_trying_all_finds(low, more, grown, least, lost):
    """Heights that grow here and there as begins grow, and None from `lost` on."""
    heights = [least + sum(grow == 6 for grow in grown[:at]) for at in range(81)]
    end = low + more

    def height(begin):
        return heights[begin] if begin < lost else None

    standing = [at for at in range(low, end - 1) if height(at) is not None and at + height(at) <= end]
    assert lowest_begin(low, end, height) == (max(standing) if standing else None)
