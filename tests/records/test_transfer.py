from __future__ import annotations

import json
import sqlite3

import pytest
from record_samples import AT, fill_some, keyed, opening, raw

from labeltool.errors import InputError, MachineError
from labeltool.records.store import open_store, restore

TABLES = ("event", "asset", "opened", "changed", "printed", "mention", "named")
KINDS = ("backup", "export")


@pytest.fixture
def filled(path):
    with open_store(path) as store:
        fill_some(store)
        store.append("note", None, {"text": "ü \u2028 🧴 \"'\\ \r\n"}, by="AB", at=AT, once=keyed())
    return path


def copied(path, kind, name="copy"):
    target = path.parent / name
    with open_store(path) as store:
        return target, getattr(store, kind)(target)


def contents(path):
    with sqlite3.connect(path) as connection:
        found = {table: sorted(connection.execute(f"SELECT * FROM {table}")) for table in TABLES}
    connection.close()
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_the_way_out_and_back_keeps_every_byte_and_the_head(filled, tmp_path, kind):
    copy, head = copied(filled, kind)
    again = tmp_path / "again" / "records.sqlite"
    again.parent.mkdir()
    assert restore(copy, again) == head
    assert contents(again) == contents(filled)
    with open_store(again) as store:
        assert not store.check(filled.parent).errors
        assert store.answered(keyed()).done
        store.open_batch(opening("260505-A25"))
    assert [item.name for item in again.parent.iterdir()] == ["records.sqlite"]


@pytest.mark.parametrize("kind", KINDS)
def test_an_empty_record_goes_there_and_back(path, tmp_path, kind):
    open_store(path).close()
    copy, head = copied(path, kind)
    assert restore(copy, tmp_path / "again.sqlite") == head == "0:" + "0" * 64


def test_a_backup_is_one_file_that_opens_as_a_record(filled):
    copy, head = copied(filled, "backup")
    names = {item.name for item in filled.parent.iterdir()}
    assert names == {"records.sqlite", "copy"}
    assert copy.read_bytes()[18:20] == b"\x01\x01"  # file format 1.3.3: a rollback journal, no log beside it
    with open_store(copy) as store:
        assert store.head() == head


def test_a_backup_is_taken_while_others_write(filled):
    other = sqlite3.connect(filled, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    copy, head = copied(filled, "backup")
    other.execute("ROLLBACK")
    other.close()
    assert head.startswith("7:")
    assert copy.exists()


def test_an_export_is_lines_of_json_with_every_asset(filled):
    copy, head = copied(filled, "export")
    lines = [json.loads(line) for line in copy.read_text(encoding="utf-8").split("\n")[:-1]]
    assert lines[0]["head"] == head.partition(":")[2]
    assert sum("event" in line for line in lines) == 7
    assert {line["asset"]["kind"] for line in lines if "asset" in line} == {"inputs", "frame", "label-text", "font"}
    with open_store(filled) as store:
        assert "".join(store.export_lines()).encode("utf-8") == copy.read_bytes()


@pytest.mark.parametrize("kind", KINDS)
def test_a_full_record_is_never_restored_over(filled, kind):
    copy, _ = copied(filled, kind)
    before = contents(filled)
    with pytest.raises(InputError, match="already holds a record"):
        restore(copy, filled)
    assert contents(filled) == before


@pytest.mark.parametrize("kind", KINDS)
def test_an_empty_record_is_filled_in_place(filled, tmp_path, kind):
    copy, head = copied(filled, kind)
    target = tmp_path / "empty.sqlite"
    open_store(target).close()
    assert restore(copy, target) == head


TAMPER = [
    "UPDATE event SET body = replace(body, 'thick', 'thinn')",
    "DELETE FROM event WHERE number = 3",
    "UPDATE asset SET data = replace(data, 'another', 'anither')",
    "UPDATE event SET batch = NULL WHERE number = 3",
]


@pytest.mark.parametrize("statement", TAMPER)
def test_an_altered_backup_is_refused_and_leaves_nothing(filled, tmp_path, statement):
    copy, _ = copied(filled, "backup")
    raw(copy, statement)
    target = tmp_path / "again.sqlite"
    with pytest.raises(InputError) as refused:
        restore(copy, target)
    assert refused.value.findings[0].rule == "record.source"
    assert not list(tmp_path.glob("again*"))


@pytest.mark.parametrize("change", [
    lambda lines: lines[:-1],
    lambda lines: lines[:-2] + lines[-1:],
    lambda lines: [lines[0], *lines[2:]],
    lambda lines: lines + lines[-1:],
    lambda lines: [line.replace("thick", "thinn") for line in lines],
    lambda lines: [lines[0], "not json", *lines[1:]],
    lambda lines: [lines[0], "[]", *lines[1:]],
    lambda lines: [lines[0], '{"event": {}}', *lines[1:]],
    lambda lines: [lines[0], '{"event": {"body": "{}", "hash": "", "previous": ""}}', *lines[1:]],
    lambda lines: [lines[0], '{"asset": {"sha256": 1}}', *lines[1:]],
    lambda lines: lines[1:],
    lambda lines: [lines[0].replace('"format":1', '"format":2'), *lines[1:]],
    lambda lines: [],
])
def test_an_altered_export_is_refused_and_leaves_nothing(filled, tmp_path, change):
    copy, _ = copied(filled, "export")
    lines = copy.read_text(encoding="utf-8").split("\n")[:-1]
    copy.write_text("".join(line + "\n" for line in change(lines)), encoding="utf-8")
    with pytest.raises(InputError):
        restore(copy, tmp_path / "again.sqlite")
    assert not list(tmp_path.glob("again*"))


def with_new_end(lines: list[str]) -> str:
    """The same lines under an honest last line, so that only the chain can object."""
    import hashlib

    body = "".join(line + "\n" for line in lines[:-1])
    end = {"lines": len(lines) - 1, "sha256": hashlib.sha256(body.encode()).hexdigest()}
    return body + json.dumps({"end": end}) + "\n"


@pytest.mark.parametrize("change", [
    lambda lines: [line.replace("thick", "thinn") for line in lines],
    lambda lines: [line.replace("another", "anither") for line in lines],
    lambda lines: [*lines[:-2], lines[-1]],
    lambda lines: [*lines[:-3], lines[-2], lines[-3], lines[-1]],
    lambda lines: [lines[0], lines[1], *lines[1:]],
    lambda lines: [line for line in lines if '"open' not in line],
])
def test_a_forged_end_does_not_help(filled, tmp_path, change):
    copy, _ = copied(filled, "export")
    copy.write_text(with_new_end(change(copy.read_text(encoding="utf-8").split("\n")[:-1])), encoding="utf-8")
    with pytest.raises(InputError):
        restore(copy, tmp_path / "again.sqlite")
    assert not list(tmp_path.glob("again*"))


@pytest.mark.parametrize("content", [b"", b"%PDF", b"SQLite format 3\0 and nothing more", b"\xff\xfe\n", b"{}\n"])
def test_what_is_neither_is_refused(tmp_path, content):
    (tmp_path / "source").write_bytes(content)
    for source in ("source", "missing", "."):
        with pytest.raises(InputError):
            restore(tmp_path / source, tmp_path / "again.sqlite")
    assert not list(tmp_path.glob("again*"))


def test_a_newer_backup_is_refused_with_that_reason(filled, tmp_path):
    copy, _ = copied(filled, "backup")
    raw(copy, "UPDATE record SET value = '3'")
    with pytest.raises(InputError, match="newer labeltool"):
        restore(copy, tmp_path / "again.sqlite")


@pytest.mark.parametrize("kind", KINDS)
def test_an_altered_record_is_not_carried_into_a_copy(filled, kind):
    copy, _ = copied(filled, kind)
    before = copy.read_bytes()
    raw(filled, "UPDATE event SET body = replace(body, 'thick', 'thinn')")
    with open_store(filled) as store, pytest.raises(MachineError, match="altered"):
        getattr(store, kind)(copy)
    assert copy.read_bytes() == before
    assert {item.name for item in filled.parent.iterdir()} == {"records.sqlite", "copy"}


@pytest.mark.parametrize("kind", KINDS)
def test_a_copy_replaces_only_what_it_holds_all_of(filled, tmp_path, kind):
    copy, _ = copied(filled, kind)
    with open_store(filled) as store:
        store.open_batch(opening("260505-A25"))
        longer = getattr(store, kind)(copy)
    assert longer.startswith("8:")
    with open_store(tmp_path / "fresh.sqlite") as fresh, pytest.raises(InputError, match="does not hold") as refused:
        getattr(fresh, kind)(copy)
    assert refused.value.findings[0].rule == "record.backup-ahead"


@pytest.mark.parametrize("kind", KINDS)
def test_a_copy_never_replaces_another_file(filled, kind):
    folder = filled.parent
    (folder / "formula.toml").write_text("[product]\n")
    (folder / "inner").mkdir()
    for name in ("formula.toml", "inner", "records.sqlite", "nowhere/copy"):
        with open_store(filled) as store, pytest.raises(InputError):
            getattr(store, kind)(folder / name)
    assert (folder / "formula.toml").read_text() == "[product]\n"
    assert {item.name for item in folder.iterdir()} == {"records.sqlite", "formula.toml", "inner"}
