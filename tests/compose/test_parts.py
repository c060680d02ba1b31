from decimal import Decimal
from fractions import Fraction

import pytest
from composing import composed, contained, formula, line, material, numbers, of, row, span, to_ph

from labeltool.compose.parts import parts_of, parts_of_masses
from labeltool.errors import InputError
from labeltool.formula.model import Material

CITRIC = formula(row("acid", 25), row("water", 75), key="citric-solution")
KNOWN = {
    "acid": material("acid", of("Citric Acid")),
    "water": material("water", of("Aqua")),
    "oil": material("oil", of("Squalane")),
    "citric-solution": Material("citric-solution", "", formula="citric-solution"),
}


def shares(parts):
    return [(part.material.key, part.low, part.nominal, part.high) for part in parts]


def test_percent_rows_are_fixed_shares():
    parts = parts_of(formula(row("water", 90), row("oil", "10")), KNOWN, {})
    assert shares(parts) == [("water", 90, 90, 90), ("oil", 10, 10, 10)]


def test_a_to_ph_row_is_nothing_to_its_most_on_top_and_a_ph_adjuster():
    part = parts_of(formula(to_ph("acid", "0.3")), KNOWN, {})[0]
    assert (part.low, part.nominal, part.high) == (0, 0, Fraction(3, 10))
    assert part.purpose == "ph-adjuster" and part.always
    assert parts_of(formula(to_ph("acid", 1, purpose="exfoliant")), KNOWN, {})[0].purpose == "exfoliant"


def test_a_material_made_here_becomes_the_rows_of_its_formula():
    parts = parts_of(formula(row("citric-solution", 4)), KNOWN, {"citric-solution": CITRIC})
    assert shares(parts) == [("acid", 1, 1, 1), ("water", 3, 3, 3)]
    assert {part.source for part in parts} == {"citric-solution"}


def test_made_here_within_made_here_and_under_a_to_ph_row():
    strong = formula(row("citric-solution", 50), row("oil", 50), key="strong")
    known = KNOWN | {"strong": Material("strong", "", formula="strong")}
    made = {"strong": strong, "citric-solution": CITRIC}
    parts = parts_of(formula(row("strong", 8)), known, made)
    assert shares(parts) == [("acid", 1, 1, 1), ("water", 3, 3, 3), ("oil", 4, 4, 4)]
    varying = parts_of(formula(row("water", 100), to_ph("strong", 8)), known, made)[1:]
    assert [(part.low, part.high) for part in varying] == [(0, 1), (0, 3), (0, 4)]
    assert len({part.tie for part in varying}) == 1 and varying[0].tie


def test_two_to_ph_rows_have_ties_of_their_own():
    twice = formula(to_ph("citric-solution", 1), to_ph("citric-solution", 1))
    parts = parts_of(twice, KNOWN, {"citric-solution": CITRIC})
    assert len({part.tie for part in parts}) == 2


def test_a_ph_adjuster_made_here_is_declared_even_where_none_is_planned():
    composition = composed([row("oil", 100), to_ph("citric-solution", 0)], KNOWN.values(), {"citric-solution": CITRIC})
    assert [item.inci for item in composition.lines] == ["Squalane", "Aqua", "Citric Acid"]


def test_a_perfume_made_here_is_perfume_all_through():
    scent = Material("scent", "", formula="scent", fragrance=True, allergens=(contained("Linalool", 1),))
    made = {"scent": formula(row("oil", 60), row("acid", 40), key="scent")}
    composition = composed([row("water", 99), row("scent", 1)], [*KNOWN.values(), scent], made)
    assert [item.inci for item in composition.lines] == ["Aqua", "Parfum"]
    assert numbers(line(composition, "Parfum").percent) == (1, 1, 1)
    linalool = [item for item in composition.substances if item.inci == "Linalool"]
    assert [(item.contained, item.percent.nominal) for item in linalool] == [(True, Decimal("0.01"))]


def test_made_here_and_declared_as_made():
    soap = Material("soap", "", formula="soap", as_made=(of("Sodium Olivate", 80), of("Glycerin", 20)))
    made = {"soap": formula(row("oil", 90), row("lye", 10), key="soap")}
    known = [*KNOWN.values(), soap, material("lye", of("Sodium Hydroxide"))]
    composition = composed([row("soap", 100)], known, made)
    assert [item.inci for item in composition.lines] == ["Sodium Olivate", "Glycerin"]
    reacted = {item.inci for item in composition.substances if item.purposes == ("reacted",)}
    assert reacted == {"Squalane", "Sodium Hydroxide"}


def test_a_circle_is_told_with_its_way():
    known = {"a": Material("a", "", formula="a"), "b": Material("b", "", formula="b")}
    made = {"a": formula(row("b", 100), key="a"), "b": formula(row("a", 100), key="b")}
    with pytest.raises(InputError, match="a -> b -> a"):
        parts_of(formula(row("a", 100)), known, made)


def test_missing_materials_and_formulas_are_named():
    with pytest.raises(InputError, match="'nothing'"):
        parts_of(formula(row("nothing", 100)), KNOWN, {})
    with pytest.raises(InputError, match="'citric-solution'"):
        parts_of(formula(row("citric-solution", 100)), KNOWN, {})


def test_masses_become_percents_of_their_total():
    masses = [(KNOWN["water"], Decimal("45.5")), (KNOWN["oil"], Decimal("19.5")), (KNOWN["acid"], Decimal(0))]
    assert shares(parts_of_masses(masses, KNOWN, {})) == [("water", 70, 70, 70), ("oil", 30, 30, 30)]


def test_a_weighed_material_made_here_is_expanded_and_keeps_its_purpose():
    masses = [(KNOWN["water"], Decimal(96)), (KNOWN["citric-solution"], Decimal(4))]
    parts = parts_of_masses(masses, KNOWN, {"citric-solution": CITRIC}, {"citric-solution": "ph-adjuster"})
    assert shares(parts) == [("water", 96, 96, 96), ("acid", 1, 1, 1), ("water", 3, 3, 3)]
    assert parts[1].purpose == "ph-adjuster"


@pytest.mark.parametrize("masses", [[], [(KNOWN["water"], Decimal(0))], [(KNOWN["water"], Decimal(-1))]])
def test_nothing_weighed_or_less_than_nothing_is_refused(masses):
    with pytest.raises(InputError):
        parts_of_masses(masses, KNOWN, {})


def test_a_lots_own_composition_stands_for_its_key():
    lot = material("oil", of("Squalane", 90), of("Tocopherol", 10))
    parts = parts_of_masses([(lot, Decimal(5))], KNOWN, {})
    assert parts[0].material.made_of[1].percent == span(10)
