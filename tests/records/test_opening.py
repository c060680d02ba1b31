from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from record_samples import AT, fill_some, opening, raw

from labeltool.errors import InputError, MachineError
from labeltool.records.store import open_store


def refusal(path: Path, **options: object) -> str:
    """The rule under which opening, reading and writing the record fails."""
    with pytest.raises(MachineError) as refused, open_store(path, **options) as store:
        store.batches()
        store.append("note", None, {}, by=None, at=AT)
    assert refused.value.exit_code == 3
    assert refused.value.findings[0].do
    return refused.value.findings[0].rule


def test_a_missing_record_is_made_or_named(path):
    with pytest.raises(InputError, match="no record yet"):
        open_store(path, create=False)
    assert not path.exists()
    with open_store(path) as store:
        assert store.batches() == ()
    with open_store(path, create=False) as store:
        assert store.head() == "0:" + "0" * 64


def test_an_empty_file_becomes_a_record(path):
    path.write_bytes(b"")
    with open_store(path) as store:
        fill_some(store)
        assert not store.check(path.parent).errors


def test_the_closed_record_is_one_file(path):
    with open_store(path) as store:
        fill_some(store)
    assert [item.name for item in path.parent.iterdir()] == ["records.sqlite"]


def test_a_newer_record_is_refused_with_that_reason_and_left_alone(path):
    with open_store(path) as store:
        fill_some(store)
    raw(path, "UPDATE record SET value = '3'")
    before = path.read_bytes()
    with pytest.raises(MachineError, match="newer labeltool: its format is 3, known here is 2"):
        open_store(path)
    assert path.read_bytes() == before


@pytest.mark.parametrize("content", [b"not a database at all", b"SQLite format 3\0" + b"\xff" * 5000])
def test_a_file_that_is_no_database_is_refused_and_left_alone(path, content):
    path.write_bytes(content)
    assert refusal(path) == "record.damaged"
    assert path.read_bytes() == content


def test_another_programs_database_is_refused_and_left_alone(path):
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE recipes (name TEXT)")
    connection.close()
    before = path.read_bytes()
    assert refusal(path) == "record.foreign"
    assert path.read_bytes() == before


def test_a_folder_in_its_place_is_named(path):
    path.mkdir()
    assert refusal(path) == "record.unwritable"


def test_a_folder_that_does_not_exist_is_named(tmp_path):
    assert refusal(tmp_path / "nowhere" / "records.sqlite") == "record.unwritable"


def test_a_locked_record_is_waited_for_and_then_named(path):
    open_store(path).close()
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    assert refusal(path, wait_s=0.2) == "record.locked"
    other.execute("ROLLBACK")
    other.close()
    with open_store(path, wait_s=0.2) as store:
        store.open_batch(opening())


def everything(path):
    with open_store(path) as store:
        return store.events()


@pytest.mark.parametrize("place", range(12))
def test_a_record_torn_in_any_page_never_ends_in_a_traceback(path, place):
    with open_store(path) as store:
        for number in range(40):
            store.open_batch(opening(f"260503-{number}A", frozen={"text": "x" * 3000 + str(number)}))
    events = everything(path)
    data = bytearray(path.read_bytes())
    start = len(data) * place // 12
    data[start:start + 3000] = b"\xa5" * 3000
    path.write_bytes(data)
    try:
        with open_store(path) as store:
            found = store.check(path.parent)
            assert found.errors or store.events() == events
    except MachineError as error:
        assert error.findings[0].rule in ("record.damaged", "record.foreign", "record.newer")


FULL = """
import resource, sys
from pathlib import Path
sys.path.insert(0, {here!r})
from record_samples import opening
from labeltool.errors import MachineError
from labeltool.records.store import open_store
with open_store(Path({path!r})) as store:
    resource.setrlimit(resource.RLIMIT_FSIZE, (400_000, 400_000))
    for number in range(1000):
        try:
            store.open_batch(opening(f"260503-{{number}}A", frozen={{"text": "x" * 20_000 + str(number)}}))
        except MachineError as error:
            print(number, error.findings[0].rule)
            break
"""


def test_a_file_that_may_not_grow_loses_nothing(path):
    script = FULL.format(here=str(Path(__file__).parent), path=str(path))
    result = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    count, rule = result.stdout.split()
    assert rule in ("record.disk", "record.full")
    with open_store(path) as store:
        assert len(store.batches()) == int(count) > 3
        assert not store.check(path.parent).errors
        store.open_batch(opening("260503-Z99"))


def test_a_full_disk_is_named_and_loses_nothing(path):
    with open_store(path) as store:
        fill_some(store)
        store._db.run("PRAGMA max_page_count = 30")
        with pytest.raises(MachineError, match="disk is full") as refused:
            for number in range(100):
                store.open_batch(opening(f"260504-{number}A", frozen={"text": "x" * 9000 + str(number)}))
        assert refused.value.findings[0].rule == "record.full"
        opened, head = len(store.batches()), store.head()
    with open_store(path) as store:
        assert (len(store.batches()), store.head()) == (opened, head)
        assert not store.check(path.parent).errors


def as_a_guest(path: Path) -> str:
    """The rule under which a write fails for a user whom the folder's permissions bind (root is bound by none)."""
    seen, told = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            if os.geteuid() == 0:
                os.setgid(65534)
                os.setuid(65534)
            with open_store(path) as store:
                store.open_batch(opening("260503-Z99"))
            os.write(told, b"written")
        except MachineError as error:
            os.write(told, error.findings[0].rule.encode())
        finally:
            os._exit(0)
    os.waitpid(child, 0)
    os.close(told)
    with os.fdopen(seen) as stream:
        return stream.read()


@pytest.mark.parametrize("there", [True, False])
def test_a_read_only_folder_is_named(there):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        path = folder / "records.sqlite"
        if there:
            with open_store(path) as store:
                fill_some(store)
        folder.chmod(0o555)
        assert as_a_guest(path) == "record.unwritable"
        assert [item.name for item in folder.iterdir()] == (["records.sqlite"] if there else [])
        folder.chmod(0o777)
        assert as_a_guest(path) == ("record.unwritable" if there else "written")


def test_together_keeps_others_out_from_its_first_moment(path):
    with open_store(path) as store, store.together():
        assert store.all_codes() == ()
        assert refusal(path, wait_s=0.1) == "record.locked"
        store.open_batch(opening())
