"""What a print's row keeps of its read-back, and that a failing one leaves no print and no file."""

import pytest
from cli_runs import CREAM, new_shop

from labeltool.readback import symbols
from labeltool.records.store import open_store
from labeltool.workflow.proof import CHECKED, told_proof

CODE = "260503A31"
PRINT = ("print", CREAM, "--stock", "a4-2x4-99.1x67.7", "--count", "2", "--made", "2026-05-03")


@pytest.fixture
def shop(tmp_path):
    return new_shop(tmp_path)


def rows(shop):
    with open_store(shop.folder / "records.sqlite", create=False) as store:
        return store.prints(CODE)


def test_row_says_what_was_read_back_and_by_what(shop):
    shop.done(*PRINT)
    kept = rows(shop)[0].extra["verified"]
    assert (kept["labels"], kept["symbols"], tuple(kept["checked"])) == (2, 2, CHECKED)
    assert set(kept["by"]) == {"zxing-cpp", "zbar", "pdfium"}
    assert all(version[0].isdigit() for version in kept["by"].values())
    assert f"read back by zxing-cpp {kept['by']['zxing-cpp']}, zbar " in shop.done("batch", "show", CODE).out


def test_row_of_a_print_that_was_not_read_back_says_so(shop):
    shop.done(*PRINT, "--no-verify")
    assert rows(shop)[0].extra["verified"] is None
    assert ", not read back" in shop.done("batch", "show", CODE).out
    assert told_proof(None) == told_proof({"title": "of before"}) == ""


def test_reprint_is_read_back_of_its_own(shop):
    shop.done(*PRINT, "--no-verify")
    shop.done("reprint", CODE, "--count", "1", "--why", "torn")
    assert [(row.extra["verified"] or {}).get("labels") for row in rows(shop)] == [None, 1]


def test_print_that_reads_back_wrong_leaves_an_open_batch_and_nothing_else(shop, monkeypatch):
    monkeypatch.setattr(symbols.zxing, "find", lambda *_: ())
    ran = shop.run(*PRINT, "--json")
    assert ran.code == 3 and ran.rules == ["verify.new"]
    assert rows(shop) == () and [path for path in (shop.folder / "prints").rglob("*") if path.is_file()] == []
    monkeypatch.undo()
    assert shop.document("batch", "show", CODE)["state"] == "open"
    shop.done("print", CODE, "--stock", "a4-2x4-99.1x67.7", "--count", "2")
    assert [row.number for row in rows(shop)] == [1] and shop.run("verify", f"prints/{CODE}-1.pdf").code == 0
