"""Halving."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from labeltool.typeset.halving import largest


@given(st.integers(-60, 60), st.integers(0, 60), st.integers(-70, 130))
def test_halving_finds_the_largest_of_a_plain_threshold(low, more, limit):
    found = largest(low, low + more, lambda step: step <= limit)
    assert found == (min(low + more, limit) if limit >= low else None)


def test_halving_looks_past_a_small_gap():
    assert largest(0, 100, lambda step: step <= 40 or step in (42, 43)) == 43
    assert largest(5, 4, lambda step: True) is None
