from __future__ import annotations

import datetime as dt
from dataclasses import replace

from rule_samples import CREAM, TODAY, held

from labeltool import tables
from labeltool.rules.amounts import amounts_of
from labeltool.rules.case import Case
from labeltool.rules.rulebook import rule_book
from labeltool.rules.scope import facts_of
from labeltool.rules.triggers import own_words, pull

BOOK = rule_book(tables.toml)
ROW = next(row for row in BOOK.us.triggers if row.id == "foaming-bath")
ANY = replace(ROW, when=replace(ROW.when, kinds=()), unless_said=(), tell="")


def case(product=CREAM, *substances, on: dt.date = TODAY) -> Case:
    return Case(facts_of(product, BOOK.kinds), amounts_of(substances), BOOK.molar, on)


def keys(row, product=CREAM, *substances) -> list[str]:
    return [due.key for due in pull((row,), product, case(product, *substances)).dues]


def test_a_row_without_conditions_always_fires_and_a_stayed_one_never():
    assert keys(ANY) == ["us-foaming-bath"]
    assert keys(replace(ANY, stayed=True)) == []


def test_names_must_be_there_and_others_must_not():
    row = replace(ANY, names=("Butane",), without=("Octocrylene",))
    assert keys(row) == []
    assert keys(row, CREAM, held("Butane", "1")) == ["us-foaming-bath"]
    assert keys(row, CREAM, held("Butane", "1"), held("Octocrylene", "1")) == []


def test_words_of_the_label_set_off_and_hold_back():
    row = replace(ANY, said=("all over",), unless_said=("adults only",))
    assert keys(row) == []
    assert keys(row, replace(CREAM, directions="Spray all over.")) == ["us-foaming-bath"]
    assert keys(row, replace(CREAM, directions="Spray all over.", claims=("Adults only",))) == []


def test_own_words_are_everything_said_in_english():
    product = replace(CREAM, directions="Rub IN.", claims=("Soft",), warnings=("Keep\u2011dry",))
    assert own_words(product) == "sample . hand cream . rub in. . keep-dry . soft"


def test_the_because_is_the_substance_or_the_product():
    assert pull((ANY,), CREAM, case()).dues[0].because == "Hand cream"
    named = replace(ANY, names=("Butane",))
    assert pull((named,), CREAM, case(CREAM, held("Butane", "1"))).dues[0].because == "Butane"
