"""Openings, prints and small helpers for the tests of the record; run as a script it is one of many writers."""

from __future__ import annotations

import datetime as dt
import sqlite3
import sys
from pathlib import Path

from labeltool.records.model import CodeTaken, Once, Opening, PrintOrder, Words
from labeltool.records.store import Store, open_store

AT = "2026-05-03T09:00:00+00:00"
MADE = dt.date(2026, 5, 3)
WORDS = Words("Aqua, Glycerin", ("For external use only.",), "11/2027")


def opening(code: str = "260503-A31", **changes: object) -> Opening:
    facts = {
        "code": code, "code_key": code.replace("-", ""), "stem": code[:6], "made": MADE, "product": "Oat Lotion",
        "formula_key": "oat-lotion", "version": "1", "size_g": None, "key": "ABCDEFGH",
        "frozen": {"formula": {"rows": [{"inci": "Aqua"}, {"inci": "Glycérine ü"}]}}, "by": "AB", "at": AT,
    }
    return Opening(**(facts | changes))


def order(code: str = "260503-A31", **changes: object) -> PrintOrder:
    facts = {
        "code": code, "artworks": ("back",), "labels": 24, "sheets": 1, "skip": 0, "places": (),
        "stock": {"name": "a4-3x8-63.5x33.9"}, "frames": ({"x_mm": 1.25, "word": "Aqua"},),
        "text": {"blocks": ["Aqua"]}, "words": WORDS, "file": "prints/" + code + "-{n}.pdf", "sha256": "0" * 64,
        "markets": ("UK",), "languages": ("en",), "at": AT, "by": "AB",
    }
    return PrintOrder(**(facts | changes))


def keyed(key: str = "k-1", args: object = "same", step: str = "") -> Once:
    return Once(key, args, step, answer=lambda outcome: {"outcome": str(outcome)[:40]})


def fill_some(store: Store) -> None:
    """Two batches, two prints, a note, a font and a state."""
    store.open_batch(opening())
    store.open_batch(opening("260503-B04", frozen={"formula": "another"}))
    store.add_print(order())
    store.append("note", "260503A31", {"text": "thick", "lot": "W-7"}, by="AB", at=AT)
    store.add_asset("font", bytes(range(256)))
    store.add_print(order(labels=12))
    store.change_state("260503B04", "cancelled", by="AB", at=AT)


def raw(path: Path, *statements: str) -> None:
    """Change a record behind its back: the triggers go first, and come back afterwards."""
    with sqlite3.connect(path) as connection:
        guards = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in guards:
            connection.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            connection.execute(statement)
        for _, sql in guards:
            connection.execute(sql)
    connection.close()


def rules(findings: object) -> set[str]:
    return {item.rule for item in findings}


def next_code(store: Store) -> str:
    return f"260503-{len(store.all_codes()) + 1}Z"


def write_many(path: Path, count: int) -> None:
    """Open `count` batches as a bench does: look which code is next, try, and try again where it was taken."""
    for _ in range(count):
        with open_store(path) as store:
            while True:
                try:
                    batch = store.open_batch(opening(next_code(store)))
                    break
                except CodeTaken:
                    continue
            store.add_print(order(batch.code))
            print(batch.code, flush=True)


if __name__ == "__main__":
    write_many(Path(sys.argv[1]), int(sys.argv[2]))
