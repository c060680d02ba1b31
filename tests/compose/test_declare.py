from decimal import Decimal

import pytest
from composing import composed, contained, declared, line, material, names_of, of, rules_of, to_ph

from labeltool.compose.model import ExtraName, Percent


def extra(market, name, nominal):
    value = Decimal(str(nominal))
    return ExtraName(market, name, Percent(value, value, value))


# Made up to hold every case of the order at once (derived from 21 CFR 701.3(a) and (f); no published example was found)
PRESSED = [
    ("Aqua", 70), ("Glycerin", 5), ("Mica", 12), ("scent", 1), ("Phenoxyethanol", "0.9"), ("CI 77491", 8),
    ("Squalane", "3.1"),
]
SCENT = material("scent", of("Limonene"), fragrance=True)


def test_us_order_of_the_made_up_example():
    # over 1 % by weight; then what is 1 % or less; then colour additives of any concentration, mica among them
    assert names_of(composed(PRESSED, [SCENT]), "US") == [
        "Water", "Glycerin", "Squalane", "Fragrance", "Phenoxyethanol", "Mica", "Iron Oxides",
    ]


def test_eu_order_of_the_made_up_example():
    # mica is an ingredient in its place by weight; iron oxides at 8 % may stand last
    assert names_of(composed(PRESSED, [SCENT]), "EU") == [
        "Aqua", "Mica", "Glycerin", "Squalane", "Parfum", "Phenoxyethanol", "CI 77491",
    ]


def test_canadian_order_of_the_made_up_example():
    # parfum may stand in its place by weight; by weight, below 1 % too, is valid
    names = names_of(composed(PRESSED, [SCENT]), "CA")
    assert [name for name in names if name not in ("Mica", "CI 77491")] == [
        "Aqua", "Glycerin", "Squalane", "Parfum", "Phenoxyethanol",
    ]


def test_the_joint_order_serves_all_markets():
    # where the US would put mica last, the EU's place by weight is the strictest
    assert names_of(composed(PRESSED, [SCENT]), "UK", "EU", "US") == [
        "Aqua (Water)", "Mica", "Glycerin", "Squalane", "Parfum (Fragrance)", "Phenoxyethanol",
        "CI 77491 (Iron Oxides)",
    ]


def test_every_market_has_its_list_and_one_market_alone_is_the_joint_one():
    declaration, _ = declared(composed(PRESSED, [SCENT]), "UK", "US")
    assert [item.market for item in declaration.markets] == ["UK", "US"]
    assert declaration.joint_markets == ("UK", "US")
    alone, _ = declared(composed(PRESSED, [SCENT]), "US")
    assert alone.joint == alone.markets[0]
    assert alone.joint.text == ", ".join(alone.joint.names)


def test_each_market_carries_the_extra_names_it_asks_for_and_the_joint_list_the_union():
    extras = [extra("EU", "Pinene", "0.02"), extra("EU", "Linalool", "0.01"), extra("UK", "Linalool", "0.01")]
    declaration, _ = declared(composed([("Aqua", 100)]), "UK", "EU", extras=extras)
    assert [item.names for item in declaration.markets] == [("Aqua", "Linalool"), ("Aqua", "Pinene", "Linalool")]
    assert declaration.joint.names == ("Aqua", "Pinene", "Linalool")


def test_an_extra_name_is_not_printed_twice_when_it_is_an_ingredient_in_any_spelling():
    composition = composed([("Aqua", 99), ("Benzyl Alcohol", 1)])
    assert names_of(composition, "EU", "US", extras=[extra("EU", "benzyl alcohol", "1.3")]) == [
        "Aqua (Water)", "Benzyl Alcohol",
    ]


def test_extra_names_by_weight_or_before_the_colorants():
    composition = composed([("Aqua", 90), ("Parfum", 4), ("Glycerin", 1), ("CI 77891", 5)])
    extras = [extra("EU", "Linalool", 2), extra("EU", "Citral", "0.5")]
    assert names_of(composition, "EU", extras=extras) == [
        "Aqua", "Parfum", "Linalool", "Glycerin", "Citral", "CI 77891",
    ]


def test_several_numbers_of_one_us_colour_are_one_name_in_the_us():
    composition = composed([("Talc", 90), ("CI 77491", 4), ("CI 77492", 3), ("CI 77499", 3)])
    assert names_of(composition, "US") == ["Talc", "Iron Oxides"]
    assert len(names_of(composition, "EU")) == 4


def test_titanium_dioxide_for_colour_and_for_opacity_is_one_us_ingredient_with_its_sum():
    # the same ingredient of two raw materials is summed before it is placed (21 CFR 701.3(a))
    pigment = material("pigment", of("Titanium Dioxide", colorant=True))
    composition = composed([("Aqua", 88), ("Glycerin", 5), ("Titanium Dioxide", 4), ("pigment", 3)], [pigment])
    assert names_of(composition, "US") == ["Water", "Titanium Dioxide", "Glycerin"]
    assert names_of(composition, "EU") == ["Aqua", "Glycerin", "Titanium Dioxide", "CI 77891"]


def test_names_with_commas_stay_whole():
    declaration, _ = declared(composed([("Aqua", 98), ("1,2-Hexanediol", 2)]), "EU")
    assert declaration.joint.names == ("Aqua", "1,2-Hexanediol")
    assert declaration.joint.text == "Aqua, 1,2-Hexanediol"


def test_may_contain_by_market_and_without_what_is_in_the_list():
    composition = composed([("Talc", 98), ("CI 77491", 2)], may=("CI 77491", "CI 77492", "CI 77891"))
    declaration, findings = declared(composition, "EU", "US")
    eu, us = declaration.markets
    assert eu.text == "Talc, CI 77491 [+/- CI 77492, CI 77891]"
    assert eu.names == ("Talc", "CI 77491", "CI 77492", "CI 77891") and eu.may_contain == ("CI 77492", "CI 77891")
    assert us.text == "Talc, Iron Oxides. May contain: Titanium Dioxide"
    assert declaration.joint.text == (
        "Talc, CI 77491 (Iron Oxides). May contain: CI 77492 (Iron Oxides), CI 77891 (Titanium Dioxide)"
    )
    assert ("may-contain.twice", None, "note") in rules_of(findings)
    assert [item.inci for item in declaration.lines].count("CI 77491") == 1


def test_for_the_us_alone_mica_is_a_colorant_and_out_of_the_order():
    pearl = material("pearl", of("Mica", 40, 60), of("Talc", 40, 60))
    composition = composed([("Squalane", 95), ("pearl", 5)], [pearl])
    us, _ = declared(composition, "US")
    assert [(item.inci, item.group) for item in us.lines] == [
        ("Squalane", "main"), ("Mica", "colorant"), ("Talc", "main"),
    ]
    assert us.doubts == ()
    both, _ = declared(composition, "US", "EU")
    assert [item.group for item in both.lines] == ["main", "main", "main"]
    assert [(item.before, item.after) for item in both.doubts] == [("Mica", "Talc")]


def test_ph_adjusters_are_declared_in_every_market():
    composition = composed([("Aqua", 100), to_ph("Sodium Hydroxide", "0.2")])
    for market in ("UK", "EU", "US", "CA"):
        assert names_of(composition, market)[1] == "Sodium Hydroxide"


def test_an_oil_declared_as_parfum_hides_its_name_but_not_its_allergens():
    limonene = (contained("Limonene", "0.4"),)
    cedar = material("cedar", of("Cedrus Atlantica Wood Oil"), fragrance=True, allergens=limonene)
    composition = composed([("Aqua", 99), ("cedar", 1)], [cedar])
    found = names_of(composition, "EU", extras=[extra("EU", "Cedrus Atlantica Oil/Extract", "0.99")])
    assert found == ["Aqua", "Parfum", "Cedrus Atlantica Oil/Extract"]
    assert any(item.inci == "Limonene" and item.contained for item in composition.substances)
    assert line(composition, "Parfum").percent.nominal == 1


@pytest.mark.parametrize("market", ["UK", "EU", "US", "CA"])
def test_below_one_percent_by_weight_too(market):
    composition = composed([("Aqua", 98), ("Squalane", "0.3"), ("Tocopherol", "0.9"), ("Panthenol", "0.8")])
    assert names_of(composition, market)[1:] == ["Tocopherol", "Panthenol", "Squalane"]
