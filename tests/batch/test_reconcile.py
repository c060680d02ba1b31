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
    ([("", 9)], [Printed("", "back", 12, spoiled=1, good=3)], 6),
    ([("", 9)], [Printed("", "front", 9), Printed("30ml", "back", 9)], 9),
    ([("30ml", 9)], [], None),
    ([], [], None),
])
def test_count_filled_prints_what_is_missing(filled, prints, expected):
    assert to_print(filled, prints, "", "back") == expected


def test_an_account_is_kept_by_pack_and_artwork():
    found = accounts([("", 9)], [Printed("", "front", 9), Printed("", "back", 6), Printed("", "back", 6, spoiled=1)])
    assert [(item.artwork, item.printed, item.usable, item.missing, item.left) for item in found] == [
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
    good = sum(item.usable for item in prints)
    assert more == (filled - good if filled > good else 0)
    assert to_print([("", filled)], [*prints, Printed("", "back", more)], "", "back") == 0
