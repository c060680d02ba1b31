from __future__ import annotations

import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from record_samples import AT, opening, order

from labeltool.errors import InputError
from labeltool.records.model import CodeTaken, Once
from labeltool.records.store import Store, open_store, restore

CODES = ("260503-A31", "260503-B04", "260504-A28")
STATES = ("released", "withdrawn", "recalled", "cancelled")
TEXT = st.text(st.characters(codec="utf-8", exclude_characters="\0"), max_size=12)
ONCE = st.none() | st.builds(Once, st.sampled_from("xyz"), st.sampled_from([1, 2]))
STEP = st.one_of(
    st.tuples(st.just("open"), st.sampled_from(CODES), TEXT, ONCE),
    st.tuples(st.just("print"), st.sampled_from(CODES), TEXT, ONCE),
    st.tuples(st.just("state"), st.sampled_from(CODES), st.sampled_from(STATES), ONCE),
    st.tuples(st.just("note"), st.sampled_from(CODES), TEXT, ONCE),
    st.tuples(st.just("revise"), st.sampled_from(CODES), TEXT, ONCE),
)


def act(store: Store, kind: str, code: str, text: str, once: Once | None) -> None:
    if kind == "open":
        store.open_batch(opening(code, frozen={"text": text}, once=once))
    elif kind == "print":
        store.add_print(order(code, text={"text": text}, once=once))
    elif kind == "state":
        store.change_state(code, text, by=None, at=AT, once=once)
    elif kind == "note":
        store.append("note", code, {"text": text}, by=None, at=AT, once=once)
    else:
        store.revise(code, {"text": text}, by=None, at=AT, why="", once=once)


def allowed(states: dict[str, str], prints: dict[str, int], kind: str, code: str, text: str) -> bool:
    """What the rules say of a step, worked out apart from the store."""
    state = states.get(code)
    if kind == "open":
        return state is None
    if state is None:
        return False
    if kind == "print":
        return state in ("open", "released")
    if kind == "state":
        ways = {"released": ("open",), "withdrawn": ("open", "released"),
                "recalled": ("open", "released", "withdrawn"), "cancelled": ("open",)}
        return state in ways[text] and not (text == "cancelled" and prints.get(code))
    return True


@settings(max_examples=60, deadline=None)
@given(st.lists(STEP.filter(lambda step: step[3] is None), max_size=14))
def test_any_sequence_leaves_the_state_that_the_rules_give(steps):
    states: dict[str, str] = {}
    prints: dict[str, int] = {}
    with tempfile.TemporaryDirectory() as folder, open_store(Path(folder) / "r.sqlite") as store:
        for kind, code, text, _ in steps:
            before = store.head()
            expected = allowed(states, prints, kind, code, text)
            try:
                act(store, kind, code, text, None)
                assert expected
                assert store.head() != before
            except (CodeTaken, InputError):
                assert not expected
                assert store.head() == before
                continue
            if kind in ("open", "state"):
                states[code] = "open" if kind == "open" else text
            prints[code] = prints.get(code, 0) + (kind == "print")
        assert {batch.code: batch.state for batch in store.batches()} == states
        assert {code: len(store.prints(code)) for code in prints} == prints
        assert not store.check(Path(folder)).errors


@settings(max_examples=40, deadline=None)
@given(st.lists(STEP, max_size=14))
def test_any_sequence_goes_out_and_back_unchanged(steps):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with open_store(folder / "r.sqlite") as store:
            for step in steps:
                try:
                    act(store, *step)
                except InputError:
                    continue
            heads = {store.backup(folder / "b"), store.export(folder / "e"), store.head()}
            events = store.events()
        assert len(heads) == 1
        for source in ("b", "e"):
            assert restore(folder / source, folder / f"{source}.sqlite") in heads
            with open_store(folder / f"{source}.sqlite") as again:
                assert again.events() == events
                assert not again.check(folder).errors


@settings(max_examples=60, deadline=None)
@given(st.lists(STEP.filter(lambda step: step[3] is not None), min_size=1, max_size=8))
def test_doing_everything_twice_changes_nothing(steps):
    with tempfile.TemporaryDirectory() as name, open_store(Path(name) / "r.sqlite") as store:
        for step in steps:
            outcomes = []
            for _ in range(2):
                try:
                    act(store, *step)
                    outcomes.append("done")
                except InputError as error:
                    outcomes.append(error.findings[0].rule)
                heads = store.head()
            assert outcomes[0] == outcomes[1]
            assert store.head() == heads
        keys = [(event.once["key"], event.once["step"]) for event in store.events() if event.once]
        assert len(keys) == len(set(keys))
