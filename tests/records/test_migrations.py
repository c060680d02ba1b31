"""Records of earlier formats, opened by today's version; format_1.* were written by the version that made them."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from record_samples import opening, order, raw

from labeltool.errors import MachineError
from labeltool.records.store import open_store, restore

HERE = Path(__file__).parent
HEAD = (HERE / "format_1.jsonl").read_text(encoding="utf-8").partition('"head":"')[2][:64]


@pytest.fixture
def old(path):
    connection = sqlite3.connect(path)
    connection.executescript((HERE / "format_1.sql").read_text(encoding="utf-8"))
    connection.close()
    return path


def test_an_old_record_is_opened_and_keeps_every_event(old):
    with open_store(old, create=False) as store:
        assert store.head() == f"7:{HEAD}"
        assert not store.check(old.parent).errors
        assert [(item.code, item.state, item.labels, item.prints) for item in store.listed()] == [
            ("260503-A31", "open", 36, 2), ("260503-B04", "cancelled", 0, 0)]
        assert [batch.code for batch in store.batches_with(["Linalool"])] == ["260503-A31"]
        assert [batch.code for batch in store.batches_with(["w-7"])] == ["260503-A31"]
        store.open_batch(opening("260505-A25"))
        store.add_print(order("260505-A25"))
        assert not store.check(old.parent).errors


def test_the_step_is_on_record_by_name(old):
    open_store(old).close()
    with sqlite3.connect(old) as connection:
        found = connection.execute("SELECT value FROM record WHERE name = 'migration 2'").fetchall()
    connection.close()
    assert found == [("index-of-prints-and-words",)]


def test_an_old_record_exports_as_it_did(old):
    with open_store(old) as store:
        assert "".join(store.export_lines()) == (HERE / "format_1.jsonl").read_text(encoding="utf-8")


@pytest.mark.parametrize("kind", ["export", "backup"])
def test_an_old_copy_is_restored(old, tmp_path, kind):
    source = HERE / "format_1.jsonl" if kind == "export" else old
    assert restore(source, tmp_path / "again.sqlite") == f"7:{HEAD}"
    with open_store(tmp_path / "again.sqlite") as store:
        assert not store.check(tmp_path).errors
        assert sum(item.labels for item in store.listed()) == 36


def test_an_old_record_that_does_not_prove_is_left_as_it_is(old):
    raw(old, "UPDATE event SET body = replace(body, 'thick', 'thinn')")
    before = old.read_bytes()
    with pytest.raises(MachineError, match="event 4 of the record has been altered"):
        open_store(old)
    assert old.read_bytes() == before
