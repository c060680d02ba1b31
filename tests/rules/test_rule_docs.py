"""docs/rules.md is what the tables say."""

from __future__ import annotations

import importlib.util
from pathlib import Path

from labeltool import tables

ROOT = Path(__file__).resolve().parent.parent.parent


def rules_docs():
    spec = importlib.util.spec_from_file_location("rules_docs", ROOT / "tools" / "rules_docs.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_page_is_current():
    assert (ROOT / "docs" / "rules.md").read_text(encoding="utf-8") == rules_docs().page(), "make docs"


def test_the_page_names_every_row_and_every_table():
    text = rules_docs().page()
    for name in ("annex2", "annex3", "annex5", "annex6", "allergens"):
        for row in tables.toml("rules", name)["allergen" if name == "allergens" else "entry"]:
            assert f"| {row['ref']} |" in text, row["ref"]
    for name in ("annex2", "annex3", "annex5", "annex6", "allergens", "us", "ca", "wordings", "claims", "releasers"):
        assert f"labeltool/rules/{name}.toml" in text


def test_a_cell_never_breaks_the_table():
    lines = [line for line in rules_docs().page().splitlines() if line.startswith("|")]
    assert len(lines) > 600
    blocks = {}
    for line in lines:
        blocks.setdefault(line.count("|"), []).append(line)
    assert all(count >= 5 for count in blocks)
