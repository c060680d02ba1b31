from __future__ import annotations

import hashlib
import sqlite3

import pytest
from record_samples import fill_some, opening, order, raw, rules

from labeltool.records.store import open_store


def checked(path, head=None):
    with open_store(path) as store:
        return store.check(path.parent, head)


@pytest.fixture
def filled(path):
    with open_store(path) as store:
        fill_some(store)
    return path


def test_a_sound_record_has_no_errors(filled):
    assert not checked(filled).errors


@pytest.mark.parametrize("statement", [
    "UPDATE event SET body = replace(body, 'thick', 'thinn') WHERE number = 4",
    "UPDATE event SET body = substr(body, 2) WHERE number = 3",
    "UPDATE event SET body = CAST(body AS BLOB) WHERE number = 3",
    "UPDATE event SET body = CAST(x'ff' || body AS TEXT) WHERE number = 3",
    "UPDATE event SET hash = replace(hash, substr(hash, 1, 4), '0000') WHERE number = 2",
    "UPDATE event SET previous = 'x' WHERE number = 4",
    "UPDATE event SET kind = 'state' WHERE number = 3",
    "UPDATE event SET batch = '260503B04' WHERE number = 3",
    "UPDATE event SET nth = 7 WHERE number = 6",
    "UPDATE event SET id = 'x' WHERE number = 1",
    "UPDATE event SET once_key = 'k' WHERE number = 1",
    "DELETE FROM event WHERE number = 1",
    "DELETE FROM event WHERE number = 4",
    "UPDATE event SET number = 99 WHERE number = 6",
])
def test_an_altered_event_is_found(filled, statement):
    assert raw_changes(filled, statement)
    assert "record.chain" in rules(checked(filled).errors)


def raw_changes(path, *statements) -> bool:
    before = path.read_bytes()
    raw(path, *statements)
    return path.read_bytes() != before


def test_two_events_in_the_other_order_are_found(filled):
    raw(filled, "UPDATE event SET number = -3 WHERE number = 3", "UPDATE event SET number = 3 WHERE number = 4",
        "UPDATE event SET number = 4 WHERE number = -3")
    assert "record.chain" in rules(checked(filled).errors)


def test_an_event_hashed_anew_breaks_the_next_one(filled):
    with sqlite3.connect(filled) as connection:
        body, previous = connection.execute("SELECT body, previous FROM event WHERE number = 4").fetchone()
    connection.close()
    body = body.replace("thick", "thinn")
    digest = hashlib.sha256(f"{previous}\n{body}".encode()).hexdigest()
    quoted = body.replace("'", "''")
    raw(filled, f"UPDATE event SET body = '{quoted}', hash = '{digest}' WHERE number = 4")
    found = checked(filled).errors
    assert [item.text for item in found if item.rule == "record.chain"] == [
        "event 5 has been altered: it does not follow the event before it",
    ]


def test_a_cut_tail_is_found_against_a_head_kept_elsewhere(filled):
    with open_store(filled) as store:
        head = store.head()
    raw(filled, "DELETE FROM event WHERE number = 6")
    assert "record.chain" not in rules(checked(filled))
    found = checked(filled, head)
    assert "record.head" in rules(found.errors)
    assert "once had event 6" in " ".join(item.text for item in found)


def test_a_record_grown_since_still_holds_the_head(filled):
    with open_store(filled) as store:
        head = store.head()
        store.open_batch(opening("260505-A25"))
    assert not checked(filled, head).errors
    assert "record.head" in rules(checked(filled, "nonsense"))
    assert "record.head" in rules(checked(filled, head[:-1] + "g"))


@pytest.mark.parametrize("trigger", ["event_no_update", "event_no_delete", "asset_no_replace", "opened_no_update"])
def test_a_missing_guard_is_found(filled, trigger):
    with sqlite3.connect(filled) as connection:
        connection.execute(f"DROP TRIGGER {trigger}")
    connection.close()
    assert f"{trigger} is missing" in " ".join(item.text for item in checked(filled).errors)


def test_a_guard_that_guards_nothing_is_found(filled):
    with sqlite3.connect(filled) as connection:
        connection.execute("DROP TRIGGER event_no_update")
        connection.execute("CREATE TRIGGER event_no_update BEFORE UPDATE ON event BEGIN SELECT 1; END")
        connection.execute("CREATE TABLE extra (x)")
    connection.close()
    text = " ".join(item.text for item in checked(filled).errors)
    assert "event_no_update is not what this tool made" in text
    assert "extra does not belong" in text


@pytest.mark.parametrize("statement", [
    "UPDATE asset SET data = replace(data, 'Aqua', 'Aqva') WHERE kind = 'frame'",
    "UPDATE asset SET data = 'AAAA' WHERE kind = 'font'",
    "UPDATE asset SET data = '%%' WHERE kind = 'font'",
    "UPDATE asset SET coding = 'base64' WHERE kind = 'inputs'",
    "DELETE FROM asset WHERE kind = 'label-text'",
    "DELETE FROM asset WHERE kind = 'inputs'",
])
def test_an_altered_or_lost_asset_is_found(filled, statement):
    raw(filled, statement)
    assert rules(checked(filled).errors) >= {"record.asset"}


@pytest.mark.parametrize("statement", [
    "UPDATE opened SET code = '260503-A32' WHERE code_key = '260503A31'",
    "DELETE FROM opened WHERE code_key = '260503A31'",
    "INSERT INTO opened SELECT 'X', code, stem, formula, made, 77, product, version, 1, 'X' FROM opened LIMIT 1",
    "UPDATE opened SET product = 'Oak Lotion'",
    "UPDATE changed SET state = 'released'",
    "DELETE FROM changed",
    "INSERT INTO changed VALUES ('260503A31', 99, 'recalled')",
    "UPDATE printed SET labels = 23 WHERE nth = 2",
    "DELETE FROM printed WHERE nth = 1",
    "DELETE FROM mention",
    "INSERT INTO mention VALUES ('aqua', 1)",
    "DELETE FROM named",
    "UPDATE named SET word = 'aqua'",
])
def test_an_index_that_differs_from_the_log_is_found(filled, statement):
    raw(filled, statement)
    assert "record.index" in rules(checked(filled).errors)


def test_many_faults_are_told_shortly(path):
    with open_store(path) as store:
        for number in range(60):
            store.open_batch(opening(f"260503-{number}A"))
    raw(path, "UPDATE event SET body = replace(body, 'Oat', 'Oak')")
    found = [item for item in checked(path).errors if item.rule in ("record.chain", "record.more")]
    assert 20 < len(found) < 30
    assert "40 more" in found[20].text


@pytest.fixture
def printed(path):
    pdf = path.parent / "prints" / "260503-A31-1.pdf"
    pdf.parent.mkdir()
    with open_store(path) as store:
        store.open_batch(opening())
        pdf.write_bytes(b"%PDF-1.4 labels")
        store.add_print(order(sha256=hashlib.sha256(pdf.read_bytes()).hexdigest()))
    return pdf


def test_print_files_that_are_there_and_match_need_no_word(path, printed):
    assert len(checked(path)) == 0


def test_a_missing_print_file_names_reprint(path, printed):
    printed.unlink()
    (found,) = checked(path)
    assert (found.rule, found.level, found.where.file) == ("record.print-missing", "warning", "prints/260503-A31-1.pdf")
    assert "labeltool reprint 260503-A31 --print 1" in found.do


def test_an_altered_print_file_is_an_error(path, printed):
    printed.write_bytes(b"%PDF-1.4 other labels")
    assert rules(checked(path).errors) == {"record.print-altered"}


def test_a_folder_in_place_of_a_print_file_is_named(path, printed):
    printed.unlink()
    printed.mkdir()
    assert "record.print-unreadable" in rules(checked(path))


def test_a_print_that_no_record_knows_is_named(path, printed):
    printed.with_name("stray.pdf").write_bytes(b"%PDF")
    (found,) = checked(path)
    assert (found.rule, found.where.file) == ("record.print-unknown", "prints/stray.pdf")


def test_of_several_prints_into_one_file_the_last_one_holds(path, printed):
    other = path.parent / "labels.pdf"
    with open_store(path) as store:
        store.add_print(order(file="labels.pdf", sha256="1" * 64))
        other.write_bytes(b"second")
        store.add_print(order(file="labels.pdf", sha256=hashlib.sha256(b"second").hexdigest()))
    assert len(checked(path)) == 0
