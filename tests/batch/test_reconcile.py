from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.batch.reconcile import Printed, accounts, reconciliation, to_print


@pytest.mark.parametrize(("filled", "prints", "expected"), [
    ([("", 9)], [], 9),
    ([("", 9)], [Printed("", "back", 4)], 5),
    ([("", 9)], [Printed("", "back", 12)], 0),
    ([("", 9)], [Printed("", "back", 12, spoiled=5)], 2),
    ([("", 9)], [Printed("", "back", 12, spoiled=1, destroyed=8)], 6),
    ([("", 9)], [Printed("", "back", 12, left=3)], 0),
    ([("", 9)], [Printed("", "front", 9), Printed("30ml", "back", 9)], 9),
    ([("30ml", 9)], [], None),
    ([], [], None),
])
def test_count_filled_prints_what_is_missing(filled, prints, expected):
    assert to_print(filled, prints, "", "back") == expected


def test_an_account_is_kept_by_pack_and_artwork():
    found = accounts([("", 9)], [Printed("", "front", 9), Printed("", "back", 6), Printed("", "back", 6, spoiled=1)])
    assert [(item.artwork, item.printed, item.usable, item.missing, item.over) for item in found] == [
        ("front", 9, 9, 0, 0), ("back", 12, 11, 0, 2),
    ]


def test_too_few_labels_warn_and_left_ones_are_noted():
    found = reconciliation([("", 9)], [Printed("", "front", 8), Printed("", "back", 12)])
    assert [(item.rule, item.level) for item in found] == [("labels.too-few", "warning"), ("labels.left", "note")]
    assert not reconciliation([("", 9)], [Printed("", "back", 9)]).items
    assert not reconciliation([], [Printed("", "back", 9)]).items


@given(st.integers(0, 99), st.lists(st.tuples(st.integers(0, 50), st.integers(0, 9)), max_size=5))
def test_printing_what_is_missing_is_enough_and_never_too_much(filled, rows):
    prints = [Printed("", "back", labels, spoiled=min(labels, spoiled)) for labels, spoiled in rows]
    more = to_print([("", filled)], prints, "", "back")
    good = sum(item.good for item in prints)
    assert more == (filled - good if filled > good else 0)
    assert to_print([("", filled)], [*prints, Printed("", "back", more)], "", "back") == 0


@pytest.mark.parametrize(("left", "rule", "words"), [
    (2, None, ""), (1, "labels.differ", "10 used; 9 packs filled: 1 label unaccounted for"),
    (4, "labels.differ", "7 used; 9 packs filled: 2 packs without a label of it"),
    (None, "labels.left", "9 packs filled, 11 good labels of back: 2 left over"),
])
def test_what_was_used_is_held_against_what_was_filled(left, rule, words):
    found = reconciliation([("", 9)], [Printed("", "back", 15, 3, left, 1)])
    assert [item.rule for item in found] == ([rule] if rule else [])
    assert all(words in item.text for item in found)


def test_used_is_known_once_what_is_left_of_every_print_was_counted():
    half, whole = (accounts([("", 9)], [Printed("", "back", 6, left=0), Printed("", "back", 6, left=left)])[0]
                   for left in (None, 3))
    assert (half.left, half.used, half.difference) == (None, None, None)
    assert (whole.left, whole.used, whole.difference) == (3, 9, 0)
