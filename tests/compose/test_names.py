import pytest
from composing import NAMES
from hypothesis import given
from hypothesis import strategies as st

from labeltool import tables
from labeltool.compose.names import key, part_nano, plain


@pytest.mark.parametrize("written", [
    "Cetearyl Alcohol", "CETEARYL ALCOHOL", "  cetearyl   alcohol ", "Cetearyl\u00a0Alcohol", "cetearylalcohol",
])
def test_spellings_of_one_name_share_a_key(written):
    assert key(written) == key("Cetearyl Alcohol")
    assert NAMES.spelled(written) == "Cetearyl Alcohol"


@pytest.mark.parametrize(("one", "other"), [
    ("C13\u201315 Alkane", "C13-15 Alkane"), ("Fuller\u2019s Earth", "Fuller's Earth"), ("Aqua\u200b", "Aqua"),
])
def test_kinds_of_dashes_apostrophes_and_unseen_characters_do_not_part_names(one, other):
    assert key(one) == key(other)


@given(st.text(st.characters(max_codepoint=127), max_size=40))
def test_plain_letters_have_the_key_that_the_long_way_gives(name):
    assert key(name + "\u00e9") == key(name) + "\u00e9"


def test_different_names_keep_different_keys():
    assert key("Polysorbate 20") != key("Polysorbate 60")
    assert key("Lactic Acid") != key("Sodium Lactate")


def test_a_name_the_table_does_not_know_stays_as_written():
    assert NAMES.spelled("  madeUp  Ferment ") == "madeUp Ferment"
    assert plain("a  b\tc") == "a b c"


@pytest.mark.parametrize(("written", "bare", "nano"), [
    ("Titanium Dioxide (nano)", "Titanium Dioxide", True), ("Silica [Nano]", "Silica", True),
    ("Silica", "Silica", False), ("(nano)", "(nano)", False), ("Nanolin", "Nanolin", False),
])
def test_a_written_nano_is_split_off(written, bare, nano):
    assert part_nano(written) == (bare, nano)


@pytest.mark.parametrize(("written", "meant"), [
    ("shea butter", "Butyrospermum Parkii Butter"),
    ("Butyrospermum Parkii (Shea) Butter", "Butyrospermum Parkii Butter"),
    ("Water", "Aqua"),
    ("Butyrospermum Parki Butter", "Butyrospermum Parkii Butter"),
    ("Glycerine", "Glycerin"),
    ("Phenoxyethanl", "Phenoxyethanol"),
    ("saponified olive oil", "Sodium Olivate"),  # not a glossary name: practice of as-made lists
    ("Perfume", "Parfum"),  # "Perfume" or "Fragrance" alone is not the EU term, Art. 19(1)(g)
    ("fragrance", "Parfum"),
])
def test_the_nearest_known_name(written, meant):
    assert NAMES.find(written) is None
    assert NAMES.nearest(written) == meant


@pytest.mark.parametrize("written", ["Polysorbate 40", "Ceteareth-12", "Made Up Extract", "Zzz"])
def test_no_hint_where_nothing_is_near_or_a_number_differs(written):
    assert NAMES.nearest(written) is None


def test_every_row_has_its_names_source_and_confidence():
    rows = tables.toml("rules", "names")["names"]
    allowed = {"eu", "us", "ca", "everyday", "source", "confidence", "us-confidence"}
    for row in rows:
        assert row.keys() <= allowed, row
        assert row["eu"].strip() and row["source"].strip(), row
        assert row["confidence"] in ("law", "memory"), row
        assert row.get("us-confidence", "memory") in ("law", "memory", "practice"), row
        assert ("memory" in row["source"]) == (row["confidence"] == "memory"), row
    assert len({key(row["eu"]) for row in rows}) == len(rows)


def test_the_canadian_schedule_has_58_names_in_two_languages():
    # Cosmetic Regulations, C.R.C., c. 869, Schedule
    pairs = [row["ca"] for row in tables.toml("rules", "names")["names"] if "ca" in row]
    assert len(pairs) == 58
    assert all(len(pair) == 2 and all(pair) for pair in pairs)
    assert NAMES.find("Aqua").ca == ("Water", "Eau")
