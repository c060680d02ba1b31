from __future__ import annotations

import datetime as dt
from decimal import Decimal

import pytest
from record_samples import AT, keyed, opening, order

from labeltool.errors import InputError
from labeltool.records.model import CodeTaken


def test_a_batch_comes_back_as_it_was_opened(store):
    opened = store.open_batch(opening(size_g=Decimal("500.50")))
    assert store.batch("260503A31") == opened
    assert (opened.size_g, opened.made) == (Decimal("500.50"), dt.date(2026, 5, 3))
    assert (opened.state, opened.key) == ("open", "ABCDEFGH")
    assert opened.frozen == {"formula": {"rows": [{"inci": "Aqua"}, {"inci": "Glycérine ü"}]}}


@pytest.mark.parametrize("typed", ["260503-A31", "260503A31", "260503a31", "260503 a31", "2605-03-A31"])
def test_a_code_is_found_in_any_spelling(store, typed):
    store.open_batch(opening())
    assert store.batch(typed).code == "260503-A31"


def test_an_unknown_code_is_none(store):
    assert store.batch("260503A31") is None
    assert store.prints("260503A31") == ()


def test_a_code_is_used_once_whatever_its_dashes_and_pattern(store):
    store.open_batch(opening("260503-A31"))
    with pytest.raises(CodeTaken, match="260503A31"):
        store.open_batch(opening("260503A31", stem="other"))
    assert len(store.batches()) == 1


def test_a_cancelled_code_is_never_used_again(store):
    store.open_batch(opening())
    store.change_state("260503A31", "cancelled", by="AB", at=AT)
    with pytest.raises(CodeTaken):
        store.open_batch(opening())


def test_codes_by_stem_and_all(store):
    for code in ("260503-B04", "260503-A31", "260504-A28"):
        store.open_batch(opening(code))
    assert store.all_codes() == ("260503-B04", "260503-A31", "260504-A28")
    assert store.codes_like("260503") == ("260503-B04", "260503-A31")
    assert store.codes_like("26050") == ()


def test_same_day_names_open_batches_of_formula_and_day_only(store):
    store.open_batch(opening("260503-A31"))
    store.open_batch(opening("260503-B04"))
    store.open_batch(opening("260503-C02", formula_key="soap"))
    store.open_batch(opening("260504-A28", made=dt.date(2026, 5, 4)))
    store.change_state("260503A31", "released", by="AB", at=AT)
    assert [batch.code for batch in store.same_day("oat-lotion", dt.date(2026, 5, 3))] == ["260503-B04"]


ALLOWED = {
    ("open", "released"), ("open", "withdrawn"), ("open", "recalled"), ("open", "cancelled"),
    ("released", "open"), ("released", "withdrawn"), ("released", "recalled"), ("withdrawn", "recalled"),
}
STATES = ("open", "released", "withdrawn", "recalled", "cancelled")


@pytest.mark.parametrize("before", STATES)
@pytest.mark.parametrize("after", STATES)
def test_only_the_allowed_changes_of_state(store, before, after):
    store.open_batch(opening())
    if before != "open":
        store.change_state("260503A31", before, by="AB", at=AT)
    if (before, after) in ALLOWED:
        changed = store.change_state("260503A31", after, by="CD", at="later", why="smell")
        assert (changed.state, changed.since, changed.why) == (after, "later", "smell")
        assert store.batch("260503A31") == changed
    else:
        with pytest.raises(InputError, match=f"is {before} and cannot become {after}"):
            store.change_state("260503A31", after, by="CD", at="later")
        assert store.batch("260503A31").state == before


def test_what_was_printed_is_not_cancelled(store):
    store.open_batch(opening())
    store.add_print(order())
    with pytest.raises(InputError) as refused:
        store.change_state("260503A31", "cancelled", by="AB", at=AT)
    assert "batch withdraw 260503-A31" in refused.value.findings[0].do


def test_several_states_change_together_or_not_at_all(store):
    for code in ("260503-A31", "260503-B04", "260503-C02"):
        store.open_batch(opening(code))
    store.change_state("260503A31", "cancelled", by="AB", at=AT)
    with pytest.raises(InputError) as refused:
        store.change_states(["260503B04", "260503A31", "260503C02"], "withdrawn", by="AB", at=AT, why="smell")
    assert len(refused.value.findings) == 1
    assert [batch.state for batch in store.batches()] == ["cancelled", "open", "open"]
    store.change_states(["260503B04", "260503C02"], "withdrawn", by="AB", at=AT, why="smell")
    assert [batch.state for batch in store.batches()] == ["cancelled", "withdrawn", "withdrawn"]


def test_a_revision_freezes_new_inputs_and_keeps_the_old(store):
    store.open_batch(opening())
    revised = store.revise("260503A31", {"formula": "new"}, by="AB", at=AT, why="wrong address")
    assert (revised.frozen, revised.revisions) == ({"formula": "new"}, 1)
    assert store.batch("260503A31") == revised
    kept = store.events("260503A31", "open")[0].data["frozen"]
    assert "Glycérine" in store.asset(kept).decode("utf-8")


def test_equal_inputs_are_kept_once(store):
    first, second = store.open_batch(opening("260503-A31")), store.open_batch(opening("260503-B04"))
    names = {event.data["frozen"] for event in store.events(kind="open")}
    assert len(names) == 1
    assert first.frozen == second.frozen


def test_several_verbs_together_are_all_or_nothing(store):
    with pytest.raises(InputError), store.together():
        store.open_batch(opening())
        store.add_print(order())
        store.add_print(order("no-such-batch"))
    assert (store.batches(), store.head()) == ((), "0:" + "0" * 64)


def test_opening_again_by_id_or_once_answers_with_the_first_batch(store):
    first = store.open_batch(opening(once=keyed(), id="op-1"))
    assert store.open_batch(opening("260503-B04", once=keyed())) == first
    assert store.open_batch(opening("260503-B04", id="op-1")) == first
    assert store.all_codes() == ("260503-A31",)
