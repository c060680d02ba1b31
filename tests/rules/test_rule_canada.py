"""Canada: Cosmetic Regulations (C.R.C., c. 869), in both languages, and the Cosmetic Ingredient Hotlist."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from rule_samples import CREAM, FACE, LOTION, advised, held, limits, one, rules, texts

from labeltool.formula.model import Product

SPRAY = Product(name="x", function="Body spray", use="leave-on", body_area=("body",), form="aerosol")
DYE = Product(name="x", function="Hair dye", use="rinse-off", body_area=("hair",), form="cream")
PPD = held("p-Phenylenediamine", "1")


def canadian(product: Product, *substances):
    return advised(product, *(substances or (held("Aqua", "90"),)), markets=("CA",))


# s. 25: signal word, primary statement in both languages, additional statement.
def test_a_pressurized_container_carries_three_texts_in_each_language():
    found = canadian(SPRAY)
    assert texts(found, "CA") == [
        "CAUTION / ATTENTION",
        "CONTAINER MAY EXPLODE IF HEATED. / CE CONTENANT PEUT EXPLOSER S\u2019IL EST CHAUFF\u00c9.",
        "Contents under pressure. Do not place in hot water or near radiators, stoves or other sources of heat. "
        "Do not puncture or incinerate container or store at temperatures over 50\u00b0C.",
    ]
    french = texts(found, "CA", lang="fr")
    assert french[:2] == [
        "ATTENTION / CAUTION",
        "CE CONTENANT PEUT EXPLOSER S\u2019IL EST CHAUFF\u00c9. / CONTAINER MAY EXPLODE IF HEATED.",
    ]
    assert french[2].startswith("Contenu sous pression.") and len(french) == 3
    assert texts(canadian(replace(SPRAY, form="spray")), "CA") == []


def test_flame_is_for_a_test_to_tell():
    assert rules(canadian(SPRAY), "warning").count("text.more") == 1


# s. 22: the Canadian words differ from the American ("that may", ". To do so may").
def test_hair_dyes_carry_the_canadian_words_in_both_languages():
    found = canadian(DYE, PPD)
    assert texts(found, "CA") == [
        "CAUTION: This product contains ingredients that may cause skin irritation on certain individuals and a "
        "preliminary test according to accompanying directions should first be made. This product must not be used for "
        "dyeing the eyelashes or eyebrows. To do so may cause blindness.",
    ]
    french = "MISE EN GARDE : Ce produit contient des ingr\u00e9dients qui peuvent causer de l\u2019irritation"
    assert texts(found, "CA", lang="fr")[0].startswith(french)
    assert texts(canadian(DYE, held("Lawsonia Inermis Leaf Powder", "50")), "CA") == []


# s. 23: deodorants for the genital area in pressurized containers.
def test_genital_deodorants_carry_directions_and_caution():
    found = texts(canadian(replace(SPRAY, function="Intimate deodorant spray")), "CA")
    assert any(item.startswith("Directions: For external use only.") for item in found)
    assert any(item.startswith("Caution: Do not apply internally") for item in found)


# The Hotlist is administrative and was not read as a whole: it warns and never refuses.
@pytest.mark.parametrize(
    ("product", "name", "amount", "limit"),
    [
        (FACE, "Azelaic Acid", "15", "14"), (FACE, "Salicylic Acid", "2.5", "2"), (LOTION, "Retinal", "0.02", "0.01"),
        (FACE, "Retinal", "0.06", "0.05"), (CREAM, "p-Chloro-m-Cresol", "0.2", "0.1"),
        (LOTION, "Retinol", "0.3", "0.2"),
    ],
)
def test_limits_of_the_hotlist_warn(product, name, amount, limit):
    found = canadian(product, held(name, amount))
    over = [item for item in found.limits if item.state == "over"]
    assert [(item.limit, item.level) for item in over] == [(Decimal(limit), "warning")]
    assert not rules(found, "error")


def test_retinol_esters_count_as_retinol_for_the_hotlist():
    assert one(canadian(LOTION, held("Retinyl Palmitate", "0.36")), "retinol", "CA").state == "within"
    assert one(canadian(LOTION, held("Retinyl Palmitate", "0.37")), "retinol", "CA").state == "over"


@pytest.mark.parametrize("name", ["Diethanolamine", "Tretinoin", "Glyceryl Thioglycolate", "CI 42000"])
def test_what_the_hotlist_prohibits_warns(name):
    found = canadian(CREAM, held(name, "1"))
    assert rules(found, "warning").count("substance.prohibited") == 1 and not rules(found, "error")


# The maximum for alpha hydroxy acids was raised in May 2024 and not read: no limit is made up, no caution printed.
def test_no_limit_is_made_up_for_alpha_hydroxy_acids():
    found = canadian(FACE, held("Glycolic Acid", "12"))
    assert limits(found, "hydroxy", "CA") == [] and texts(found, "CA") == []
    assert "limit.condition" in rules(found, "note")


# August 2022: above 0.022 % in products that are not solid.
@pytest.mark.parametrize(("amount", "count"), [("0.022", 0), ("0.0221", 2)])
def test_eucalyptus_oil_proposes_its_cautions(amount, count):
    oil = held("Eucalyptus Globulus Leaf Oil", amount)
    assert len(texts(canadian(CREAM, oil), "CA", required=False)) == count
    assert texts(canadian(replace(CREAM, form="balm"), oil), "CA", required=False) == []


def test_tea_tree_oil_is_not_on_the_hotlist():
    assert canadian(CREAM, held("Melaleuca Alternifolia Leaf Oil", "5")).limits == ()


# s. 22.1 and s. 28.2 ask for words of the maker's own.
@pytest.mark.parametrize("name", ["Thimerosal", "Methyl Alcohol"])
def test_what_the_maker_must_word_is_asked_for(name):
    assert "text.more" in rules(canadian(CREAM, held(name, "0.01")), "warning")
