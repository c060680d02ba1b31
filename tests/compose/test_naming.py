import pytest
from composing import BOOK, composed, material, of

from labeltool.compose.model import Line
from labeltool.compose.naming import joint_name, market_name
from labeltool.formula.model import MARKETS


def single(component):
    return composed([("m", 100)], [material("m", component)]).lines[0]


def named(component):
    line = single(component)
    return tuple(market_name(line, market, BOOK) for market in MARKETS)


@pytest.mark.parametrize(("inci", "uk", "eu", "us", "ca"), [
    # 21 CFR 701.3(c): Water, not Aqua alone; C.R.C., c. 869, 21.2(4)(a): the EU name alone is a form Canada allows
    ("Aqua", "Aqua", "Aqua", "Water", "Aqua"),
    ("Cera Alba", "Cera Alba", "Cera Alba", "Beeswax", "Cera Alba"),
    # 21 CFR 701.3(a): fragrance; c. 869, 21.4(3): parfum
    ("Parfum", "Parfum", "Parfum", "Fragrance", "Parfum"),
    ("Butyrospermum Parkii Butter", "Butyrospermum Parkii Butter", "Butyrospermum Parkii Butter",
     "Butyrospermum Parkii (Shea) Butter", "Butyrospermum Parkii Butter"),
    # Colour names: US listed names, 21 CFR 73 and 74; CI numbers elsewhere
    ("CI 77491", "CI 77491", "CI 77491", "Iron Oxides", "CI 77491"),
    ("CI 16035", "CI 16035", "CI 16035", "FD&C Red No. 40", "CI 16035"),
    ("Red 40", "Red 40", "Red 40", "FD&C Red No. 40", "Red 40"),
    ("Mica", "Mica", "Mica", "Mica", "Mica"),
    ("Unheard Of Ferment", "Unheard Of Ferment", "Unheard Of Ferment", "Unheard Of Ferment", "Unheard Of Ferment"),
])
def test_names_by_market(inci, uk, eu, us, ca):
    assert named(of(inci)) == (uk, eu, us, ca)


def test_nano_is_said_where_the_law_asks_for_it():
    # Art. 19(1)(g): the word nano in brackets, EU and UK
    assert named(of("Silica", nano=True)) == ("Silica (nano)", "Silica (nano)", "Silica", "Silica")


def test_a_components_own_names_go_before_the_tables_and_the_eus_serve_the_uk():
    assert named(of("Aqua", names=(("US", "Purified Water"), ("EU", "Aqua Purificata")))) == (
        "Aqua Purificata", "Aqua Purificata", "Purified Water", "Aqua",
    )


def test_a_us_colour_of_several_names_is_printed_as_the_maker_says():
    assert named(of("CI 15850", names=(("US", "D&C Red No. 7"),)))[2] == "D&C Red No. 7"


@pytest.mark.parametrize(("inci", "markets", "joint"), [
    ("Aqua", ("UK", "EU", "US"), "Aqua (Water)"),
    ("Parfum", ("EU", "US"), "Parfum (Fragrance)"),
    ("CI 77491", ("UK", "US"), "CI 77491 (Iron Oxides)"),
    ("Glycerin", ("UK", "EU", "US", "CA"), "Glycerin"),
    ("Aqua", ("UK", "EU", "CA"), "Aqua"),
    # C.R.C., c. 869, 21.2(4)(c): EU name, English and French together
    ("Aqua", ("US", "CA"), "Aqua (Water/Eau)"),
    ("Mel", ("UK", "EU", "US", "CA"), "Mel (Honey/Miel)"),
    ("Parfum", ("US", "CA"), "Parfum (Fragrance)"),
    # the US form holds the EU name with a common name in brackets
    ("Butyrospermum Parkii Butter", ("EU", "US"), "Butyrospermum Parkii (Shea) Butter"),
    ("Butyrospermum Parkii Butter", ("EU", "US", "CA"), "Butyrospermum Parkii (Shea) Butter"),
    ("Candelilla Cera", ("EU", "US"), "Candelilla Cera (Euphorbia Cerifera (Candelilla) Wax)"),
])
def test_names_that_differ_are_joined_once(inci, markets, joint):
    assert joint_name(single(of(inci)), markets, BOOK) == joint


def test_nano_and_own_names_in_a_joint_list():
    silica = single(of("Silica", nano=True))
    assert joint_name(silica, ("EU", "US"), BOOK) == "Silica (nano)"
    own = single(of("Aqua", names=(("US", "Purified Water"),)))
    assert joint_name(own, ("EU", "US", "CA"), BOOK) == "Aqua (Purified Water)"


def test_a_line_of_unknown_origin_is_named_too():
    bare = Line("Aqua", single(of("Aqua")).percent, "main")
    assert market_name(bare, "US", BOOK) == "Water"
