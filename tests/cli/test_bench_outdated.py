"""Labels printed before the bench changed: what they say and what was made are held against each other."""

from __future__ import annotations

import pytest
from bench_shop import demo_shop, opened, ready, small_shop, small_weighed

STOCK = ("--stock", "a4-2x4-99.1x67.7")


def test_labels_printed_before_another_material_came_are_outdated(tmp_path):
    shop = small_shop(tmp_path)
    code = small_weighed(shop)
    shop.done("batch", "bench", code, "--reading", "ph=6.0", "--filled", "5")
    shop.done("print", code, "--count", "5", *STOCK)
    assert not [item for item in shop.document("reprint", code, "--why", "more")["problems"]
                if item["rule"] == "reprint.superseded"]
    shop.done("batch", "bench", code, "--add", "panthenol-75=20@P-3")
    shown = shop.document("batch", "show", code)
    assert [row["superseded"] for row in shown["prints"]] == [True, True]
    outdated = [item["text"] for item in shown["problems"] if item["rule"] == "print.outdated"]
    assert outdated == [f"the 5 labels of print {number} say another list than what was made: do not use them"
                        for number in (1, 2)]
    ran = shop.done("reprint", code, "--why", "more")
    assert "says another list than what was made" in ran.err and f"labeltool print {code}" in ran.err
    assert shop.document("print", code, "--count", "filled")["labels"] == 5
    assert "another list" not in shop.done("reprint", code, "--print", "4", "--why", "more").err


def test_a_lot_whose_date_came_later_outdates_the_date_alone(tmp_path):
    shop = demo_shop(tmp_path)
    code = ready(shop)
    shop.done("print", code, "--count", "9", *STOCK)
    shop.done("lot", "receive", "glycerin", "L-2", "--expires", "2026-12-31")
    ran = shop.done("reprint", code, "--why", "more")
    assert "print 1 says another date than what was made" in ran.err


@pytest.mark.parametrize("call", [
    ("--note", "calm"), ("--correct", "yield=2440g", "--why", "tare"), ("--correct", "2=75.01@L-2", "--why", "slip"),
])
def test_what_changes_no_word_outdates_no_label(tmp_path, call):
    shop = demo_shop(tmp_path)
    code = ready(shop)
    shop.done("print", code, "--count", "9", *STOCK)
    shop.done("batch", "bench", code, *call)
    assert [row["superseded"] for row in shop.document("batch", "show", code)["prints"]] == [False]
    assert "than what was made" not in shop.done("reprint", code, "--why", "more").err


def test_an_unweighed_batch_prints_with_a_word_of_it_and_says_so_on_record(tmp_path):
    shop = demo_shop(tmp_path)
    code = opened(shop)
    told = shop.document("print", code, "--count", "2", *STOCK)
    note = next(item for item in told["problems"] if item["rule"] == "bench.unweighed")
    assert note["text"] == "nothing is weighed yet: the labels say what the formula plans"
    new = shop.document("print", "cedar-beard-oil", "--count", "1")
    assert "bench.unweighed" in [item["rule"] for item in new["problems"]]
    assert shop.document("batch", "show", code)["prints"][0]["unreleased"] is True
    assert "before release" in shop.done("batch", "show", code).out
    code = ready(shop)
    shop.done("batch", "release", code, "--by", "A. Bell")
    after = shop.document("print", code, "--count", "2", *STOCK)
    assert "bench.unweighed" not in [item["rule"] for item in after["problems"]]
    shop.done("reprint", code, "--why", "more")
    assert [row["unreleased"] for row in shop.document("batch", "show", code)["prints"]] == [False, False]


def test_more_labels_look_as_the_last_ones_did(tmp_path):
    shop = demo_shop(tmp_path)
    code = opened(shop)
    shop.done("print", code, "--count", "1", "--stock", "a4-2x4-99.1x67.7", "--artwork", "back")
    again = shop.document("print", code, "--count", "1")
    assert (again["stock"], again["artwork"]) == ("a4-2x4-99.1x67.7", ["back"])
    note = next(item for item in again["problems"] if item["rule"] == "print.as-before")
    assert note["text"] == "stock a4-2x4-99.1x67.7 and artwork back, as print 1 of this batch"
    other = shop.document("print", code, "--count", "1", "--stock", "letter-2x5-101.6x50.8", "--artwork", "back")
    assert other["stock"] == "letter-2x5-101.6x50.8"
    assert "print.as-before" not in [item["rule"] for item in other["problems"]]
    assert shop.document("print", code, "--count", "1")["stock"] == "letter-2x5-101.6x50.8"
