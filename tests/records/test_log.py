from __future__ import annotations

import hashlib
import json
import sqlite3

import pytest
from record_samples import AT, fill_some, keyed, opening, order, raw

from labeltool.errors import InputError, MachineError
from labeltool.records.model import Once
from labeltool.records.store import open_store


def test_each_body_is_the_text_that_was_hashed(store, path):
    fill_some(store)
    previous = "0" * 64
    with sqlite3.connect(path) as connection:
        rows = connection.execute("SELECT number, body, previous, hash FROM event ORDER BY number").fetchall()
    for place, (number, body, before, digest) in enumerate(rows, start=1):
        assert (number, before) == (place, previous)
        assert hashlib.sha256(f"{previous}\n{body}".encode()).hexdigest() == digest
        assert json.dumps(json.loads(body), sort_keys=True, separators=(",", ":"), ensure_ascii=False) == body
        previous = digest
    assert store.head() == f"{len(rows)}:{previous}"


def test_every_event_has_an_id_of_its_own_or_the_callers(store):
    fill_some(store)
    store.append("note", None, {}, by=None, at=AT, id="mine")
    ids = [event.id for event in store.events()]
    assert len(set(ids)) == len(ids)
    assert ids[-1] == "mine"


def test_events_by_batch_and_kind(store):
    fill_some(store)
    assert [event.kind for event in store.events("260503-A31")] == ["open", "print", "note", "print"]
    assert [event.data for event in store.events(kind="note")] == [{"text": "thick", "lot": "W-7"}]
    assert [event.kind for event in store.events("260503B04", "state")] == ["state"]
    with pytest.raises(InputError, match="no batch X"):
        store.events("X")


@pytest.mark.parametrize("kind", ["open", "state", "revise", "print"])
def test_kinds_with_a_verb_are_not_appended_otherwise(store, kind):
    with pytest.raises(ValueError, match="verb"):
        store.append(kind, None, {}, by=None, at=AT)


@pytest.mark.parametrize("statement", [
    "UPDATE event SET body = '{}' WHERE number = 1",
    "DELETE FROM event WHERE number = 1",
    "REPLACE INTO event SELECT * FROM event WHERE number = 1",
    "INSERT OR REPLACE INTO event SELECT number + 7, id, kind, NULL, NULL, NULL, NULL, body, previous, hash FROM event",
    "INSERT INTO event SELECT number + 70, 'x', kind, NULL, NULL, NULL, NULL, body, 'x', 'x' FROM event LIMIT 1",
    "UPDATE asset SET data = ''",
    "DELETE FROM asset",
    "REPLACE INTO asset SELECT sha256, kind, coding, '' FROM asset",
    "UPDATE opened SET code = 'X'",
    "DELETE FROM opened",
    "REPLACE INTO opened SELECT code_key, 'X', stem, formula, made, event, product, version, 1, 'X' FROM opened",
    "UPDATE changed SET state = 'open'",
    "DELETE FROM changed",
    "REPLACE INTO changed SELECT batch, event, 'open' FROM changed",
    "UPDATE printed SET labels = 1",
    "DELETE FROM printed",
    "REPLACE INTO printed SELECT batch, nth, event, 1, file, sha256 FROM printed",
    "DELETE FROM mention",
    "UPDATE mention SET word = 'x'",
    "DELETE FROM named",
    "UPDATE named SET word = 'x'",
])
def test_nothing_on_record_is_changed_deleted_or_replaced(store, path, statement):
    fill_some(store)
    with sqlite3.connect(path) as other, pytest.raises(sqlite3.IntegrityError, match="on record is never"):
        other.execute(statement)
    other.close()


@pytest.mark.parametrize("text", ["a\0b", "lone \ud800", "\udfff", {"key \0": 1}, ["deep", ["\udc80"]]])
def test_text_no_record_can_hold_is_refused(store, text):
    with pytest.raises(InputError) as refused:
        store.append("note", None, {"text": text}, by=None, at=AT)
    assert refused.value.findings[0].rule == "record.text"
    assert store.head().startswith("0:")


def test_a_number_that_is_none_is_refused(store):
    with pytest.raises(InputError, match="figure"):
        store.append("note", None, {"x": float("nan")}, by=None, at=AT)


def test_escapes_that_only_look_like_nul_are_kept(store):
    store.append("note", None, {"text": "\\u0000 \\0 \u2028 \x7f 🧴"}, by=None, at=AT)
    assert store.events()[0].data == {"text": "\\u0000 \\0 \u2028 \x7f 🧴"}


def test_the_same_key_and_arguments_answer_with_the_first_result(store):
    store.open_batch(opening())
    assert store.once("k-1") is None
    store.append("note", "260503A31", {"text": "one"}, by="AB", at=AT, once=keyed())
    again = store.append("note", "260503A31", {"text": "two"}, by="AB", at=AT, once=keyed())
    assert again.data == {"text": "one"}
    assert len(store.events(kind="note")) == 1
    known = store.once("k-1")
    assert (known.done, known.result, known.steps) == (True, {"outcome": "{'text': 'one'}"}, (("", 2),))
    assert store.answered(keyed()) == known


def test_the_same_key_with_other_arguments_is_refused(store):
    store.open_batch(opening(once=keyed(args={"count": 24})))
    for attempt in (
        lambda once: store.open_batch(opening("260503-B04", once=once)),
        lambda once: store.add_print(order(once=once)),
        lambda once: store.append("note", None, {}, by=None, at=AT, once=once),
        lambda once: store.change_state("260503A31", "released", by=None, at=AT, once=once),
        lambda once: store.revise("260503A31", {}, by=None, at=AT, why="x", once=once),
        lambda once: store.answered(once),
    ):
        with pytest.raises(InputError, match="other arguments") as refused:
            attempt(keyed(args={"count": 25}))
        assert refused.value.exit_code == 2
    assert len(store.events()) == 1


def test_one_key_goes_with_one_kind_of_operation(store):
    store.open_batch(opening(once=keyed()))
    with pytest.raises(InputError, match="another operation"):
        store.append("note", None, {}, by=None, at=AT, once=keyed())


def test_an_operation_of_several_steps_goes_on_where_it_died(store):
    store.open_batch(opening(once=Once("k-1", "args", "open")))
    assert store.once("k-1").done is False
    store.open_batch(opening("260503-B04", once=Once("k-1", "args", "open")))
    last = Once("k-1", "args", "print", answer=lambda row: {"number": row.number, "file": row.file})
    store.add_print(order(once=last))
    known = store.once("k-1")
    assert known.done
    assert known.result == {"number": 1, "file": "prints/260503-A31-1.pdf"}
    assert [step for step, _ in known.steps] == ["open", "print"]
    assert store.all_codes() == ("260503-A31",)


def test_states_changed_once_stay_changed_once(store):
    for code in ("260503-A31", "260503-B04"):
        store.open_batch(opening(code))
    once = Once("k-1", "args", answer=lambda batches: [batch.code for batch in batches])
    for _ in range(2):
        found = store.change_states(["260503A31", "260503B04"], "recalled", by="AB", at=AT, why="glass", once=once)
        assert [batch.state for batch in found] == ["recalled", "recalled"]
    assert len(store.events(kind="state")) == 2
    assert store.once("k-1").result == ["260503-A31", "260503-B04"]


def test_reading_an_altered_event_is_refused(store, path):
    fill_some(store)
    store.close()
    raw(path, "UPDATE event SET body = replace(body, 'thick', 'thinn') WHERE kind = 'note'")
    with open_store(path) as again:
        with pytest.raises(MachineError, match="event 4 of the record has been altered"):
            again.events(kind="note")
        assert len(again.batches()) == 2


def test_reading_an_altered_asset_is_refused(store, path):
    fill_some(store)
    store.close()
    raw(path, "UPDATE asset SET data = replace(data, 'another', 'anither')")
    with open_store(path) as again, pytest.raises(MachineError, match="altered"):
        again.batches()


def test_assets_of_any_bytes_are_kept_once(store):
    for data in (b"", b"text", "ü\r\n".encode(), bytes(range(256)), b"a\0b", b"\xff\xfe"):
        name = store.add_asset("logo", data)
        assert name == hashlib.sha256(data).hexdigest()
        assert store.add_asset("logo", data) == name
        assert store.asset(name) == data
    with pytest.raises(MachineError, match="gone"):
        store.asset("0" * 64)
