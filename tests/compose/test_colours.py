import pytest
from composing import COLOURS

from labeltool import tables
from labeltool.compose.colours import short
from labeltool.compose.names import key
from labeltool.formula.model import MARKETS

USES = ("any", "rinse-off", "not-mucous-membranes", "not-eyes", "lips-and-eye-shadow")
TABLE = tables.toml("rules", "colorants")


@pytest.mark.parametrize("written", ["CI 77491", "ci77491", "Ci  77491"])
def test_a_number_is_a_colorant_everywhere(written):
    assert COLOURS.markets(written) == MARKETS
    assert COLOURS.find(written).name == "CI 77491"


def test_an_unknown_number_is_taken_for_a_colorant_too():
    assert COLOURS.markets("CI 99999") == MARKETS
    assert COLOURS.find("CI 99999") is None


def test_mica_is_a_colorant_in_the_us_only():
    # 21 CFR 73.2496; no row of Annex IV
    assert COLOURS.markets("Mica") == ("US",)


@pytest.mark.parametrize("name", [
    "Titanium Dioxide", "Zinc Oxide", "Kaolin", "Calcium Carbonate", "Zinc Stearate", "Riboflavin", "Silica", "Henna",
])
def test_what_has_other_uses_is_no_colorant_unless_said(name):
    # 21 CFR 73 lists and Annex IV hold for use as a colour; used for another purpose these stay ordinary ingredients
    assert COLOURS.markets(name) == ()


@pytest.mark.parametrize("name", ["Caramel", "Lactoflavin", "Beetroot Red", "Capsanthin/Capsorubin", "Acid Red 195"])
def test_annex_names_without_a_number_are_colorants(name):
    assert COLOURS.markets(name) == MARKETS


@pytest.mark.parametrize("name", ["Iron Oxides", "FD&C Blue No. 1", "Red 40", "Ultramarines", "Bismuth Oxychloride"])
def test_us_colour_names_count_everywhere_so_that_a_wrong_one_is_noticed(name):
    assert COLOURS.markets(name) == MARKETS


def test_a_salt_or_lake_has_the_row_of_its_colour():
    # Annex IV preamble: lakes and salts of a listed colorant are included
    assert COLOURS.find("CI 15850:1").name == "CI 15850"
    assert COLOURS.find("CI 77268:1").name == "CI 77268:1"


def test_nano_carbon_black_has_its_own_row():
    assert COLOURS.find("CI 77266").us_permitted
    assert not COLOURS.find("CI 77266", nano=True).us_permitted


@pytest.mark.parametrize(("name", "meant"), [
    ("Titanium Dioxide", "CI 77891"), ("Zinc Oxide", "CI 77947"), ("Carmine", "CI 75470"), ("Red 40", "CI 16035"),
    ("Kaolin", "CI 77004"), ("Iron Oxide Red", "CI 77491"), ("Iron Oxides", None), ("Spirulina Platensis Powder", None),
])
def test_what_somebody_calling_a_colour_so_can_only_mean(name, meant):
    found = COLOURS.meant(name)
    assert (found.name if found else None) == meant


def test_choices_where_a_us_name_covers_several_numbers():
    assert COLOURS.choices("Iron Oxides") == ("CI 77489", "CI 77491", "CI 77492", "CI 77499")


@pytest.mark.parametrize(("name", "us"), [
    ("CI 77491", ("Iron Oxides",)), ("CI 16035", ("FD&C Red No. 40",)), ("CI 73015", ()), ("CI 45430", ()),
    ("CI 15850", ("D&C Red No. 6", "D&C Red No. 7")), ("Mica", ("Mica",)), ("Red 40", ("FD&C Red No. 40",)),
    ("D&C Red No. 7", ("D&C Red No. 7",)), ("CI 74160", ()), ("CI 75300", ()),
])
def test_us_names(name, us):
    # 21 CFR 73 subpart C and 74 subpart C (2015)
    assert COLOURS.us_names(name) == us


@pytest.mark.parametrize(("name", "form"), [
    ("FD&C Blue No. 1", "Blue 1"), ("D&C Black No. 2", "Black 2"), ("Ext. D&C Violet No. 2", "Ext. Violet 2"),
    ("Iron Oxides", "Iron Oxides"),
])
def test_short_names_of_the_us_trade(name, form):
    assert short(name) == form


def test_every_row_has_source_and_confidence():
    for row in TABLE["colour"]:
        assert row["source"] and row["confidence"] in ("law", "memory"), row
        assert "eu" in row or "us" in row, row
        if "us" in row:
            assert row["us"]["source"] and row["us"]["confidence"] in ("law", "memory"), row
            assert row["us"]["status"] in ("exempt", "certified", "no", "unclear"), row
            assert bool(row["us"].get("names")) == (row["us"]["status"] != "no"), row
        if "eu" in row:
            assert row["eu"]["use"] in USES, row
    for row in TABLE["not-colour"]:
        assert row["source"] and row["confidence"] in ("law", "memory"), row
        assert set(row["markets"]) <= set(MARKETS), row
    assert TABLE["lakes"]["source"] and TABLE["lakes"]["confidence"] == "law"


def test_annex_iv_is_whole_and_the_us_list_counts_47():
    # Annex IV: numbers 1 to 153 and 126a; 21 CFR 73 and 74: 19 exempt and 28 certified among them
    annex = [row for row in TABLE["colour"] if "eu" in row]
    assert len(annex) == 154
    status = [row["us"]["status"] for row in annex]
    assert (status.count("exempt"), status.count("certified")) == (19, 28)
    assert len({(key(row["name"]), row.get("nano", False)) for row in TABLE["colour"]}) == len(TABLE["colour"])


@pytest.mark.parametrize(("name", "lips", "eyes"), [
    # 21 CFR 73.2725, .2327, .2326, .2299, .2645: external use and eye area, not lips
    ("CI 77007", False, True), ("CI 77288", False, True), ("CI 77289", False, True), ("CI 77510", False, True),
    ("CI 77000", False, True),
    # 21 CFR 74: externally applied only
    ("CI 14700", False, False), ("CI 60725", False, False), ("CI 47000", False, False),
    # 21 CFR 74: the only certified colours of the eye area
    ("CI 42090", True, True), ("CI 19140", True, True), ("CI 16035", True, True), ("CI 61570", True, True),
])
def test_where_the_us_allows_a_colour(name, lips, eyes):
    row = next(row for row in TABLE["colour"] if row["name"] == name)
    assert (row["us"]["lips"], row["us"]["eyes"]) == (lips, eyes)


@pytest.mark.parametrize(("name", "limit"), [("CI 45370", 5.0), ("CI 17200", 3.0), ("CI 12085", 3.0)])
def test_us_lip_limits(name, limit):
    # 21 CFR 74.2255, .2333, .2336
    row = next(row for row in TABLE["colour"] if row["name"] == name)
    assert row["us"]["lip-max-percent"] == limit
