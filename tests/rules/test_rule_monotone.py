"""More of a substance never makes a product look better: no error, warning, text, name or limit goes away."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st
from rule_samples import CREAM, FACE, LOTION, SHAMPOO, TODAY, WASH, composed, percent

from labeltool import tables
from labeltool.compose.model import Percent, Substance
from labeltool.formula.model import Product
from labeltool.rules.advise import advise
from labeltool.rules.model import Advice

NAMES = (
    "Phenoxyethanol", "Sodium Benzoate", "Benzoic Acid", "Potassium Sorbate", "Methylparaben", "Propylparaben",
    "Benzyl Alcohol", "Salicylic Acid", "Sodium Salicylate", "Benzalkonium Chloride", "Cetrimonium Chloride",
    "DMDM Hydantoin", "Diazolidinyl Urea", "Sodium Hydroxymethylglycinate", "Iodopropynyl Butylcarbamate", "Retinol",
    "Retinyl Palmitate", "Kojic Acid", "Hydrogen Peroxide", "Ammonium Hydroxide", "Zinc PCA", "Zinc Coco-Sulfate",
    "Methyl Eugenol", "Linalool", "Limonene", "Alpha-Pinene", "Cedrus Atlantica Wood Oil", "Citric Acid",
    "Glycolic Acid",
    "Titanium Dioxide", "Homosalate", "Octocrylene", "Dihydroxyacetone", "Diethylene Glycol", "Hydroquinone", "Safrole",
    "Triethanolamine", "Sodium Hydroxide", "Glutaral", "Butane", "Lead Acetate", "Azelaic Acid", "BHT", "Talc",
)
PRODUCTS = (CREAM, WASH, LOTION, FACE, SHAMPOO, replace(CREAM, form="aerosol"), Product(name="x", function="Cream"))
PURPOSES = ((), ("preservative",), ("fragrance",), ("ph-adjuster",), ("exfoliant",), ("uv-filter",), ("reacted",))
MARKETS = ("UK", "EU", "US", "CA")
LEVEL = {"note": 0, "ok": 0, "warning": 1, "error": 2}
STATE = {"within": 0, "possible": 1, "over": 2}
SURE = {"no": 0, "possible": 1, "certain": 2}

amounts = st.integers(1, 4_000_000).map(lambda millionth: Decimal(millionth) / 100_000)


@st.composite
def substances(draw: st.DrawFn) -> Substance:
    low, more = draw(amounts), draw(st.sampled_from((0, 0, 1))) * draw(amounts)
    low = draw(st.sampled_from((Decimal(0), low, low))) if more else low
    where = draw(st.sampled_from(("open", "open", "contained", "perfume")))
    return Substance(
        draw(st.sampled_from(NAMES)), percent(str(low), str(low + more)), ("m",), draw(st.sampled_from(PURPOSES)),
        contained=where == "contained", perfume=where == "perfume",
    )


def raised(item: Substance, by: Decimal) -> Substance:
    value = item.percent
    return replace(item, percent=Percent(value.low + by, value.nominal + by, value.high + by))


def advised(product: Product, items: list[Substance]) -> Advice:
    return advise(product, composed(*items), MARKETS, TODAY, tables.toml)


def weights(advice: Advice) -> dict[tuple[str, str, str], int]:
    """How heavy each market's each source weighs: the worst of its findings and texts, its limits, its names."""
    found: dict[tuple[str, str, str], int] = {}

    def add(kind: str, market: str | None, source: str | None, weight: int) -> None:
        place = (kind, market or "", source or "")
        found[place] = max(found.get(place, 0), weight)

    for item in advice.findings:
        if item.rule != "preservative.exclusive":  # a ratio: more of the one makes less of the other
            add("source", item.market, item.source, LEVEL[item.level])
    for warning in advice.warnings:
        for source in warning.source.split("; "):
            add("source", warning.market, source, 2 if warning.required else 1)
    for limit in advice.limits:
        add("level", limit.market, f"{limit.source} {limit.limit}", LEVEL[limit.level])
        add("state", limit.market, f"{limit.source} {limit.limit}", STATE[limit.state])
    for allergen in advice.allergens:
        for market, sure in allergen.declared:
            add("allergen", market, allergen.inci, SURE[sure])
    return found


@settings(max_examples=200)
@given(st.sampled_from(PRODUCTS), st.lists(substances(), min_size=1, max_size=5), st.data())
def test_more_of_a_substance_never_removes_a_finding(product, items, data):
    place = data.draw(st.integers(0, len(items) - 1))
    more = [*items[:place], raised(items[place], data.draw(amounts)), *items[place + 1:]]
    before, after = weights(advised(product, items)), weights(advised(product, more))
    lighter = {where: (weight, after.get(where, 0)) for where, weight in before.items() if after.get(where, 0) < weight}
    assert lighter == {}


@settings(max_examples=100)
@given(st.sampled_from(PRODUCTS), st.lists(substances(), min_size=2, max_size=5), st.randoms(use_true_random=False))
def test_the_order_of_substances_changes_no_weight(product, items, random):
    shuffled = random.sample(items, len(items))
    assert weights(advised(product, items)) == weights(advised(product, shuffled))


@settings(max_examples=100)
@given(st.sampled_from(PRODUCTS), substances(), st.integers(1, 9))
def test_one_substance_in_two_parts_weighs_the_same(product, item, tenth):
    part, value = Decimal(tenth) / 10, item.percent
    halves = [
        replace(item, percent=Percent(value.low * share, value.nominal * share, value.high * share))
        for share in (part, 1 - part)
    ]
    assert weights(advised(product, [item])) == weights(advised(product, halves))
