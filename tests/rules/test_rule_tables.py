"""Every row of every rule table: source, confidence, dates, markets, and references that lead somewhere."""

from __future__ import annotations

import datetime as dt
import re
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

from labeltool import tables
from labeltool.formula.model import MARKETS
from labeltool.formula.vocabulary import BODY_AREAS, FORMS, PURPOSES, USERS, USES
from labeltool.rules.advise import ANNEXES
from labeltool.rules.rulebook import rule_book

FOLDER = Path(str(tables.__file__)).parent / "rules"
NAMES = sorted(path.stem for path in FOLDER.glob("*.toml"))
OWN = [name for name in NAMES if name not in ("names", "colorants")]
KEYED = {
    "annex2": "entry", "annex3": "entry", "annex5": "entry", "annex6": "entry", "allergens": "allergen",
    "us": "prohibited",
    "ca": "hotlist",
}
ROWS = [
    (name, word, row)
    for name in OWN for word, value in tables.toml("rules", name).items() if isinstance(value, list)
    for row in value if isinstance(row, dict)
]
ENTRIES = [(name, row) for name, word, row in ROWS if word in ("entry", "hotlist", "substance.prohibited")]


def label(value: object) -> str:
    return str(value)[:40] if isinstance(value, str) else ""


@pytest.mark.parametrize("name", NAMES)
def test_every_table_has_a_schema_number(name):
    assert tables.toml("rules", name)["schema"] == 1


def test_every_row_has_a_source_and_a_confidence():
    assert len(ROWS) > 700
    for name, word, row in ROWS:
        assert isinstance(row.get("source"), str) and row["source"], (name, word, row)
        assert row.get("confidence") in ("law", "memory", "practice"), (name, word, row)


def test_dates_are_dates_and_in_order():
    for name, _, row in ROWS:
        terms = [row, *([row["uk"]] if "uk" in row else [])]
        for term in terms:
            dates = [term[key] for key in ("from", "until", "stock-until") if key in term]
            assert all(type(day) is dt.date for day in dates), (name, row)
            if "from" in term:
                assert all(term["from"] <= day for day in dates), (name, row)


def test_markets_are_known_and_a_british_half_has_its_own_source():
    for name, row in ENTRIES:
        assert row["markets"] and set(row["markets"]) <= set(MARKETS), (name, row)
        if "uk" in row:
            assert "UK" in row["markets"] or name == "releasers", (name, row)
            assert row["uk"]["source"] and row["uk"]["confidence"] in ("law", "memory"), (name, row)
    assert set(ANNEXES) == {"EU", "UK"}


def test_rows_of_law_say_what_was_read():
    for name, row in ENTRIES:
        if name.startswith("annex") and row["confidence"] == "law":
            assert row.get("read"), (name, row["ref"])


def test_references_are_unique_and_lead_to_rows():
    for name, word in KEYED.items():
        counts = Counter(row["ref"] for row in tables.toml("rules", name)[word])
        doubles = {ref for ref, count in counts.items() if count > 1 and "not read" not in ref}
        assert doubles == set(), name
    known = {row["ref"] for _, row in ENTRIES}
    for name, row in ENTRIES:
        wanted = {ref for limit in row.get("limits", ()) for ref in limit.get("with", ())}
        wanted |= {row["twin"]} if "twin" in row else set()
        wanted |= set(row.get("unless", ()))
        assert wanted <= known, (name, row["ref"], wanted - known)


def test_twins_are_a_preservative_and_another_use():
    by_ref = {row["ref"]: row for _, row in ENTRIES}
    for row in by_ref.values():
        if "twin" in row and row["purpose"] == "preservative":
            assert by_ref[row["twin"]]["purpose"] in ("other", "any"), row["ref"]
        elif "twin" in row:
            assert by_ref[row["twin"]]["purpose"] == "preservative", row["ref"]
            assert row["example"] in PURPOSES, row["ref"]


def test_texts_have_words_and_belong_to_limits():
    keys = {row["key"] for row in tables.toml("rules", "wordings")["wording"] if row["lang"] == "en"}
    for name, row in ENTRIES:
        ids = [limit["id"] for limit in row.get("limits", ())]
        assert len(ids) == len(set(ids)), (name, row["ref"])
        for text in row.get("texts", ()):
            assert text["key"] in keys, (name, row["ref"], text)
        for part in (*row.get("texts", ()), *row.get("asks", ())):
            assert set(part.get("rows", ())) <= set(ids), (name, row["ref"], part)
    for name in ("us", "ca"):
        assert {key for row in tables.toml("rules", name)["warning"] for key in row.get("keys", ())} <= keys


def test_every_text_is_used_by_a_rule():
    used = {text["key"] for _, row in ENTRIES for text in row.get("texts", ())}
    used |= {key for name, word, row in ROWS if word == "warning" for key in row.get("keys", ())}
    used |= {row["key"] for row in tables.toml("rules", "releasers")["rule"]}
    used |= {tables.toml("rules", "us")["aha-alert"]["key"]}
    told_only = {"us-safety-not-determined", "ca-flame", "not-on-lips"}
    assert {row["key"] for row in tables.toml("rules", "wordings")["wording"]} - used <= told_only


def test_figures_are_exact_decimals():
    for name, row in ENTRIES:
        for limit in row.get("limits", ()):
            for text in (limit.get("max", "1"), *limit.get("ph", ())):
                assert isinstance(text, str) and Decimal(text) >= 0, (name, row["ref"], limit)


def test_a_basis_has_a_molar_mass():
    molar = rule_book(tables.toml).molar
    for name, row in ENTRIES:
        if row.get("basis"):
            assert molar.find(row["basis"]), (name, row["ref"])
            assert any(molar.factor(item, row["basis"]) for item in row["names"]), (name, row["ref"])


def test_scopes_use_the_words_of_the_input_files():
    words = {
        "areas": BODY_AREAS, "not-areas": BODY_AREAS, "forms": FORMS, "not-forms": FORMS, "users": USERS,
        "not-users": USERS,
    }
    for place in _scopes([row for _, _, row in ROWS]):
        for key, known in words.items():
            assert set(place.get(key, ())) <= set(known), place
        assert place.get("use", "leave-on") in USES, place


def test_no_name_stands_in_two_rows_of_one_annex_by_mistake():
    shared = {"Salicylic Acid", "Potassium Hydroxide", "Methylisothiazolinone"}
    for name in ("annex3", "annex5"):
        counts = Counter(item for row in tables.toml("rules", name)["entry"] for item in row["names"])
        double = {item for item, count in counts.items() if count > 1}
        allowed = shared | {item for item in double if "Zirconium" in item or item in _PEROXIDE_AND_LIMIT}
        assert double <= allowed, (name, double - allowed)


_PEROXIDE_AND_LIMIT = {"Alpha-Terpinene", "Terpinolene", "3-Carene", "Glycolic Acid", "Lactic Acid"}


def test_allergens_are_the_eighty_one_entries_and_twenty_four_old_ones():
    rows = tables.toml("rules", "allergens")["allergen"]
    assert (len(rows), sum(row["legacy"] for row in rows)) == (81, 24)
    names = [row["name"] for row in rows]
    assert len(set(names)) == 81
    assert all(not row["members"] or row["group"] for row in rows if "members" in row)
    members = Counter(name for row in rows for name in (row["name"], *row.get("members", ()), *row.get("also", ())))
    own = {row["name"] for row in rows}
    assert {name for name, count in members.items() if count > 1} <= own


def test_no_table_speaks_of_how_it_was_made():
    for name in OWN:
        text = (FOLDER / f"{name}.toml").read_text(encoding="utf-8")
        assert not re.search(r"\bstored\b|first pass|second pass|facts/", text), name


def _scopes(value: object) -> list[dict[str, object]]:
    if isinstance(value, dict):
        found = [value["when"]] if isinstance(value.get("when"), dict) else []
        return found + [scope for part in value.values() for scope in _scopes(part)]
    if isinstance(value, list):
        return [scope for part in value for scope in _scopes(part)]
    return []
