"""How raw materials become lines: practice under Regulation (EC) No 1223/2009, Art. 19(1)(g), or as a test says."""

from decimal import Decimal

import pytest
from composing import composed, contained, line, material, numbers, of, row, to_ph


def listed(composition):
    return [(item.inci, item.percent.nominal) for item in composition.lines]


def test_the_same_name_of_several_materials_is_one_line_with_the_sum():
    lactic = material("lactic-solution", of("Lactic Acid", 80), of("AQUA", 20))
    composition = composed([("water", 95), ("lactic-solution", 5)], [material("water", of("aqua")), lactic])
    assert listed(composition) == [("Aqua", 96), ("Lactic Acid", 4)]
    assert line(composition, "Aqua").sources == ("water", "lactic-solution")


def test_an_extract_in_solvents_is_split_into_its_parts():
    # 5 % of 70 % Glycerin, 28 % Aqua, 2 % extract are 3.5, 1.4 and 0.1 %
    extract = material("extract", of("Glycerin", 70), of("Aqua", 28), of("Calendula Officinalis Flower Extract", 2))
    composition = composed([("Aqua", 95), ("extract", 5)], [extract])
    assert listed(composition) == [
        ("Aqua", Decimal("96.4")),
        ("Glycerin", Decimal("3.5")),
        ("Calendula Officinalis Flower Extract", Decimal("0.1")),
    ]


def test_a_blend_is_never_one_line():
    blend = material("preservative blend", of("Phenoxyethanol", 90), of("Ethylhexylglycerin", 10))
    names = [name for name, _ in listed(composed([("Aqua", 99), ("preservative blend", 1)], [blend]))]
    assert names == ["Aqua", "Phenoxyethanol", "Ethylhexylglycerin"]


def test_a_hydrosol_is_one_line_and_its_preservative_another():
    # water is not split off from a floral water; its preservative is listed
    rose = material("rose", of("Rosa Damascena Flower Water", "99.2"), of("Potassium Sorbate", "0.8"))
    composition = composed([("rose", 50), ("Aqua", 50)], [rose])
    assert ("Rosa Damascena Flower Water", Decimal("49.6")) in listed(composition)
    assert line(composition, "Aqua").percent.nominal == 50
    assert line(composition, "Potassium Sorbate").percent.nominal == Decimal("0.4")


def test_perfume_materials_fold_into_one_parfum_line_with_their_exact_weight():
    # Art. 19(1)(g): perfume compositions and their raw materials are "parfum", in their place by weight
    cedar = material("cedar", of("Cedrus Atlantica Wood Oil", 60, 100), of("Limonene", 0, 40), fragrance=True)
    scent = material("scent", of("Parfum", 90), of("Dipropylene Glycol", 10), fragrance=True)
    composition = composed([("Aqua", "97.5"), ("cedar", 1), ("scent", "1.5")], [cedar, scent])
    assert listed(composition) == [("Aqua", Decimal("97.5")), ("Parfum", Decimal("2.5"))]
    parfum = line(composition, "Parfum")
    assert parfum.perfume and parfum.sources == ("scent", "cedar")
    assert numbers(parfum.percent) == (Decimal("2.5"),) * 3


def test_an_essential_oil_for_another_purpose_stands_under_its_own_name():
    tea_tree = material("tea-tree", of("Melaleuca Alternifolia Leaf Oil"), allergens=(contained("Limonene", 1),))
    composition = composed([("Aqua", 99), ("tea-tree", 1)], [tea_tree])
    assert [name for name, _ in listed(composition)] == ["Aqua", "Melaleuca Alternifolia Leaf Oil"]


def test_nano_and_not_nano_are_two_lines():
    fine = material("fine", of("Silica", nano=True))
    written = material("written", of("Silica (nano)"))
    composition = composed([("Aqua", 90), ("Silica", 4), ("fine", 3), ("written", 3)], [fine, written])
    assert [(item.inci, item.nano, item.percent.nominal) for item in composition.lines[1:]] == [
        ("Silica", True, 6), ("Silica", False, 4),
    ]


def test_as_made_replaces_what_was_added():
    # The regulation is silent on soap: both systems are met, and the maker says which
    made_of = (of("Olea Europaea Fruit Oil", 75), of("Aqua", 15), of("Sodium Hydroxide", 10))
    as_made = (of("Sodium Olivate", 77), of("Aqua", 15), of("Glycerin", 8))
    added = composed([("base", 100)], [material("base", *made_of)])
    assert [name for name, _ in listed(added)] == ["Olea Europaea Fruit Oil", "Aqua", "Sodium Hydroxide"]
    made = composed([("base", 100)], [material("base", *made_of, as_made=as_made)])
    assert listed(made) == [("Sodium Olivate", 77), ("Aqua", 15), ("Glycerin", 8)]


def test_a_ph_adjuster_is_always_declared_counted_as_nothing_to_its_most():
    composition = composed([("Aqua", 100), to_ph("Citric Acid", "0.3"), to_ph("Sodium Hydroxide", 0)])
    assert numbers(line(composition, "Citric Acid").percent) == (0, 0, Decimal("0.3"))
    assert numbers(line(composition, "Sodium Hydroxide").percent) == (0, 0, 0)
    assert line(composition, "Citric Acid").group == "minor"


def test_what_is_not_in_the_product_is_not_declared():
    composition = composed([("Aqua", 100), ("Glycerin", 0)])
    assert [name for name, _ in listed(composition)] == ["Aqua"]


@pytest.mark.parametrize(("share", "group"), [("1", "main"), ("0.9999999999999", "minor"), ("1.0001", "main")])
def test_exactly_one_percent_is_in_the_ordered_part(share, group):
    # Art. 19(1)(g): only concentrations of less than 1 % are free
    composition = composed([("Aqua", 100 - Decimal(share)), ("Glycerin", share)])
    assert line(composition, "Glycerin").group == group


def test_colorants_come_after_the_others_and_may_contain_last():
    composition = composed([("CI 77891", 40), ("Aqua", 59), ("Glycerin", 1)], may=("CI 77492", "ci77499"))
    assert [(item.inci, item.group) for item in composition.lines] == [
        ("Aqua", "main"), ("Glycerin", "main"), ("CI 77891", "colorant"),
        ("CI 77492", "may-contain"), ("CI 77499", "may-contain"),
    ]


def test_a_pigment_by_its_chemical_name_is_declared_by_its_number():
    pigment = material("pigment", of("Titanium Dioxide", colorant=True))
    opacifier = material("opacifier", of("Titanium Dioxide"))
    composition = composed([("Aqua", 96), ("pigment", 2), ("opacifier", 2)], [pigment, opacifier])
    assert [(item.inci, item.group) for item in composition.lines] == [
        ("Aqua", "main"), ("Titanium Dioxide", "main"), ("CI 77891", "colorant"),
    ]


def test_the_makers_word_on_a_colorant_goes_before_the_tables():
    chalk = material("chalk", of("CI 77220", colorant=False))
    only_us = material("only-us", of("Titanium Dioxide", colorant=("US",)))
    composition = composed([("Aqua", 90), ("chalk", 5), ("only-us", 5)], [chalk, only_us])
    assert line(composition, "CI 77220").colorant == ()
    assert line(composition, "Titanium Dioxide").colorant == ("US",)


def test_a_stearate_that_colours_keeps_the_name_of_the_one_used():
    # Annex IV/150
    composition = composed([("Talc", 90), ("white", 10)], [material("white", of("Zinc Stearate", colorant=True))])
    assert line(composition, "Zinc Stearate").group == "colorant"


def test_ties_stand_by_name_and_ranges_by_their_nominal():
    blend = material("blend", of("Squalane", 40, 60), of("Tocopherol", 40, 60))
    composition = composed([("Aqua", 80), ("Glycerin", 10), ("blend", 10)], [blend])
    assert listed(composition) == [("Aqua", 80), ("Glycerin", 10), ("Squalane", 5), ("Tocopherol", 5)]


def test_sources_stand_by_what_they_bring_at_the_nominal_not_at_the_most():
    steady = material("steady", of("Aqua", 50), of("Glycerin", 50))
    wide = material("wide", of("Aqua", 0, 90), of("Squalane", 10, 100))
    composition = composed([("steady", 50), ("wide", 50)], [steady, wide])
    assert line(composition, "Aqua").sources == ("steady", "wide")
    assert line(composed([("Aqua", 1), ("steady", 99)], [steady]), "Aqua").sources == ("steady", "Aqua")


def test_market_names_and_purposes_come_along():
    one = material("one", of("Aqua", names=(("US", "Water"),), purpose="solvent"))
    composition = composed([row("one", 60, purpose="carrier"), row("Aqua", 40)], [one])
    assert line(composition, "Aqua").names == (("US", "Water"),)
    assert line(composition, "Aqua").purposes == ("carrier",)
