"""Claims: words prompt, nothing is a verdict. Sources: MHRA Guidance Note 8, FDA warning letters, (EU) 655/2013."""

from __future__ import annotations

from dataclasses import replace

import pytest
from rule_samples import CREAM, SHAMPOO, advised, held, rules

from labeltool.formula.model import Product, ProductText

ALL = ("UK", "EU", "US", "CA")
AQUA = held("Aqua", "90")


def hits(claim: str, markets=ALL, product: Product = CREAM, where: str = "claims", *substances):
    value = (claim,) if where in ("claims", "warnings") else claim
    advice = advised(replace(product, **{where: value}), *(substances or (AQUA,)), markets=markets)
    return [(item.phrase, item.level) for item in advice.claims if item.where == where]


def levels(claim: str, **more) -> set[str]:
    return {level for _, level in hits(claim, **more)}


@pytest.mark.parametrize(
    "claim",
    [
        "Treats eczema", "Heals cracked skin", "Relieves psoriasis", "Cures acne", "For acne",
        "Fights fungal infections",
        "Helps with rosacea", "Soothes sunburn and burns", "Prevents hair loss", "Clears up acne",
        "relief of muscle pain",
        "Anti-inflammatory", "Antibacterial", "Boosts the immune system", "A natural remedy", "Burns fat",
        "eases arthritis",
        "Protects against nappy rash", "combats athlete\u2019s foot", "Removes scars", "promotes hair growth",
    ],
)
def test_medicinal_claims_warn_in_every_market(claim):
    for market in ALL:
        assert "warning" in levels(claim, markets=(market,)), market


# "Usually fine": cleanses, moisturises, "for blemish-prone skin", "reduces the appearance of".
@pytest.mark.parametrize(
    "claim",
    [
        "Cleanses and moisturises", "For blemish-prone skin", "Reduces the appearance of wrinkles", "Soap-free",
        "softens dry skin",
        "Repairs dry hair", "Restores softness", "Soothes dry skin", "Refreshes", "Treat yourself",
        "A treat for dry hands",
        "Manicure and pedicure set", "Cured for six weeks", "Secure cap", "Health and beauty", "Calms dry scalp",
        "Helps skin glow",
        "Vegan", "Protects from dryness", "Controls frizz", "Prevents drying out", "Rich in vitamins",
    ],
)
def test_cosmetic_claims_pass(claim):
    assert hits(claim) == []


# Context matters: "acne-free look" is looked at, "treats acne" warned about; "-prone" skin is a note.
@pytest.mark.parametrize(
    ("claim", "want"),
    [
        ("acne-free look", {"note"}), ("for acne-prone skin", {"note"}), ("suitable for eczema-prone skin", {"note"}),
        ("treats acne-prone skin's acne", {"warning"}), ("reduces the look of scars", {"note"}),
        ("treats dry skin", {"note"}),
    ],
)
def test_the_context_of_a_disease_decides_the_level(claim, want):
    assert levels(claim) == want


def test_the_phrase_runs_from_verb_to_disease_and_the_advice_says_more():
    advice = advised(replace(CREAM, claims=("It gently treats mild eczema at night.",)), AQUA)
    assert [item.phrase for item in advice.claims] == ["treats mild eczema"]
    found = advice.claims[0]
    assert found.where == "claims" and found.reason and found.instead and "Guidance Note 8" in found.source


def test_verb_and_disease_in_two_sentences_do_not_meet():
    assert ("eczema", "warning") in hits("Soothes dry skin. Ask about eczema")
    assert not any(phrase.startswith("soothes") for phrase, _ in hits("Soothes dry skin. Ask about eczema"))


# FDA: "acne treatment, cellulite reduction, stretch mark reduction, wrinkle removal, dandruff treatment, hair
# restoration,
# and eyelash growth" are drug claims; letters of 2015 and 2017 name collagen.
@pytest.mark.parametrize(
    "claim",
    [
        "acne treatment", "cellulite reduction", "reduces stretch marks", "wrinkle removal", "dandruff treatment",
        "hair restoration", "eyelash growth", "help stimulate collagen", "increases collagen and elastin production",
        "helps heal", "stimulate blood flow", "decreases hyperpigmentation",
    ],
)
def test_drug_claims_cited_by_the_fda_warn_in_the_us(claim):
    assert "warning" in levels(claim, markets=("US",))


# Dandruff and antiperspirant are cosmetic in the EU, drugs in the US.
@pytest.mark.parametrize("claim", ["Anti-dandruff shampoo", "Antiperspirant", "Boosts collagen"])
def test_some_claims_matter_in_one_market_only(claim):
    assert levels(claim, markets=("US",), product=SHAMPOO) == {"warning"}
    assert levels(claim, markets=("EU", "UK"), product=SHAMPOO) == set()


@pytest.mark.parametrize("where", ["name", "function", "directions", "claims", "warnings"])
def test_every_place_of_the_label_is_looked_at(where):
    assert hits("Healing balm", where=where) == [("healing", "warning")]


def test_a_warning_that_says_what_not_to_do_is_no_claim():
    assert hits("Do not use on wounds or burns.", where="warnings") == []
    assert hits("Avoid contact with eczema.", where="directions") == []
    assert hits("If irritation occurs, stop use and consult a doctor.", where="warnings") == []


# "A disclaimer does not cure a medicinal presentation": still told, as a note.
def test_a_disclaimer_is_still_told():
    assert levels("This product does not treat eczema") == {"note"}


def test_english_words_under_their_language_count_and_other_languages_are_left_alone():
    words = (("en", ProductText(name="Healing cream")), ("fr", ProductText(name="Cure d'hiver")))
    found = advised(replace(CREAM, texts=words), AQUA).claims
    assert [(item.phrase, item.where) for item in found] == [("healing", "name")]


# Technical document of 2017: "free from parabens" is unfair, "free from hydroquinone" boasts of the law.
def test_free_from_claims_are_prompts_in_eu_and_uk():
    prompts = ("Free from parabens", "paraben-free", "hydroquinone-free", "sulphate-free", "cruelty-free")
    for claim in (*prompts, "hypoallergenic"):
        assert levels(claim, markets=("EU",)) == {"note"}, claim
    assert levels("paraben-free", markets=("US",)) == set()


def test_claims_that_the_composition_belies_warn():
    perfume = held("Linalool", "0.1", perfume=True, source="scent")
    assert levels("fragrance-free", markets=("EU",)) == set()
    assert "warning" in {level for _, level in hits("fragrance-free", ("EU",), CREAM, "claims", perfume)}
    open_ = held("Linalool", "0.1")
    assert "warning" in {level for _, level in hits("no perfume", ("EU",), CREAM, "claims", open_)}
    benzyl = held("Benzyl Alcohol", "0.9", purposes=("preservative",))
    assert hits("fragrance-free", ("EU",), CREAM, "claims", benzyl) == []
    preserved = held("Phenoxyethanol", "0.9")
    assert levels("preservative-free", markets=("EU",)) == {"note"}
    assert {level for _, level in hits("preservative-free", ("EU",), CREAM, "claims", preserved)} == {"warning"}


def test_authority_and_chemical_free_claims_warn():
    for claim in ("FDA approved", "approved by Health Canada", "chemical-free", "non-toxic", "EU approved"):
        assert "warning" in levels(claim), claim


# 21 CFR 740.12(c): "hygiene" on a genital deodorant spray makes it misbranded; elsewhere the word is free.
def test_hygiene_on_a_genital_spray_in_the_us():
    spray = Product(name="x", function="Intimate deodorant spray", use="leave-on", body_area=("body",), form="spray")
    assert levels("for daily hygiene", markets=("US",), product=spray) == {"warning"}
    assert levels("for daily hygiene", markets=("EU",), product=spray) == set()
    assert levels("for daily hygiene", markets=("US",)) == set()


# 21 CFR 701.20: a soap that is sold as more than soap is a cosmetic.
def test_a_moisturising_soap_is_a_cosmetic_in_the_us():
    soap = Product(name="Olive soap", function="Soap", use="rinse-off", body_area=("hands",), form="bar")
    assert levels("Moisturizing", markets=("US",), product=soap) == {"note"}
    assert levels("Moisturizing", markets=("EU",), product=soap) == set()


def test_warnings_are_findings_and_notes_are_not_and_nothing_is_an_error():
    advice = advised(replace(CREAM, claims=("Heals eczema", "organic")), AQUA)
    assert rules(advice, "warning").count("claim.word") == 1 and not rules(advice, "error")
    assert {item.level for item in advice.claims} == {"warning", "note"}
