"""Formaldehyde releasers. Source: Annex V, preamble point 2, as replaced by Regulation (EU) 2022/1181."""

from __future__ import annotations

import datetime as dt

import pytest
from rule_samples import CREAM, WASH, advised, held, limits, rules, texts

DAY = dt.timedelta(days=1)
TEXT, OLD = "releases formaldehyde", "contains formaldehyde"


def test_the_text_is_due_where_even_the_low_end_releases_more_than_ten_ppm():
    found = advised(CREAM, held("DMDM Hydantoin", "0.3"))
    assert texts(found) == [TEXT] and "releaser.measure" in rules(found, "note")


# DMDM hydantoin gives at most 2 x 30.026 / 188.183 of its weight: 0.001 % formaldehyde is 0.003134 %.
@pytest.mark.parametrize(("amount", "due"), [("0.003133", []), ("0.00314", [TEXT])])
def test_the_bound_is_strict_and_by_molar_mass(amount, due):
    assert texts(advised(CREAM, held("DMDM Hydantoin", amount))) == due


def test_only_the_high_end_above_the_bound_proposes_and_asks_for_a_measurement():
    found = advised(CREAM, held("DMDM Hydantoin", "0.001", "0.01"))
    assert texts(found) == [] and texts(found, required=False) == [TEXT]
    assert "releaser.measure" in rules(found, "warning")


def test_releasers_count_together():
    parts = (held("DMDM Hydantoin", "0.002"), held("Imidazolidinyl Urea", "0.003"))
    assert [texts(advised(CREAM, item)) for item in parts] == [[], []]
    assert texts(advised(CREAM, *parts)) == [TEXT]


def test_other_preservatives_do_not_release():
    assert texts(advised(CREAM, held("Phenoxyethanol", "0.9"), held("Sodium Benzoate", "0.3"))) == []


# EU: placing with the old text until 31 July 2024. GB: old text (0.05 %) until 14 July 2026.
@pytest.mark.parametrize(
    ("market", "on", "text"),
    [
        ("EU", dt.date(2024, 7, 31), OLD), ("EU", dt.date(2024, 8, 1), TEXT), ("EU", dt.date(2024, 8, 2), TEXT),
        ("UK", dt.date(2026, 7, 14), OLD), ("UK", dt.date(2026, 7, 15), TEXT), ("UK", dt.date(2026, 7, 16), TEXT),
    ],
)
def test_the_words_change_on_their_day(market, on, text):
    assert texts(advised(CREAM, held("DMDM Hydantoin", "0.3"), markets=(market,), on=on), market) == [text]


def test_the_old_words_had_a_higher_bound():
    little = held("DMDM Hydantoin", "0.1")
    assert texts(advised(CREAM, little, markets=("UK",), on=dt.date(2026, 7, 14)), "UK") == []
    assert texts(advised(CREAM, little, markets=("UK",), on=dt.date(2026, 7, 15)), "UK") == [TEXT]


def test_german_words_are_the_acts_own():
    found = advised(CREAM, held("DMDM Hydantoin", "0.3"), languages=("de",))
    assert texts(found, lang="de") == ["spaltet Formaldehyd ab"]


# V/51 with II/1669: not from 0.1 % of releasable formaldehyde on, whatever its source.
@pytest.mark.parametrize(("amount", "banned"), [("0.42", False), ("0.43", True)])
def test_sodium_hydroxymethylglycinate_is_banned_from_a_thousandth_on(amount, banned):
    found = advised(WASH, held("Sodium Hydroxymethylglycinate", amount))
    assert [rule for rule in rules(found) if rule == "releaser.ban"] == (["releaser.ban"] if banned else [])
    assert ("releaser.ban" in rules(found, "error")) is banned
    with_more = advised(WASH, held("Sodium Hydroxymethylglycinate", "0.3"), held("DMDM Hydantoin", "0.1"))
    assert "releaser.ban" in rules(with_more, "error")
    assert limits(with_more, "II/1669")
