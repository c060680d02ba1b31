"""Workshops, records and exports from before packs: they read, print again and export byte for byte as they did."""

from __future__ import annotations

import hashlib
import json
import lzma
import shutil
import sys
from collections.abc import Iterator
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
# What the documents of workshops without packs have gained since: what the public page tells, grades, leaflets, counts
# of labels, corrections and decisions with who made them, lots that nothing was weighed of
NEW_KEYS = frozenset(("public", "grade", "leaflet", "spoiled", "destroyed", "used", "over", "corrections", "decisions",
                      "released", "unused"))
NEW_NOTES = frozenset(("bench.unweighed",))


def pairs(made: tuple[tuple[str, ...], ...], said: list[Any]) -> list[Any]:
    """Calls with what was said to them; drafts leave nothing on record, so the last texts may be lacking."""
    return [pytest.param(call, answer, id=" ".join(call)) for call, answer in zip(made, said, strict=False)]


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


def unlike(now: Any, then: Any, place: str = "") -> Iterator[tuple[str, Any, Any]]:
    """Where a document does not say what it said, or says something new but NEW_KEYS and nulls: (place, now, then)."""
    if isinstance(then, dict) and isinstance(now, dict):
        for key in sorted((now.keys() | then.keys()) - NEW_KEYS):
            yield from unlike(now.get(key, "nothing"), then.get(key, "nothing"), f"{place}.{key}")
    elif isinstance(then, list) and isinstance(now, list) and len(now := _known(now)) == len(then):
        for index, (one, other) in enumerate(zip(now, then, strict=True)):
            yield from unlike(one, other, f"{place}[{index}]")
    elif now != then and (now is not None or then != "nothing"):
        yield place, now, then


def _known(items: list[Any]) -> list[Any]:
    """The items without notes that came since."""
    return [item for item in items if not isinstance(item, dict) or item.get("rule") not in NEW_NOTES]


def assert_like(now: Any, then: Any) -> None:
    """The same, with every difference told."""
    assert list(unlike(now, then)) == []


def test_an_export_of_before_restores_and_exports_byte_for_byte(old):
    old.done("records", "export", "-o", "again.jsonl")
    assert (old.folder / "again.jsonl").read_bytes() == EXPORT


@pytest.mark.parametrize(("call", "said"), pairs(calls.AGAIN, SAID["again"]))
def test_reprints_of_old_prints_have_the_same_bytes(old, call, said):
    found = old.document(*call)
    assert found["sha256"] == said["sha256"]
    assert hashlib.sha256((old.folder / found["file"]).read_bytes()).hexdigest() == said["sha256"]
    assert_like(found, said)


@pytest.mark.parametrize(("call", "said"), pairs(calls.SHOWS, SAID["shows"]))
def test_what_is_shown_of_an_old_record_is_what_was_shown(restored, call, said):
    assert_like(calls.same(restored.document(*call)), calls.same(said))


@pytest.mark.parametrize(("call", "said"), pairs(calls.JUDGED, SAID["judged"]))
def test_formulas_without_packs_are_judged_as_before(restored, call, said):
    assert_like(calls.same(restored.run(*call, "--json").json), calls.same(said))


@pytest.mark.parametrize(("call", "said"), pairs(calls.PRINTED, SAID["printed"]))
def test_formulas_without_packs_print_as_before(old, call, said):
    assert_like(calls.words(old.document(*call)), calls.words(said))


@pytest.mark.parametrize(("call", "said"), pairs(calls.PRINTED, SAID["texts"]))
def test_what_a_new_print_puts_on_record_is_what_it_put(old, call, said):
    code = old.document(*call)["code"]
    with open_store(old.folder / "records.sqlite") as store:
        row, batch = store.prints(code)[-1], store.batch(code)
    assert batch is not None and row.pack == said["pack"] == ""
    words = [row.words.declaration, list(row.words.warnings), row.words.date]
    known = {key: row.extra[key] for key in said["extra"]}  # rows have gained keys since
    found = {"text": row.text, "words": words, "extra": known, "frozen": batch.frozen}
    assert_like(found, {key: said[key] for key in found})
