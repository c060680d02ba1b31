from __future__ import annotations

from dataclasses import replace

import pytest
from record_samples import AT, WORDS, keyed, opening, order

from labeltool.errors import InputError


@pytest.fixture
def batch(store):
    return store.open_batch(opening())


def superseded(store) -> list[bool]:
    return [row.superseded for row in store.prints("260503A31")]


def test_prints_are_numbered_by_batch_and_come_back_whole(store, batch):
    store.open_batch(opening("260503-B04"))
    wanted = order(pack="30ml", skip=3, places=(4, 9), printer="office", correction={"nudge": [0.4, -0.3]}, why="torn",
                   reset=True, extra={"payload": "HTTPS://X", "versions": {"reportlab": "5.1"}})
    numbers = [store.add_print(item).number for item in (order(), wanted, order("260503-B04"))]
    assert numbers == [1, 2, 1]
    row = store.print_by("260503A31", 2)
    for name in ("pack", "skip", "places", "printer", "correction", "why", "reset", "extra", "stock", "frames", "text",
                 "words", "sha256", "markets", "languages", "labels", "sheets", "artworks", "at", "by"):
        assert getattr(row, name) == getattr(wanted, name), name
    assert row.file == "prints/260503-A31-2.pdf"
    assert store.print_by("260503A31", 3) is None
    assert store.print_by("260503A31", 0) is None


def test_add_print_returns_what_is_read_later(store, batch):
    assert store.add_print(order()) == store.prints("260503A31")[0]


@pytest.mark.parametrize("state", ["withdrawn", "recalled", "cancelled"])
def test_no_label_for_a_batch_taken_back(store, batch, state):
    store.change_state("260503A31", state, by="AB", at=AT, why="smell")
    with pytest.raises(InputError, match=f"is {state}"):
        store.add_print(order())
    assert store.prints("260503A31") == ()


def test_a_released_batch_prints(store, batch):
    store.change_state("260503A31", "released", by="AB", at=AT)
    assert store.add_print(order()).number == 1


@pytest.mark.parametrize("change", [{"declaration": "Aqua"}, {"warnings": ()}, {"date": "10/2027"}])
def test_a_later_print_with_other_words_supersedes(store, batch, change):
    store.add_print(order())
    store.add_print(order())
    assert superseded(store) == [False, False]
    store.add_print(order(words=replace(WORDS, **change)))
    assert superseded(store) == [True, True, False]


def test_other_artwork_or_stock_supersedes_nothing(store, batch):
    store.add_print(order())
    store.add_print(order(artworks=("front",), stock={"name": "roll"}, labels=1, reset=True))
    assert superseded(store) == [False, False]


def test_a_reprint_of_old_words_is_superseded_and_supersedes_nothing(store, batch):
    store.add_print(order())
    store.add_print(order(words=replace(WORDS, date="10/2027")))
    store.add_print(order(reprint_of=1, why="torn"))
    store.add_print(order(words=replace(WORDS, date="10/2027"), reprint_of=2, why="torn"))
    store.add_print(order(reprint_of=3, why="torn"))
    assert superseded(store) == [True, False, True, False, True]


def test_labels_for_other_readers_differ_without_superseding(store, batch):
    store.add_print(order(markets=("UK",), languages=("en",)))
    german = replace(WORDS, warnings=("Nur zur äußerlichen Anwendung.",))
    store.add_print(order(markets=("EU",), languages=("de",), words=german))
    assert superseded(store) == [False, False]
    store.add_print(order(markets=("UK", "EU"), languages=("en", "de"), words=replace(WORDS, declaration="Aqua")))
    assert superseded(store) == [True, True, False]


def test_equal_frames_are_kept_once(store, batch):
    store.add_print(order())
    store.add_print(order())
    assert len({event.data["frames"][0] for event in store.events(kind="print")}) == 1


def test_printing_again_by_id_or_once_answers_with_the_first_row(store, batch):
    first = store.add_print(order(once=keyed(), id="op-1"))
    assert store.add_print(order(labels=99, once=keyed())) == first
    assert store.add_print(order(labels=99, id="op-1")) == first
    assert len(store.prints("260503A31")) == 1


def test_a_key_answers_with_its_first_print_whatever_batch_is_named_now(store, batch):
    store.open_batch(opening("260503-B04"))
    first = store.add_print(order(once=keyed()))
    assert store.add_print(order("260503-B04", once=keyed())) == first
    assert store.prints("260503B04") == ()
