"""Line breaking against trying every way there is."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeltool import tables
from labeltool.typeset.breaks import breaks
from labeltool.typeset.linebreak import LONGEST, Breakable, break_lines, breakable, count_lines, line_cost

WORDS = ("Aqua,", "Glycerin,", "Cetearyl", "Alcohol,", "Caprylic/Capric", "Oil,", "CI", "77491,", "Alpha-Isomethyl",
         "(nano)")
paragraphs = st.lists(st.sampled_from(WORDS), min_size=1, max_size=8).map(" ".join)
measures = st.lists(st.floats(3, 14), min_size=1, max_size=4)


def para(text: str) -> Breakable:
    font = tables.fonts().regular
    return breakable([font.advance(char) for char in text], breaks(text, 0))


def every_way(body: Breakable, measure, lines: int, even_last: bool):
    """(cost, breaks) of every way to set the paragraph in so many lines."""
    last = len(body.ends) - 1
    for chosen in combinations(range(last), lines - 1):
        ends = (*chosen, last)
        starts = (0, *(index + 1 for index in chosen))
        spans = list(zip(starts, ends, strict=True))
        if all(body.width(a, b) <= measure(i) + 1e-9 and body.chars(a, b) <= LONGEST for i, (a, b) in enumerate(spans)):
            cost = sum(line_cost(body, a, b, measure(i), i == lines - 1 and not even_last)
                       for i, (a, b) in enumerate(spans))
            yield cost, ends


@settings(max_examples=300)
@given(paragraphs, measures, st.booleans())
def test_best_of_all_ways_in_the_fewest_lines(text, widths, even_last):
    body = para(text)

    def measure(line: int) -> float:
        return widths[min(line, len(widths) - 1)]

    lines = count_lines(body, measure)
    counts = range(1, len(body.ends) + 1)
    fewest = next((count for count in counts if list(every_way(body, measure, count, even_last))), None)
    assert lines == fewest
    if lines is not None:
        found = break_lines(body, measure, lines, even_last)
        costs = {ends: cost for cost, ends in every_way(body, measure, lines, even_last)}
        assert costs[found] == pytest.approx(min(costs.values()))


@given(paragraphs, st.floats(5, 30))
def test_a_wider_measure_never_takes_more_lines(text, width):
    body = para(text)
    narrow, wide = count_lines(body, lambda line: width), count_lines(body, lambda line: width + 1)
    assert narrow is None or (wide is not None and wide <= narrow)


def test_a_word_wider_than_the_measure_does_not_fit():
    assert count_lines(para("Ethylhexylglycerin"), lambda line: 2.0) is None


def test_no_line_holds_more_than_75_characters():
    text = "one two three four five six seven eight nine ten " * 6
    body = para(text.strip())
    lines = count_lines(body, lambda line: 500.0)
    ends = break_lines(body, lambda line: 500.0, lines)
    first = 0
    for last in ends:
        assert body.chars(first, last) <= 75
        first = last + 1


def test_a_last_line_is_not_left_with_one_short_word():
    text = "Keep out of the reach of children and pets at all times of day or so"
    body = para(text)
    room = body.ends[-2] / 2 + 0.6
    ends = break_lines(body, lambda line: room, count_lines(body, lambda line: room))
    start = body.breaks[ends[-2]].start
    assert len(text[start:].split()) > 1


def test_a_paragraph_of_120_words_is_set():
    text = ", ".join(["Butyrospermum Parkii Butter"] * 40)
    body = para(text)
    lines = count_lines(body, lambda line: 17.0)
    assert len(break_lines(body, lambda line: 17.0, lines)) == lines


def test_more_lines_than_words_are_refused():
    with pytest.raises(ValueError, match="does not fit"):
        break_lines(para("Aqua"), lambda line: 50.0, 3)


SHORT_ENDS = st.lists(st.sampled_from(["moisturising", "a b", "or so", "cream", "skin"]), min_size=2, max_size=6)


@given(SHORT_ENDS.map(" ".join), st.floats(6, 20))
def test_the_last_line_fills_an_eighth_of_the_measure_wherever_it_can(text, room):
    body = para(text)
    lines = count_lines(body, lambda line: room)
    if lines is None or not 2 <= lines <= 3:
        return

    def last_width(ends) -> float:
        return body.width(ends[-2] + 1, ends[-1])

    possible = any(last_width(ends) >= 0.12 * room for _, ends in every_way(body, lambda line: room, lines, False))
    found = break_lines(body, lambda line: room, lines)
    assert not possible or last_width(found) >= 0.12 * room
