"""Preservatives: as acid, single and summed, by use and by purpose. Sources: the row named beside each check."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from rule_samples import CREAM, FACE, LOTION, SHAMPOO, WASH, advised, held, limits, one, percent, rules, texts

from labeltool.formula.model import Product

RINSE = Product(name="x", function="Conditioner", use="rinse-off", body_area=("hair",), form="cream")
KIDS = Product(name="x", function="Lotion", use="leave-on", body_area=("body",), form="cream", users=("under-3",))


def states(product: Product, ref: str, *substances, **more):
    return [(item.state, item.level) for item in limits(advised(product, *substances, **more), ref)]


# V/1: as benzoic acid; leave-on 0.5, rinse-off 2.5, oral 1.7. 0.59 % sodium benzoate is 0.5 % acid.
@pytest.mark.parametrize(
    ("product", "amount", "state"),
    [(CREAM, "0.59", "within"), (CREAM, "0.591", "over"), (WASH, "2.9", "within"), (WASH, "2.96", "over")],
)
def test_sodium_benzoate_counts_as_benzoic_acid_by_use(product, amount, state):
    assert one(advised(product, held("Sodium Benzoate", amount)), "V/1").state == state


def test_the_acid_and_its_salt_are_one_sum():
    both = (held("Sodium Benzoate", "0.4"), held("Benzoic Acid", "0.2"))
    found = one(advised(CREAM, *both), "V/1")
    assert (found.state, found.inci) == ("over", "Benzoic Acid + Sodium Benzoate")
    assert one(advised(CREAM, both[0]), "V/1").state == "within"


# V/1a: potassium benzoate gets 0.5 % even where it is rinsed off, unlike the sodium salt.
def test_potassium_benzoate_has_the_low_limit_in_a_wash():
    assert one(advised(WASH, held("Potassium Benzoate", "0.8")), "V/1a").level == "error"
    assert limits(advised(WASH, held("Potassium Benzoate", "0.8")), "V/1") == []


# V/4: 0.6 % acid is 0.80 % potassium sorbate.
def test_potassium_sorbate_counts_as_sorbic_acid():
    assert one(advised(CREAM, held("Potassium Sorbate", "0.80")), "V/4").state == "within"
    assert one(advised(CREAM, held("Potassium Sorbate", "0.81")), "V/4").state == "over"


# V/12: 0.4 % as acid for a single ester (0.44 % methylparaben), 0.8 % for mixtures; V/12a: 0.14 % butyl + propyl.
def test_parabens_have_a_limit_each_and_one_together():
    assert states(CREAM, "V/12", held("Methylparaben", "0.44")) == [("within", "ok")]
    assert states(CREAM, "V/12", held("Methylparaben", "0.45")) == [("over", "error")]
    both = (held("Methylparaben", "0.3"), held("Ethylparaben", "0.49"))
    assert states(CREAM, "V/12", *both) == [("within", "ok"), ("over", "error"), ("within", "ok")]
    three = (held("Methylparaben", "0.44"), held("Ethylparaben", "0.44"), held("Propylparaben", "0.18"))
    assert [item.state for item in limits(advised(CREAM, *three), "V/12") if item.limit == Decimal("0.8")] == ["over"]
    assert ("over", "error") not in states(CREAM, "V/12", *three[:2])


def test_propyl_and_butyl_parabens_are_summed_as_acid():
    alone = states(CREAM, "V/12a", held("Propylparaben", "0.18"))
    assert alone == [("within", "ok")]
    both = (held("Propylparaben", "0.12"), held("Butylparaben", "0.08"))
    assert states(CREAM, "V/12a", *both)[0] == ("over", "error")


# V/57: rinse-off only (leave-on banned), 15 ppm. V/39: the 3:1 mixture, 15 ppm together, rinse-off only.
def test_methylisothiazolinone_is_for_rinse_off_only():
    assert states(WASH, "V/57", held("Methylisothiazolinone", "0.0015")) == [("within", "ok")]
    assert states(WASH, "V/57", held("Methylisothiazolinone", "0.0016")) == [("over", "error")]
    found = one(advised(CREAM, held("Methylisothiazolinone", "0.0001")), "V/57")
    assert (found.limit, found.state, found.level) == (Decimal(0), "over", "error")


def test_the_mixture_counts_both_isothiazolinones():
    mixture = (held("Methylchloroisothiazolinone", "0.0012"), held("Methylisothiazolinone", "0.0004"))
    assert states(WASH, "V/39", *mixture) == [("over", "error")]
    assert states(WASH, "V/39", mixture[0], held("Methylisothiazolinone", "0.0003")) == [("within", "ok")]


def test_the_mixture_and_the_single_one_exclude_each_other():
    more = (held("Methylchloroisothiazolinone", "0.0006"), held("Methylisothiazolinone", "0.0009"))
    assert "preservative.exclusive" in rules(advised(WASH, *more), "warning")
    just = (held("Methylchloroisothiazolinone", "0.0009"), held("Methylisothiazolinone", "0.0003"))
    assert "preservative.exclusive" not in rules(advised(WASH, *just))


# V/56: 0.02 rinse-off, 0.01 leave-on, 0.0075 deodorants; not in body lotion; not under 3 except bath, shower, shampoo.
def test_iodopropynyl_butylcarbamate_by_use_and_product():
    name = "Iodopropynyl Butylcarbamate"
    assert states(WASH, "V/56", held(name, "0.02")) == [("within", "ok")]
    assert states(CREAM, "V/56", held(name, "0.011")) == [("over", "error")]
    deodorant = Product(name="x", function="Deodorant", use="leave-on", body_area=("body",), form="cream")
    assert states(deodorant, "V/56", held(name, "0.008")) == [("over", "error")]
    assert "limit.use" in rules(advised(LOTION, held(name, "0.005")), "error")
    assert "limit.use" not in rules(advised(CREAM, held(name, "0.005")))


# III/98: levels include every use; body lotion 0.5, others 2.0, rinse-off hair 3.0.
def test_salicylic_acid_by_product_and_purpose():
    peel = held("Salicylic Acid", "1.8", purposes=("exfoliant",))
    assert one(advised(FACE, peel), "III/98").state == "within"
    assert limits(advised(FACE, peel), "V/3") == []
    assert one(advised(LOTION, peel), "III/98").level == "error"
    assert one(advised(SHAMPOO, held("Salicylic Acid", "2.9", purposes=("exfoliant",))), "III/98").state == "within"
    both = Product(name="x", function="Hair and body wash", use="rinse-off", body_area=("hair", "body"))
    assert "over" in [item.state for item in limits(advised(both, held("Salicylic Acid", "2.9")), "III/98")]


def test_salicylic_acid_as_a_preservative_counts_to_both_rows():
    found = advised(FACE, held("Salicylic Acid", "0.6", purposes=("preservative",)))
    assert (one(found, "V/3").level, one(found, "III/98").state) == ("error", "within")


# Decision: benzyl alcohol as a solvent is III/45 without a limit, as a preservative V/34 with 1 %.
@pytest.mark.parametrize(
    ("purposes", "levels"), [(("solvent",), []), ((), ["warning"]), (("preservative",), ["error"])],
)
def test_the_purpose_decides_between_two_entries(purposes, levels):
    found = advised(CREAM, held("Benzyl Alcohol", "1.5", purposes=purposes))
    assert [item.level for item in limits(found, "V/34")] == levels


def test_what_scent_brings_does_not_preserve():
    found = advised(CREAM, held("Benzyl Alcohol", "0.9"), held("Benzyl Alcohol", "0.5", contained=True),
                    held("Benzyl Alcohol", "0.5", perfume=True))
    assert one(found, "V/34").value == percent("0.9")


def test_a_preservative_with_another_purpose_and_no_other_row_warns():
    found = one(advised(CREAM, held("Phenoxyethanol", "1.5", purposes=("solvent",))), "V/29")
    assert (found.state, found.level) == ("over", "warning")


# III/286 and 287: cetrimonium and behentrimonium chloride in hair products, single and summed; 0.1 % as preservative.
def test_quats_of_a_conditioner_have_single_and_summed_limits():
    conditioning = ("conditioning",)
    cetrimonium = held("Cetrimonium Chloride", "2", purposes=conditioning)
    found = advised(RINSE, cetrimonium, held("Behentrimonium Chloride", "3.5", purposes=conditioning))
    assert one(found, "III/286").state == "within"
    assert (one(found, "III/287").state, one(found, "III/287").level) == ("over", "error")
    assert limits(found, "V/44") == []
    silent = advised(RINSE, held("Behentrimonium Chloride", "3.5"))
    assert one(silent, "V/44").level == "warning" and not rules(silent, "error")


# III/65 asks for "Avoid contact with the eyes", V/54 for "Avoid contact with eyes".
def test_two_rows_two_wordings_for_benzalkonium_chloride():
    name = "Benzalkonium Chloride"
    assert texts(advised(RINSE, held(name, "2", purposes=("conditioning",)))) == ["Avoid contact with the eyes"]
    assert texts(advised(CREAM, held(name, "0.1", purposes=("preservative",)))) == ["Avoid contact with eyes"]


# III/324: 0.06 % caps wintergreen oil in a balm.
def test_methyl_salicylate_in_a_balm_and_a_lip_balm():
    assert one(advised(CREAM, held("Methyl Salicylate", "0.07", contained=True)), "III/324").level == "error"
    lips = Product(name="x", function="Lip balm", use="leave-on", body_area=("lips",), form="balm")
    assert one(advised(lips, held("Methyl Salicylate", "0.04")), "III/324").limit == Decimal("0.03")


# V/3: the acid is barred under 3, its salts but for shampoos; each with the text where small children might use it.
def test_salicylates_and_small_children():
    text = "Not to be used for children under 3 years of age"
    assert text in texts(advised(LOTION, held("Salicylic Acid", "0.3", purposes=("preservative",))))
    assert "limit.use" in rules(advised(KIDS, held("Salicylic Acid", "0.3")), "warning")
    surely = advised(KIDS, held("Salicylic Acid", "0.3", purposes=("preservative",)))
    assert "limit.use" in rules(surely, "error")
    baby_shampoo = replace(SHAMPOO, users=("under-3",))
    assert "limit.use" not in rules(advised(baby_shampoo, held("Sodium Salicylate", "0.3")))
    assert text not in texts(advised(WASH, held("Sodium Salicylate", "0.3")))
    assert text in texts(advised(LOTION, held("Sodium Salicylate", "0.3")))


# III/380: the cell of the act with the warning was not read; the tool asks and prints nothing of its own.
def test_hexyl_salicylate_asks_for_the_text_it_does_not_know():
    found = advised(CREAM, held("Hexyl Salicylate", "0.4"))
    assert one(found, "III/380").level == "warning"
    assert "text.ask" in rules(found, "warning") and texts(found) == []


def test_a_quat_that_only_preserves_is_not_judged_as_a_conditioner():
    found = advised(RINSE, held("Cetrimonium Chloride", "0.09", purposes=("preservative",)))
    assert one(found, "V/44").state == "within" and limits(found, "III/286") == []


def test_without_a_purpose_the_uses_of_the_other_row_are_not_held_against_it():
    found = advised(LOTION, held("Behentrimonium Chloride", "0.05"))
    assert one(found, "V/44").state == "within" and limits(found, "III/287") == []


def test_without_a_purpose_the_text_of_the_other_row_is_only_proposed():
    found = advised(RINSE, held("Benzalkonium Chloride", "0.05"))
    assert texts(found) == ["Avoid contact with eyes"]
    assert texts(found, required=False) == ["Avoid contact with the eyes"]
