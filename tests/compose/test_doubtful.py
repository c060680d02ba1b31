import pytest
from composing import composed, declared, material, of


def found(rows, *markets, materials=(), rule="name.unknown"):
    findings = declared(composed(rows, materials), *markets)[1]
    return [item for item in findings if item.rule == rule]


@pytest.mark.parametrize(("written", "meant"), [
    ("shea butter", "'Butyrospermum Parkii Butter'"), ("Glycerine", "'Glycerin'"), ("Water", "'Aqua'"),
    ("Iron Oxide Red", "CI 77491"), ("Tartrazine", "CI 19140"),
])
def test_an_everyday_name_or_a_slip_is_asked_about(written, meant):
    notes = found([("Squalane", 90), (written, 10)], "EU")
    assert len(notes) == 1 and notes[0].level == "note"
    assert repr(written) in notes[0].text and meant in notes[0].text


def test_unknown_names_without_a_neighbour_are_listed_once():
    notes = found([("Aqua", 80), ("Quixotic Ferment", 10), ("Zebra Wax", 10)], "EU")
    assert len(notes) == 1
    assert "Quixotic Ferment; Zebra Wax" in notes[0].text


def test_known_names_in_any_spelling_are_not_mentioned():
    assert found([("AQUA", 80), ("cetearylalcohol", 10), ("ci 77491", 5), ("Mica", 5)], "UK", "EU", "US", "CA") == []


def test_a_us_name_is_known_where_only_the_us_is_asked():
    assert found([("Water", 100)], "US") == []
    assert len(found([("Water", 100)], "US", "EU")) == 1


def test_what_is_inside_a_perfume_is_not_asked_about():
    scent = material("scent", of("Somebody's Accord"), fragrance=True)
    assert found([("Aqua", 99), ("scent", 1)], "EU", materials=[scent]) == []


def test_an_english_name_of_the_schedule_alone_is_no_form_for_canada():
    # Cosmetic Regulations, C.R.C., c. 869, 21.2(4): "Water" alone is none of the three forms
    warnings = found([("Water", 100)], "CA", rule="name.canada")
    assert [(item.level, item.market) for item in warnings] == [("warning", "CA")]
    assert "Aqua, Water/Eau, or Aqua/Water/Eau" in warnings[0].limit
    assert found([("Aqua", 100)], "CA", rule="name.canada") == []
    own = material("own", of("Water", names=(("CA", "Water/Eau"),)))
    assert found([("own", 100)], "CA", materials=[own], rule="name.canada") == []
    assert found([("Water", 100)], "EU", rule="name.canada") == []


def test_materials_that_name_one_ingredient_differently_are_told_apart():
    one = material("one", of("Aqua", names=(("US", "Water"),)))
    two = material("two", of("Aqua", names=(("US", "Purified Water"),)))
    conflicts = found([("one", 50), ("two", 50)], "US", materials=[one, two], rule="name.conflict")
    assert len(conflicts) == 1 and "Purified Water; Water" in conflicts[0].text
    assert found([("one", 50), ("two", 50)], "EU", materials=[one, two], rule="name.conflict") == []
