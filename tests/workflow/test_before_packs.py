"""Workshops, records and exports from before packs: they read, print again and export byte for byte as they did."""

from __future__ import annotations

import hashlib
import json
import lzma
import shutil
import sys
from pathlib import Path
from typing import Any

import pytest
from cli_runs import Shop

from labeltool.records.store import open_store

BEFORE = Path(__file__).resolve().parent.parent / "before"
sys.path.insert(0, str(BEFORE))

import calls  # noqa: E402

SAID = json.loads((BEFORE / "said.json").read_text(encoding="utf-8"))
EXPORT = lzma.decompress((BEFORE / "record.jsonl.xz").read_bytes())
NEW_KEYS: frozenset[str] = frozenset()  # what the documents of workshops without packs have gained since


def pairs(made: tuple[tuple[str, ...], ...], said: list[Any]) -> list[tuple[tuple[str, ...], Any]]:
    """Calls with what was said to them; drafts leave nothing on record, so the last texts may be lacking."""
    return list(zip(made, said, strict=False))


@pytest.fixture(scope="module")
def restored(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """The old workshop with its record restored from the export; to be read, not changed."""
    folder = tmp_path_factory.mktemp("before") / "shop"
    shop = Shop(Path(shutil.copytree(BEFORE / "workshop", folder)))
    shop.write("record.jsonl", EXPORT)
    shop.done("records", "restore", "record.jsonl")
    return shop


@pytest.fixture
def old(restored: Shop, tmp_path: Path) -> Shop:
    """A copy of it, to be changed."""
    return Shop(Path(shutil.copytree(restored.folder, tmp_path / "shop")))


def like(now: Any, then: Any) -> bool:
    """Whether a document says all it said, in the same order, and nothing new but NEW_KEYS."""
    if isinstance(then, dict) and isinstance(now, dict):
        return now.keys() - NEW_KEYS == then.keys() - NEW_KEYS and all(
            like(now[key], then[key]) for key in then.keys() & now.keys())
    if isinstance(then, list) and isinstance(now, list):
        return len(now) == len(then) and all(map(like, now, then))
    return bool(now == then)


def assert_like(now: Any, then: Any) -> None:
    """The same with both shown."""
    if not like(now, then):
        assert now == then


def test_an_export_of_before_restores_and_exports_byte_for_byte(old):
    old.done("records", "export", "-o", "again.jsonl")
    assert (old.folder / "again.jsonl").read_bytes() == EXPORT


@pytest.mark.parametrize(("call", "said"), pairs(calls.AGAIN, SAID["again"]), ids=str)
def test_reprints_of_old_prints_have_the_same_bytes(old, call, said):
    found = old.document(*call)
    assert found["sha256"] == said["sha256"]
    assert hashlib.sha256((old.folder / found["file"]).read_bytes()).hexdigest() == said["sha256"]
    assert_like(found, said)


@pytest.mark.parametrize(("call", "said"), pairs(calls.SHOWS, SAID["shows"]), ids=str)
def test_what_is_shown_of_an_old_record_is_what_was_shown(restored, call, said):
    assert_like(calls.same(restored.document(*call)), calls.same(said))


@pytest.mark.parametrize(("call", "said"), pairs(calls.JUDGED, SAID["judged"]), ids=str)
def test_formulas_without_packs_are_judged_as_before(restored, call, said):
    assert_like(calls.same(restored.run(*call, "--json").json), calls.same(said))


@pytest.mark.parametrize(("call", "said"), pairs(calls.PRINTED, SAID["printed"]), ids=str)
def test_formulas_without_packs_print_as_before(old, call, said):
    assert_like(calls.words(old.document(*call)), calls.words(said))


@pytest.mark.parametrize(("call", "said"), pairs(calls.PRINTED, SAID["texts"]), ids=str)
def test_what_a_new_print_puts_on_record_is_what_it_put(old, call, said):
    code = old.document(*call)["code"]
    with open_store(old.folder / "records.sqlite") as store:
        row, batch = store.prints(code)[-1], store.batch(code)
    assert row.text == said["text"] and row.pack == said["pack"] == ""
    assert [row.words.declaration, list(row.words.warnings), row.words.date] == said["words"]
    assert {key: row.extra[key] for key in said["extra"]} == said["extra"]  # rows have gained keys since
    assert batch is not None and batch.frozen == said["frozen"]
