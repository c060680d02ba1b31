"""A record that is gone or emptied, and records that a sync folder laid side by side or over each other."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from record_samples import AT, fill_some, opening, order, rules

from labeltool.errors import InputError, MachineError
from labeltool.records.store import open_store, restore


@pytest.fixture
def filled(path):
    with open_store(path) as store:
        fill_some(store)
    return path


@pytest.mark.parametrize("how", ["emptied", "gone"])
@pytest.mark.parametrize("left", ["records.sqlite-wal", "prints/260503-A31-1.pdf"])
def test_a_lost_record_is_not_taken_for_a_new_one(filled, tmp_path, how, left):
    with open_store(filled) as store:
        store.backup(tmp_path / "backup")
        head = store.head()
    (filled.parent / "prints").mkdir()
    (filled.parent / left).write_bytes(b"something")
    filled.write_bytes(b"") if how == "emptied" else filled.unlink()
    for create in (True, False):
        with pytest.raises(MachineError, match=f"{left} lies beside it") as refused:
            open_store(filled, create=create)
        assert refused.value.findings[0].rule == "record.lost"
    assert not filled.exists() or filled.read_bytes() == b""
    assert (filled.parent / left).read_bytes() == b"something"
    if "wal" in left:
        with pytest.raises(MachineError, match="lies beside it"):
            restore(tmp_path / "backup", filled)
        (filled.parent / left).unlink()
    assert restore(tmp_path / "backup", filled) == head


@pytest.mark.parametrize("other", ["draft-cream.pdf", "notes.txt", ".unfinished"])
def test_what_any_new_workshop_may_hold_is_no_trace(path, other):
    (path.parent / "prints").mkdir()
    (path.parent / "prints" / other).write_bytes(b"x")
    with open_store(path) as store:
        assert store.head().startswith("0:")


def conflicted(path, *codes, name="records (conflicted copy).sqlite"):
    """A copy as another machine went on with it."""
    copy = path.with_name(name)
    shutil.copy(path, copy)
    with open_store(copy) as store:
        for code in codes:
            store.open_batch(opening(code))
    return copy


def found(path):
    with open_store(path) as store:
        return store.check(path.parent).errors


def test_two_machines_copies_are_named_with_what_each_holds_alone(filled):
    conflicted(filled, "260505-A25", "260505-B95")
    with open_store(filled) as store:
        store.open_batch(opening("260505-A25"))
    (finding,) = (item for item in found(filled) if item.rule == "record.copy")
    for words in ("2 event(s) from event 7 on", "1 event(s) of its own", "opened there: 260505-A25, 260505-B95",
                  "given out in both: 260505-A25"):
        assert words in finding.text
    with open_store(filled) as store:
        assert len(store.events()) == 7


def test_a_record_replaced_by_an_older_one_is_named(filled):
    ahead = conflicted(filled, "260505-A25", name="records.sync-conflict.sqlite")
    (finding,) = (item for item in found(filled) if item.rule == "record.copy")
    assert "this record ends there" in finding.text and finding.where.file == ahead.name


def test_backups_and_other_files_beside_the_record_are_no_fault(filled):
    with open_store(filled) as store:
        store.backup(filled.with_name("backup.sqlite"))
        store.open_batch(opening("260505-A25"))
    filled.with_name("other.sqlite").write_bytes(b"no database")
    assert not found(filled)


def test_a_copy_that_cannot_be_read_is_named(filled):
    filled.with_name("records-2.sqlite").write_bytes(b"SQLite format 3\0" + b"\xff" * 5000)
    with open_store(filled) as store:
        assert "record.copy-unreadable" in rules(store.check(filled.parent))


KILLED = """
import os, signal, sys
from pathlib import Path
sys.path.insert(0, {here!r})
from record_samples import opening
from labeltool.records.store import open_store
store = open_store(Path({path!r}))
for number in range(30):
    store.open_batch(opening(f"260506-{{number}}A", frozen={{"text": "x" * 900 + str(number)}}))
os.kill(os.getpid(), signal.SIGKILL)
"""


def events(path):
    with open_store(path) as store:
        return store.events()


def test_a_log_left_beside_another_machines_file_is_noticed_or_harmless(filled, tmp_path):
    """One machine died and left its log; the sync folder then laid the other machine's file over the record."""
    other = tmp_path / "other" / "records.sqlite"
    other.parent.mkdir()
    shutil.copy(filled, other)
    with open_store(other) as store:
        for number in range(60):
            store.open_batch(opening(f"260507-{number}A", frozen={"text": "y" * 700 + str(number)}))
            store.add_print(order(f"260507-{number}A"))
    script = KILLED.format(here=str(Path(__file__).parent), path=str(filled))
    died = subprocess.run([sys.executable, "-c", script], check=False)
    assert died.returncode == -signal.SIGKILL and os.path.getsize(f"{filled}-wal") > 10_000  # noqa: PTH202
    whole = tmp_path / "whole" / "records.sqlite"
    shutil.copytree(filled.parent, whole.parent, ignore=shutil.ignore_patterns("other"))
    shutil.copy(other, filled)
    try:
        noticed = found(filled)
    except MachineError as error:
        noticed = error.findings
    assert noticed or events(filled) in (events(whole), events(other))


def test_a_clock_that_goes_back_changes_no_order(filled):
    with open_store(filled) as store:
        store.change_state("260503A31", "released", by="AB", at="2020-01-01T00:00:00+00:00")
        store.change_state("260503A31", "recalled", by="AB", at="1999-01-01T00:00:00+00:00", why="clock")
        assert store.batch("260503A31").state == "recalled"
        assert [item.state for item in store.listed()] == ["recalled", "cancelled"]
        assert [event.number for event in store.events()] == list(range(1, 9))
    assert not found(filled)


def test_flipped_bits_are_found_and_the_backup_brings_the_last_good_state_back(filled, tmp_path, samples):
    """One bit anywhere: named by opening or by check, or it changed nothing that the record says."""
    with open_store(filled) as store:
        head = store.backup(tmp_path / "backup")
        before = store.events()
    good, noticed = filled.read_bytes(), 0
    for number in range(samples(60)):
        data = bytearray(good)
        data[(number * 7919) % len(data)] ^= 1 << number % 8
        filled.write_bytes(bytes(data))
        try:
            with open_store(filled) as store:
                faults = store.check(filled.parent, head).errors
                assert faults or store.events() == before
        except (MachineError, InputError) as error:
            faults = error.findings
        noticed += bool(faults)
        for name in ("-wal", "-shm"):
            filled.with_name(filled.name + name).unlink(missing_ok=True)
    assert noticed > 5
    filled.unlink()
    assert restore(tmp_path / "backup", filled) == head
    assert events(filled) == before


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8, 0.99])
def test_a_file_cut_short_is_found(filled, share):
    data = filled.read_bytes()
    filled.write_bytes(data[:int(len(data) * share)])
    try:
        with open_store(filled) as store:
            assert store.check(filled.parent).errors
            store.append("note", None, {}, by=None, at=AT)
    except MachineError as error:
        assert error.findings[0].rule in ("record.damaged", "record.schema", "record.failed")
