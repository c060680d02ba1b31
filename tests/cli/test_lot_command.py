"""lot receive, list, show, block."""

from __future__ import annotations

import pytest
from bench_shop import demo_shop, opened, ready, small_shop, weighed


@pytest.fixture
def shop(tmp_path):
    return demo_shop(tmp_path)


def test_lot_received_and_shown(shop):
    shop.done("lot", "receive", "oat-milk", "OX-17", "--expires", "2027-04-30", "--received", "2026-05-01",
              "--grams", "5kg", "--supplier", "Example Botanicals", "--supplier-lot", "77-A")
    found = shop.document("lot", "show", "ox-17")
    assert {key: found[key] for key in ("material", "lot", "received", "expires", "grams", "left", "supplier",
                                        "supplier-lot", "blocked")} == {
        "material": "oat-extract", "lot": "OX-17", "received": "2026-05-01", "expires": "2027-04-30", "grams": 5000,
        "left": 5000, "supplier": "Example Botanicals", "supplier-lot": "77-A", "blocked": None}
    assert found["made-of"][0] == {"inci": "Glycerin", "percent": [60, 72]}
    assert shop.document("lot", "list")["items"] == [{key: value for key, value in found.items() if key != "format"}]


def test_what_is_left_of_a_lot(tmp_path):
    shop = small_shop(tmp_path)
    shop.done("lot", "receive", "glycerin", "G-1", "--grams", "60")
    code = opened(shop, "plain-test-lotion", "1000g")
    weighed(shop, code, glycerin={"lot": "G-1"})
    found = shop.document("lot", "show", "G-1")
    assert found["left"] == 10 and found["batches"] == [{"code": code, "grams": 50}]
    ran = shop.done("batch", "bench", code, "--add", "glycerin=15@G-1")
    assert "5 g more weighed than received" in ran.err
    shop.done("lot", "receive", "glycerin", "G-1", "--grams", "40")
    assert shop.document("lot", "show", "G-1")["left"] == 35


def test_unknown_material_is_answered_with_the_nearest(shop):
    ran = shop.run("lot", "receive", "glycerine", "G-1")
    assert ran.code == 2 and "did you mean glycerin" in ran.err
    assert not (shop.folder / "records.sqlite").exists()


@pytest.mark.parametrize("call", [
    ("--expires", "30.04.2027"), ("--grams", "many"), ("--received", "tomorrow"),
], ids=" ".join)
def test_wrong_options_are_refused(shop, call):
    assert shop.run("lot", "receive", "glycerin", "G-1", *call).code == 2


def test_same_lot_with_another_date_is_refused(shop):
    shop.done("lot", "receive", "glycerin", "G-1", "--expires", "2027-01-31")
    ran = shop.run("lot", "receive", "glycerin", "G-1", "--expires", "2028-01-31")
    assert ran.code == 2 and "2027-01-31" in ran.err


def test_lots_of_one_name_are_told_apart_by_material(shop):
    shop.done("lot", "receive", "glycerin", "77")
    shop.done("lot", "receive", "xanthan", "77")
    ran = shop.run("lot", "show", "77")
    assert ran.code == 2 and "glycerin, xanthan" in ran.err
    assert shop.document("lot", "show", "77", "--material", "xanthan")["material"] == "xanthan"
    shop.done("lot", "block", "77", "--material", "glycerin", "--why", "smells")
    blocked = {item["material"]: item["blocked"] for item in shop.document("lot", "list")["items"]}
    assert blocked == {"glycerin": "smells", "xanthan": None}


def test_unknown_lot_is_neither_shown_nor_blocked(shop):
    shop.done("lot", "receive", "glycerin", "G-2041")
    for call in (("show", "G-2014"), ("block", "G-2014", "--why", "x")):
        ran = shop.run("lot", *call)
        assert ran.code == 2 and "did you mean G-2041?" in ran.err


def test_key_makes_a_receipt_happen_once(shop):
    call = ("lot", "receive", "glycerin", "G-1", "--grams", "100", "--once", "k")
    shop.done(*call)
    shop.done(*call)
    assert shop.document("lot", "show", "G-1")["grams"] == 100
    assert shop.run("lot", "receive", "glycerin", "G-1", "--grams", "200", "--once", "k").code == 2


def test_a_lot_typed_wrongly_is_put_right_at_the_bench_and_blocked(tmp_path):
    shop = demo_shop(tmp_path)
    code = opened(shop)
    shop.done("batch", "bench", code, "--add", "glycerin=10@G-1", "--add", "glycerin=15@G-l")
    ran = shop.done("batch", "bench", code, "--correct", "17=15@G-2", "--why", "an l for a 1")
    assert "lot G-l of glycerin was only a name typed at the bench, and is in no batch now" in ran.err
    assert 'labeltool lot block G-l --material glycerin --why "typed wrongly"' in ran.err
    shop.done("lot", "block", "G-l", "--material", "glycerin", "--why", "typed wrongly")
    listed = {item["lot"]: (item["unused"], item["blocked"]) for item in shop.document("lot", "list")["items"]}
    assert listed == {"G-1": (False, None), "G-l": (True, "typed wrongly"), "G-2": (False, None)}
    assert "in no batch, BLOCKED: typed wrongly" in shop.done("lot", "list").out
    assert "is blocked: typed wrongly" in shop.done("batch", "bench", code, "--add", "glycerin=1@G-l").err


def test_a_lot_that_came_after_the_batch_was_made_warns_and_refuses(tmp_path):
    shop = demo_shop(tmp_path)
    shop.done("lot", "receive", "glycerin", "G-9", "--received", "2026-05-04")
    code = ready(shop, glycerin={"lot": "G-9"})
    warned = shop.done("batch", "bench", code, "--correct", "2=75@G-9", "--why", "x").err
    refused = shop.run("batch", "release", code, "--by", "A")
    assert refused.code == 1
    assert "lot G-9 of glycerin was received on 2026-05-04, after the batch was made" in refused.err
    assert "labeltool lot receive glycerin G-9 --received DATE" in refused.err
    assert "lot G-9 of glycerin was received on 2026-05-04, and the batch was made on 2026-05-03" in warned
    shop.done("lot", "receive", "glycerin", "G-9", "--received", "2026-05-01")
    shop.done("batch", "release", code, "--by", "A")


def test_wrong_date_of_a_lot_is_put_right_with_its_reason_and_stays_on_record(tmp_path):
    shop = small_shop(tmp_path)
    shop.done("lot", "receive", "glycerin", "G-1", "--expires", "2026-06-30", "--grams", "100")
    refused = shop.run("lot", "receive", "glycerin", "G-1", "--expires", "2027-06-30")
    assert refused.code == 2 and "lot correct G-1 --material glycerin --expires 2027-06-30 --why" in refused.err
    code = opened(shop, "plain-test-lotion", "1000g")
    weighed(shop, code, glycerin={"lot": "G-1", "expires": "2026-06-30"})
    assert shop.document("batch", "show", code)["best-before"] == "2026-06-30"
    assert shop.run("lot", "correct", "G-1", "--expires", "2027-06-30", "--why", " ").code == 2
    assert shop.run("lot", "correct", "G-1", "--why", "nothing").code == 2
    shop.done("lot", "correct", "G-1", "--expires", "2027-06-30", "--grams", "1kg", "--why", "misread the year")
    found = shop.document("lot", "show", "G-1")
    assert (found["expires"], found["grams"], found["left"]) == ("2027-06-30", 1000, 950)
    assert [(one["what"], one["why"]) for one in found["changes"]] == [
        ("corrected: expires 2027-06-30, grams 1000", "misread the year")]
    shown = shop.document("batch", "show", code)
    assert shown["best-before"] > "2026-06-30"
    assert {one["expires"] for one in shown["weighed"] if one["lot"] == "G-1"} == {"2027-06-30"}
    assert "expires 2027-06-30" in shop.done("lot", "show", "G-1").out


def test_block_is_taken_off_only_from_a_blocked_lot(shop):
    shop.done("lot", "receive", "glycerin", "G-1")
    assert shop.run("lot", "correct", "G-1", "--unblock", "--why", "slip").code == 2
    shop.done("lot", "block", "G-1", "--why", "smells")
    assert "blocked already: smells" in shop.done("lot", "block", "G-1", "--why", "again").err
    shop.done("lot", "correct", "G-1", "--unblock", "--why", "tested, it is good")
    found = shop.document("lot", "show", "G-1")
    assert found["blocked"] is None and len(found["changes"]) == 3


def test_no_lot_yet_says_so(shop):
    opened(shop, "oat-milk-hand-lotion", "500g")
    assert "no lot is on record yet" in shop.done("lot", "list").out
