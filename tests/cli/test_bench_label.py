"""What the bench does to the label: as made, best before, release first, filled, revised."""

from __future__ import annotations

import pytest
from bench_shop import CODE, LOTION, demo_shop, filled_sheet, opened, ready, small_shop, small_weighed, weighed

from labeltool.raster import Pdf

STOCK = ("--stock", "a4-2x4-99.1x67.7")


def printed(shop, code, *more):
    return shop.document("print", code, "--count", "1", *STOCK, *more)


def rules(document):
    return [item["rule"] for item in document["problems"]]


def test_partly_weighed_follows_the_formula_and_names_the_rows(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    sheet = filled_sheet(shop, CODE, xanthan={"grams": "", "lot": ""})
    shop.done("batch", "bench", CODE, "--from", sheet.name)
    found = printed(shop, CODE)
    partly = next(item for item in found["problems"] if item["rule"] == "bench.partly")
    assert partly["level"] == "warning" and "5 xanthan" in partly["text"]
    assert shop.document("batch", "show", CODE)["as-made"] is None


def test_order_changed_by_the_masses_is_a_warning(tmp_path):
    shop = small_shop(tmp_path)
    code = small_weighed(shop, glycerin="49", ester="50")
    shown = shop.document("batch", "show", code)
    assert shown["as-made"]["label"]["names"][1] == "Caprylic/Capric Triglyceride"
    found = printed(shop, code)
    order = next(item for item in found["problems"] if item["rule"] == "made.order")
    assert order["level"] == "warning" and "Caprylic/Capric Triglyceride now before Glycerin" in order["text"]


def test_label_before_weighing_is_superseded_by_the_one_that_differs(tmp_path):
    shop = small_shop(tmp_path)
    code = opened(shop, "plain-test-lotion", "1000g")
    printed(shop, code)
    weighed(shop, code, glycerin={"grams": "49"}, coconut_ester={"grams": "50"})
    printed(shop, code)
    prints = shop.document("batch", "show", code)["prints"]
    assert [row["superseded"] for row in prints] == [True, False]


def test_adjuster_stays_declared_until_its_ph_is_reached(tmp_path):
    shop = small_shop(tmp_path)
    code = small_weighed(shop)
    assert "Citric Acid" in shop.document("batch", "show", code)["as-made"]["label"]["names"]
    shop.done("batch", "bench", code, "--reading", "ph=6.0")
    assert "Citric Acid" not in shop.document("batch", "show", code)["as-made"]["label"]["names"]


def test_lot_keeps_the_composition_of_the_day_it_came(tmp_path):
    shop = small_shop(tmp_path)
    shop.done("lot", "receive", "glycerin", "G-1")
    shop.change("materials.toml", 'name   = "Glycerin, vegetable"\ninci   = "Glycerin"',
                'name   = "Glycerin, vegetable"\ninci   = "Propanediol"')
    code = opened(shop, "plain-test-lotion", "1000g")
    weighed(shop, code, glycerin={"lot": "g-1"})
    names = shop.document("batch", "show", code)["as-made"]["label"]["names"]
    assert "Glycerin" in names and "Propanediol" not in names


def test_lot_that_expires_earlier_shortens_best_before(tmp_path):
    shop = small_shop(tmp_path)
    shop.done("lot", "receive", "glycerin", "G-1", "--expires", "2026-11-30")
    code = opened(shop, "plain-test-lotion", "1000g")
    assert printed(shop, code)["best-before"] == "2027-05-03"
    weighed(shop, code, glycerin={"lot": "G-1"})
    found = printed(shop, code)
    assert found["best-before"] == "2026-11-30" and "best-before.lot" in rules(found)
    shown = shop.document("batch", "show", code)
    assert shown["weighed"][1]["expires"] == "2026-11-30" and shown["best-before"] == "2026-11-30"


def test_no_label_before_the_release_where_the_workshop_says_so(tmp_path):
    shop = demo_shop(tmp_path)
    code = ready(shop)
    printed(shop, code)
    shop.change("workshop.toml", "[batch]\n", "[batch]\nrequire-release = true\n")
    for call in (("print", code), ("print", LOTION), ("reprint", code, "--why", "torn")):
        refused = shop.run(*call)
        assert refused.code == 2 and "require-release = true" in refused.err
    assert len(shop.document("batch", "list")["items"]) == 1
    shop.done("print", LOTION, "--draft", "-o", "draft.pdf", *STOCK)
    shop.done("batch", "release", code, "--by", "A. Bell")
    printed(shop, code)
    shop.done("reprint", code, "--why", "torn")


def test_count_filled_prints_what_the_packs_still_need(tmp_path):
    shop = demo_shop(tmp_path)
    code = ready(shop)
    printed(shop, code)
    assert shop.document("print", code, "--count", "filled", *STOCK)["labels"] == 8
    enough = shop.run("print", code, "--count", "filled", *STOCK)
    assert enough.code == 2 and "every filled pack has its label" in enough.err
    account = shop.document("batch", "show", code)["accounts"]
    assert account == [{"pack": "", "artwork": "back", "printed": 9, "good": 9, "spoiled": 0, "left": 0,
                        "destroyed": 0, "used": None, "filled": 9, "missing": 0, "over": 0}]
    shop.done("batch", "bench", code, "--correct", "filled=11", "--why", "two found behind the pot")
    assert shop.document("print", code, "--count", "filled", *STOCK)["labels"] == 2


def test_labels_that_say_something_else_do_not_count_as_good(tmp_path):
    shop = small_shop(tmp_path)
    code = opened(shop, "plain-test-lotion", "1000g")
    shop.done("print", code, "--count", "5", *STOCK)
    weighed(shop, code, glycerin={"grams": "49"}, coconut_ester={"grams": "50"})
    shop.done("batch", "bench", code, "--filled", "6")
    printed(shop, code)
    assert shop.document("print", code, "--count", "filled", *STOCK)["labels"] == 5


def test_what_was_added_to_reach_the_ph_is_taken_for_an_adjuster(tmp_path):
    shop = small_shop(tmp_path)
    citric, lactic = 'Citric Acid", percent = 50, purpose = "ph-adjuster" }', 'Lactic Acid", percent = 50 }'
    shop.change("materials.toml", citric, lactic)
    shop.change("formulas/plain-test-lotion.toml", '["UK"]', '["US"]')
    code = small_weighed(shop)
    shop.done("batch", "bench", code, "--add", "half-citric=8@H-1", "--reading", "ph=6")
    made = shop.document("batch", "show", code)["as-made"]
    assert "Lactic Acid" in made["label"]["names"]
    assert [rule for rule in rules(made) if rule.startswith("aha.")] == []


def test_count_filled_without_a_count_is_refused(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    for call in (("print", CODE), ("print", LOTION)):
        ran = shop.run(*call, "--count", "filled", *STOCK)
        assert ran.code == 2 and "--filled N" in ran.err
    assert shop.run("print", CODE, "--count", "some").code == 2


def test_count_filled_sent_twice_under_a_key(tmp_path):
    shop = demo_shop(tmp_path)
    code = ready(shop)
    call = ("print", code, "--count", "filled", *STOCK, "--once", "labels")
    assert shop.document(*call)["labels"] == shop.document(*call)["labels"] == 9
    assert len(shop.document("batch", "show", code)["prints"]) == 1


@pytest.mark.parametrize("weigh", [False, True], ids=["nothing weighed", "weighed"])
def test_revise_freezes_todays_words_and_the_composition_only_while_nothing_is_weighed(tmp_path, weigh):
    shop = small_shop(tmp_path)
    code = opened(shop, "plain-test-lotion", "1000g")
    if weigh:
        weighed(shop, code)
    shop.change("formulas/plain-test-lotion.toml", "Apply to clean, dry hands.", "Rub in well.")
    shop.change("formulas/plain-test-lotion.toml", "percent = 4.9", "percent = 5.1")
    assert "batch.files-changed" in rules(printed(shop, code))
    found = printed(shop, code, "--revise", "--why", "new directions")
    assert ("batch.composition-kept" in rules(found)) == weigh
    assert "batch.files-changed" not in rules(printed(shop, code))
    shown = shop.document("batch", "show", code)
    assert shown["revisions"] == 1
    assert shown["plan"][2]["grams"] == (49 if weigh else 51)
    assert "Rub in well." in Pdf((shop.folder / shown["prints"][1]["file"]).read_bytes()).text(0)


def test_revise_needs_a_reason_and_a_batch(tmp_path):
    shop = small_shop(tmp_path)
    code = opened(shop, "plain-test-lotion", "1000g")
    for call in ((code, "--revise"), (code, "--why", "x"), ("plain-test-lotion", "--revise", "--why", "x")):
        assert shop.run("print", *call).code == 2
    assert shop.document("batch", "show", code)["prints"] == []


def test_refused_print_revises_nothing(tmp_path):
    shop = small_shop(tmp_path)
    code = opened(shop, "plain-test-lotion", "1000g")
    shop.change("formulas/plain-test-lotion.toml", 'net = "50 ml"\n', "")
    refused = shop.run("print", code, "--revise", "--why", "x")
    assert refused.code == 2 and "is missing" in refused.err
    assert shop.document("batch", "show", code)["revisions"] == 0
