from __future__ import annotations

import random
from dataclasses import replace

import pytest
from bench_samples import MADE, bench, correction

from labeltool.batch.accept import Rules, accept
from labeltool.batch.bench import after
from labeltool.batch.counting import FATES
from labeltool.batch.model import Bench, Correction, Counted, Filled, Logged
from labeltool.batch.reconcile import Printed, accounts, reconciliation, to_print

PRINTS = {1: {"back": 24}, 2: {"front": 9, "back": 9}}
RULES = Rules({}, MADE, prints=PRINTS)


def counted(start: Bench, entry, rules: Rules = RULES) -> tuple[Bench, list[str]]:
    """The bench after a count was offered, and the texts of what was against it."""
    settled, found = accept(start, entry, rules)
    texts = [f"{item.rule}: {item.text} {item.limit or ''} {item.do or ''}" for item in found.errors]
    return (start if texts else after(start, Logged(settled, ""))), texts


def test_a_count_finds_the_one_label_of_its_print():
    state, texts = counted(bench(), Counted(1, "spoiled", 2))
    assert not texts and state.count(1, "back", "spoiled") == 2 and state.count(1, "back", "left") is None
    state, texts = counted(state, Counted(2, "left", 3, "FRONT"))
    assert not texts and state.count(2, "front", "left") == 3


@pytest.mark.parametrize(("entry", "words"), [
    (Counted(3, "spoiled", 1), "no print 3 prints 1, 2"), (Counted(2, "spoiled", 1), "--spoiled 2/front=1"),
    (Counted(1, "left", 25), "24 were printed"), (Counted(1, "left", 1, "lid"), "not lid"),
    (correction(Counted(1, "left", 3)), "no count of left labels"),
])
def test_a_count_that_cannot_be_is_refused(entry, words):
    state, texts = counted(bench(), entry)
    assert len(texts) == 1 and words in texts[0] and state == bench()


def test_a_second_count_of_the_same_place_is_a_correction():
    state, _ = counted(bench(), Counted(1, "spoiled", 2))
    same, texts = counted(state, Counted(1, "spoiled", 3))
    assert same == state and "--correct spoiled=1/back=3 --why TEXT" in texts[0]
    state, texts = counted(state, correction(Counted(1, "spoiled", 3)))
    assert not texts and state.count(1, "back", "spoiled") == 3
    assert counted(state, Counted(1, "left", 22))[1] and not counted(state, Counted(1, "left", 21))[1]


def day(chance: random.Random) -> None:
    """A random day: packs filled and refilled, labels printed as many as are lacking, some spoiled, some destroyed."""
    state, printed = bench(), {}
    truth = dict.fromkeys(("used", "good"), 0)
    for _ in range(chance.randrange(1, 12)):
        what = chance.choice(("fill", "print", "spoil", "destroy"))
        if what == "fill":
            entry = Filled(chance.randrange(0, 40))
            state, texts = counted(state, Correction(entry, "refilled") if state.filled else entry)
            assert not texts
        elif what == "print":
            more = chance.choice((to_print(state.filled, rows(state, printed), "", "back"), chance.randrange(1, 30)))
            printed |= {len(printed) + 1: more} if more else {}
            truth["good"] += more or 0
        elif printed:
            number = chance.choice(list(printed))
            fate = "spoiled" if what == "spoil" else "destroyed"
            before = state.count(number, "back", fate)
            free = printed[number] - sum(state.count(number, "back", one) or 0 for one in FATES)
            count = chance.randrange(0, free + 2)
            entry = Counted(number, fate, (before or 0) + count)
            offered = entry if before is None else correction(entry)
            then, texts = counted(state, offered, rules(printed))
            assert bool(texts) == (count > free)
            truth["good"] -= 0 if texts else count
            state = then
    reconciled(state, printed, truth["good"], chance)


def rules(printed: dict[int, int]) -> Rules:
    return replace(RULES, prints={number: {"back": labels} for number, labels in printed.items()})


def rows(state: Bench, printed: dict[int, int]) -> list[Printed]:
    return [Printed("", "back", labels, *(state.count(number, "back", fate) for fate in FATES))
            for number, labels in printed.items()]


def reconciled(state: Bench, printed: dict[int, int], good: int, chance: random.Random) -> None:
    """In the evening what is left is counted: every label printed is used, spoiled, left or destroyed."""
    filled = dict(state.filled).get("")
    over = max(0, good - (filled or 0))
    wrong = chance.choice((0, 0, 1)) if over else 0
    for number, labels in printed.items():
        free = labels - sum(state.count(number, "back", fate) or 0 for fate in FATES)
        left = min(over, free)
        over -= left
        state, texts = counted(state, Counted(number, "left", left - (wrong if left else 0)), rules(printed))
        wrong = 0 if left else wrong
        assert not texts
    for item in accounts(state.filled, rows(state, printed)):
        assert item.printed == item.used + item.spoiled + item.left + item.destroyed == sum(printed.values())
        assert item.usable == good and to_print(state.filled, rows(state, printed), "", "back") == (
            None if filled is None else max(0, filled - good))
        if filled is not None:
            said = {found.rule for found in reconciliation(state.filled, rows(state, printed))}
            assert ("labels.too-few" in said) == (good < filled)
            assert ("labels.differ" in said) == (good >= filled and item.used != filled)


def test_counts_of_a_random_day_reconcile(samples):
    for seed in range(samples(300)):
        day(random.Random(seed))
