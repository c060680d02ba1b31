from __future__ import annotations

from dataclasses import replace

import pytest
from rule_samples import CREAM, LOTION, advised, held, texts, warnings

from labeltool import tables
from labeltool.formula.model import ProductText
from labeltool.rules.texts import Due, merged, wordings_of

TABLE = wordings_of(tables.toml("rules", "wordings"))


def due(**more) -> Due:
    return Due(**({"key": "avoid-eyes", "market": "EU", "source": "Annex V/54", "because": "A"} | more))


def test_a_text_due_for_two_reasons_is_told_once_with_both():
    found = merged((due(), due(source="Annex V/7", because="B"), due()))
    assert [(item.source, item.because) for item in found] == [("Annex V/54; Annex V/7", "A, B")]


def test_a_sure_reason_outweighs_a_doubtful_one():
    found = merged((due(required=False, because="doubtful"), due()))
    assert [(item.required, item.because) for item in found] == [(True, "A")]


def test_markets_are_kept_apart():
    assert [item.market for item in merged((due(), due(market="UK")))] == ["EU", "UK"]


def test_english_always_and_each_language_that_has_a_row():
    found = TABLE.told((due(),), ("de", "xx"))
    assert [(item.lang, item.text, item.required) for item in found] == [
        ("en", "Avoid contact with eyes", True), ("de", "Kontakt mit den Augen vermeiden", True),
    ]


# Decision: only rows read as regulation or quote are printed; national and memory rows are proposed.
def test_a_row_that_was_not_read_in_the_act_is_proposed():
    french = [item for item in TABLE.told((due(key="not-under-3"),), ("fr",)) if item.lang == "fr"]
    assert [(item.required, item.confidence) for item in french] == [(False, "memory")]


@pytest.mark.parametrize(
    ("market", "langs"), [("UK", {"en"}), ("US", {"en"}), ("CA", {"en", "fr"}), ("EU", {"en", "de"})],
)
def test_each_market_has_its_languages(market, langs):
    keys = {"US": "us-aha", "CA": "ca-pressure-more"}
    found = TABLE.told((due(key=keys.get(market, "avoid-eyes"), market=market),), ("de",))
    assert {item.lang for item in found} == langs


def test_the_languages_of_the_products_words_are_taken_without_others():
    german = replace(LOTION, texts=(("de", ProductText(name="Lotion")),))
    item = held("Benzalkonium Chloride", "0.05", purposes=("preservative",))
    assert texts(advised(german, item), lang="de") == ["Kontakt mit den Augen vermeiden"]
    assert texts(advised(german, item, languages=()), lang="de") == []


def test_the_because_of_a_text_names_what_asks_for_it():
    found = warnings(advised(CREAM, held("Benzalkonium Chloride", "0.05", purposes=("preservative",))), "EU")
    assert [(item.because, item.confidence) for item in found] == [("Benzalkonium Chloride", "law")]
    assert "V/54" in found[0].source
