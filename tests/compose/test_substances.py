from decimal import Decimal

from composing import composed, contained, material, numbers, of, row, to_ph


def found(composition, inci):
    return [item for item in composition.substances if item.inci == inci]


def test_what_is_inside_a_perfume_is_kept_under_its_own_name():
    limonene = (contained("limonene", "0.4"),)
    cedar = material("cedar", of("Cedrus Atlantica Wood Oil"), fragrance=True, allergens=limonene)
    composition = composed([("Aqua", 99), ("cedar", 1)], [cedar])
    assert [item.perfume for item in found(composition, "Cedrus Atlantica Wood Oil")] == [True]
    limonene = found(composition, "Limonene")
    assert [(item.contained, item.perfume, item.percent.high) for item in limonene] == [(True, True, Decimal("0.004"))]


def test_an_allergen_counts_whether_or_not_its_material_is_perfume_and_its_nominal_is_the_middle():
    lemon = material("lemon", of("Citrus Limon Peel Oil"), allergens=(contained("Limonene", 60, 70),))
    limonene = found(composed([("Aqua", 98), ("lemon", 2)], [lemon]), "Limonene")[0]
    assert numbers(limonene.percent) == (Decimal("1.2"), Decimal("1.3"), Decimal("1.4"))
    assert limonene.contained and not limonene.perfume and limonene.sources == ("lemon",)


def test_contained_allergens_of_several_materials_add_up():
    one = material("one", of("Citrus Limon Peel Oil"), allergens=(contained("Linalool", 1),))
    two = material("two", of("Lavandula Angustifolia Oil"), allergens=(contained("LINALOOL", 30),))
    composition = composed([("Aqua", 98), ("one", 1), ("two", 1)], [one, two])
    assert [item.percent.nominal for item in found(composition, "Linalool")] == [Decimal("0.31")]


def test_open_and_contained_shares_stay_apart():
    lemon = material("lemon", of("Citrus Limon Peel Oil"), allergens=(contained("Limonene", 60),))
    composition = composed([("Aqua", 98), ("lemon", 1), ("Limonene", 1)], [lemon])
    assert {(item.contained, item.percent.nominal) for item in found(composition, "Limonene")} == {
        (False, Decimal(1)), (True, Decimal("0.6")),
    }


def test_a_preservative_carried_in_by_a_raw_material_adds_to_the_one_added():
    # no carry-over exemption in Art. 19: it is listed and counts toward the Annex V maximum
    rose = material("rose", of("Rosa Damascena Flower Water", "99.5"), of("Phenoxyethanol", "0.5"))
    composition = composed([("rose", 20), ("Aqua", "79.1"), ("Phenoxyethanol", "0.9")], [rose])
    assert sum(item.percent.high for item in found(composition, "Phenoxyethanol")) == Decimal(1)


def test_each_purpose_has_its_own_share():
    rows = [("Aqua", 94), row("Lactic Acid", 5), row("Lactic Acid", 1, purpose="ph-adjuster"), to_ph("Citric Acid", 1)]
    composition = composed(rows)
    assert {(item.purposes, item.percent.nominal) for item in found(composition, "Lactic Acid")} == {
        ((), Decimal(5)), (("ph-adjuster",), Decimal(1)),
    }
    assert [item.purposes for item in found(composition, "Citric Acid")] == [("ph-adjuster",)]


def test_a_components_purpose_goes_before_the_rows_in_a_blend():
    blend = material("blend", of("Salicylic Acid", 50, purpose="preservative"), of("Glycerin", 50))
    composition = composed([row("Aqua", 99), row("blend", 1, purpose="humectant")], [blend])
    assert found(composition, "Salicylic Acid")[0].purposes == ("preservative",)
    assert found(composition, "Glycerin")[0].purposes == ("humectant",)


def test_as_made_counts_once_and_keeps_what_reacted():
    base = material(
        "base", of("Olea Europaea Fruit Oil", 75), of("Aqua", 15), of("Sodium Hydroxide", 10),
        as_made=(of("Sodium Olivate", 77), of("Aqua", 15), of("Glycerin", 8)), allergens=(contained("Linalool", 1),),
    )
    composition = composed([("base", 100)], [base])
    assert {(item.inci, item.percent.nominal, item.purposes) for item in composition.substances} == {
        ("Sodium Olivate", 77, ()), ("Aqua", 15, ()), ("Glycerin", 8, ()), ("Linalool", 1, ()),
        ("Olea Europaea Fruit Oil", 75, ("reacted",)), ("Sodium Hydroxide", 10, ("reacted",)),
    }


def test_nano_is_a_substance_of_its_own():
    composition = composed([("Silica", 50), ("fine", 50)], [material("fine", of("Silica", nano=True))])
    assert [(item.inci, item.nano) for item in composition.substances] == [("Silica", False), ("Silica", True)]
