"""What a bench does costs the same on a large record as on a small one: counted in the database's own steps."""

from __future__ import annotations

import datetime as dt

import pytest
from record_samples import AT, opening, order

from labeltool.records.store import open_store

SMALL, LARGE = 20, 400
EVERY = 20  # steps between two counts


def filled(path, count):
    with open_store(path) as store, store.together():
        for number in range(count):
            code = f"26{number % 12 + 1:02}03-{number:04}A"
            store.open_batch(opening(code, stem=code[:6], formula_key=f"f-{number}", made=dt.date(2026, 1, 1)))
            store.append("bench", code, {"entry": {"material": f"m-{number}", "lot": f"L-{number}"}}, by=None, at=AT)
            store.append("lot", None, {"lot": f"L-{number}", "material": f"m-{number}"}, by=None, at=AT)
            store.add_print(order(code, sha256=f"{number:064}"))
    return path


@pytest.fixture(scope="module")
def records(tmp_path_factory):
    folder = tmp_path_factory.mktemp("scale")
    return [filled(folder / f"{count}.sqlite", count) for count in (SMALL, LARGE)]


CODE = "260603-0005A"
VERBS = {
    "find": lambda store: store.batch(CODE),
    "find typed": lambda store: store.batch(CODE.lower()),
    "find nothing": lambda store: store.code_of("X"),
    "prints": lambda store: store.prints(CODE),
    "outlines": lambda store: store.outlines_of(CODE.replace("-", "")),
    "events": lambda store: store.events(CODE),
    "events of a kind": lambda store: store.events(CODE, "bench"),
    "same day": lambda store: store.same_day("f-5", dt.date(2026, 1, 1)),
    "a lot's batches": lambda store: store.batches_with(["L-5"]),
    "a lot": lambda store: store.events_with("lot", ["L-5"]),
    "files": lambda store: store.files_of(f"{5:064}"),
    "once": lambda store: store.once("k"),
    "head": lambda store: store.head(),
    "open": lambda store: store.open_batch(opening("270101-A00", stem="270101")),
    "print": lambda store: store.add_print(order(CODE)),
    "release": lambda store: store.change_state(CODE, "released", by="A", at=AT),
    "note": lambda store: store.append("note", CODE, {"text": "x"}, by="A", at=AT),
}


def steps(path, verb):
    """The steps that a verb takes, taken back afterwards."""
    with open_store(path) as store:
        counted = []
        store._db._connection.set_progress_handler(lambda: counted.append(1) and 0, EVERY)
        try:
            with store.together():
                verb(store)
                raise ZeroDivisionError
        except ZeroDivisionError:
            return len(counted)


@pytest.mark.parametrize("name", VERBS)
def test_a_verb_takes_no_more_steps_on_a_large_record(records, name):
    small, large = (steps(path, VERBS[name]) for path in records)
    assert large <= 1.25 * small + 2, (small, large)
