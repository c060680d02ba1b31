from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from rule_samples import held

from labeltool import tables
from labeltool.rules.amounts import amounts_of, decimal, keys, molar_table, total

TABLE = tables.toml("rules", "molar")
MOLAR = molar_table(TABLE)


def mass(formula: str) -> Decimal:
    weights = TABLE["weights"]
    parts = re.findall(r"([A-Z][a-z]?)(\d*)", formula)
    assert "".join(element + count for element, count in parts) == formula
    return sum((Decimal(weights[element]) * int(count or 1) for element, count in parts), Decimal(0))


@pytest.mark.parametrize("row", TABLE["molar"], ids=lambda row: row["name"])
def test_molar_masses_follow_from_the_formula(row):
    assert Decimal(row["mass"]) == mass(row["formula"]).quantize(Decimal("0.001"))


@pytest.mark.parametrize("row", [row for row in TABLE["molar"] if "holds" in row], ids=lambda row: row["name"])
def test_every_basis_has_a_molar_mass_and_weighs_less_than_what_holds_it(row):
    for basis, moles in row["holds"].items():
        base = MOLAR.find(basis)
        assert base is not None
        if basis not in ("Sodium Hydroxide", "Formaldehyde"):  # lithium is lighter; a release takes up water
            assert moles * base.mass <= Decimal(row["mass"])


def test_names_are_found_in_any_spelling():
    there = amounts_of((held("Lavandula  angustifolia (Lavender) OIL", "1"), held("\u03b1-Pinene", "2")))
    assert [item.percent.low for item in there.of(("Lavandula Angustifolia Oil",))] == [Decimal(1)]
    assert [item.percent.low for item in there.of(("Alpha-Pinene",))] == [Decimal(2)]
    assert keys("CI 77891") == ("ci77891",)


def test_a_substance_found_by_two_names_counts_once():
    there = amounts_of((held("Linalool", "1"),))
    assert len(there.of(("Linalool", "linalool", "LINALOOL"))) == 1


def test_what_cannot_be_there_is_not_held():
    assert amounts_of((held("Linalool", "0"),)).all == ()


def test_salts_count_as_acid_and_the_acid_as_itself():
    there = (held("Sodium Benzoate", "1.44105"), held("Benzoic Acid", "1"))
    amount = total(there, "Benzoic Acid", MOLAR)
    assert decimal(amount.low) == Decimal("2.22123")
    assert amount.exact


def test_two_acids_of_a_calcium_salt_count_twice():
    factor = MOLAR.factor("Calcium Propionate", "Propionic Acid")
    assert factor == 2 * Fraction("74.079") / Fraction("186.220")


def test_without_a_molar_mass_a_salt_counts_in_full_and_says_so():
    amount = total((held("Zinc Coco-Sulfate", "3"),), "Zinc", MOLAR)
    assert amount.low == 3 and not amount.exact


def test_decimals_have_twelve_digits_and_no_zeros_at_the_end():
    assert decimal(Fraction(1, 10000000)) == Decimal("0.0000001")
    assert str(decimal(Fraction(700))) == "700"
    assert str(decimal(Fraction(1, 3))) == "0.333333333333"
