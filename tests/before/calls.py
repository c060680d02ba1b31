"""What was asked of the program before packs came, and what is compared of its answers.

`said.json` beside this file holds the answers of that day, `record.jsonl.xz` the record that OPENING left. Neither is
ever made anew: they stand for the workshops of makers who began before.
"""

from __future__ import annotations

from typing import Any

CREAM, BALM = "calendula-hand-cream", "plain-foot-balm"
FIRST, SECOND, THIRD = "260503A31", "260503B28", "260502A40"
SHEET = "a4-2x4-99.1x67.7"
WEIGHED = """line,material,grams,lot,expires,note
1,shea-butter,200.1,S-1,,
2,coconut-oil,150,C-4,2027-01-31,
3,sunflower-oil,75.02,U-2,,
4,beeswax,75,B-9,,
"""

OPENING: tuple[tuple[str, ...], ...] = (
    ("print", CREAM, "--count", "3", "--stock", SHEET),
    ("print", BALM, "--artwork", "front", "--artwork", "back", "--count", "2", "--stock", SHEET, "--size", "500g"),
    ("batch", "bench", SECOND, "--from", "weighed.csv", "--yield", "488g", "--filled", "9", "--note", "stirred long"),
    ("batch", "release", SECOND, "--by", "AB"),
    ("print", SECOND, "--count", "filled", "--stock", SHEET),
    ("print", BALM, "--stock", "roll-100x40-300dpi", "--count", "4", "--made", "2026-05-02"),
    ("print", f"{FIRST}:2", f"{SECOND}:3", "--stock", SHEET),
    ("reprint", FIRST, "--print", "1", "--count", "1", "--skip", "4", "--why", "scuffed"),
)
SHOWS: tuple[tuple[str, ...], ...] = (
    ("batch", "list"), ("batch", "show", FIRST), ("batch", "show", SECOND), ("trace", "S-1"), ("trace", SECOND),
    ("due",), ("lot", "list"), ("lot", "show", "S-1"),
)
JUDGED: tuple[tuple[str, ...], ...] = (
    ("declare", CREAM), ("declare", BALM), ("check", CREAM), ("check", BALM),
    ("check", CREAM, "--artwork", "front", "--stock", SHEET), ("check", CREAM, "--markets", "UK,EU,US,CA"),
    ("check", BALM, "--net", "4.9 g"),
)
PRINTED: tuple[tuple[str, ...], ...] = (
    ("print", CREAM, "--count", "3", "--stock", SHEET, "--made", "2026-05-01"),
    ("print", BALM, "--artwork", "front", "--artwork", "back", "--stock", SHEET, "--made", "2026-05-01"),
    ("print", BALM, "--draft", "--stock", SHEET, "--artwork", "back", "--count", "2"),
)
AGAIN: tuple[tuple[str, ...], ...] = (
    ("reprint", FIRST, "--print", "1", "--why", "old"), ("reprint", FIRST, "--print", "3", "--why", "old"),
    ("reprint", SECOND, "--print", "1", "--artwork", "front", "--why", "old"),
    ("reprint", SECOND, "--print", "2", "--count", "5", "--why", "old"),
    ("reprint", THIRD, "--why", "old"),
    ("reprint", FIRST, "--print", "2", "--skip", "3", "--why", "old"),
)

FREE = ("type", "sha256", "type-height-mm", "stock", "artwork")  # how the letters come out is not packs' matter


def same(document: Any) -> Any:
    """A document without what may change: heights and layout, the words of findings, and when something was done."""
    if isinstance(document, list):
        return [same(item) for item in document]
    if not isinstance(document, dict):
        return document
    if {"rule", "level", "text"} <= document.keys():
        return {"rule": document["rule"], "level": document["level"], "market": document["market"]}
    return {key: same(value) for key, value in document.items() if key != "type"}


def words(document: Any) -> Any:
    """A print's document without layout: a colleague's better line break changes the file and not the label's words."""
    found = {key: value for key, value in same(document).items() if key not in FREE}
    return found | {"problems": [item for item in found["problems"] if not item["rule"].startswith("typeset.")]}
