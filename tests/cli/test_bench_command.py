"""batch bench: entries by options, all of a call or none of it."""

from __future__ import annotations

import pytest
from bench_shop import CODE, demo_shop, filled_sheet, opened, small_shop, small_weighed, weighed


def test_without_options_and_terminal_the_options_are_named(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    ran = shop.run("batch", "bench", CODE)
    assert ran.code == 2
    assert all(option in ran.err for option in ("--from", "--add", "--reading", "--yield", "--filled", "--note"))


def test_batch_opened_without_a_size_gets_it_once(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop, size=None)
    assert "--size 500g" in shop.run("weigh", CODE).err
    shop.done("batch", "bench", CODE, "--size", "500g")
    assert shop.document("batch", "show", CODE)["plan"][0]["grams"] == 345.5
    again = shop.run("batch", "bench", CODE, "--size", "400g")
    assert again.code == 2 and "a size is given once" in again.err


@pytest.mark.parametrize(("call", "word"), [
    (("--add", "glycerine=5@G"), "did you mean glycerin?"), (("--add", "glycerin"), "MATERIAL=GRAMS@LOT"),
    (("--reading", "ph=19"), "a pH lies between 0 and 14"), (("--reading", "ph"), "ph=5.32@21C"),
    (("--filled", "many"), "no count"), (("--yield", "lots"), "lots"),
    (("--correct", "2=75@L-2"), "has not been weighed"), (("--why", "misread"), "--correct"),
    (("--from", "nothing.csv"), "nothing.csv"), (("--add", "glycerin=-3@G"), "glycerin"),
])
def test_wrong_entry_keeps_nothing_of_the_call(tmp_path, call, word):
    shop = demo_shop(tmp_path)
    opened(shop)
    ran = shop.run("batch", "bench", CODE, "--note", "kept only with the rest", *call)
    assert ran.code == 2 and ran.err.startswith("error: ") and word in ran.err
    shown = shop.document("batch", "show", CODE)
    assert shown["notes"] == [] and shown["weighed"] == [] and shop.document("lot", "list")["items"] == []


def test_all_faults_of_a_sheet_come_at_once_with_their_rows(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    shop.write("bad.csv", "line,material,grams,lot\n2,glycerin,heavy,G\n3,xanthan,5,X\n9,,4,S\n")
    ran = shop.run("batch", "bench", CODE, "--from", "bad.csv")
    assert ran.code == 2 and "bad.csv, row 2" in ran.err and "bad.csv, row 3" in ran.err
    assert "line 3 is oat-extract, not xanthan" in ran.err
    assert shop.document("batch", "show", CODE)["weighed"] == []


def test_sheet_filled_in_two_goes_is_entered_twice_without_harm(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    left = {"grams": "", "lot": ""}
    first = filled_sheet(shop, CODE, "first.csv", xanthan=left, shea_butter=left)
    second = filled_sheet(shop, CODE, "second.csv")
    told = shop.done("batch", "bench", CODE, "--from", first.name)
    assert "12 of 14 rows weighed" in told.out and "5 xanthan, 9 shea-butter" in told.out
    again = shop.done("batch", "bench", CODE, "--from", second.name)
    assert "2 new on record, 14 of 14" in again.out and "on record already, exactly so: lines 1, 2, 3" in again.err
    assert len(shop.document("batch", "show", CODE)["weighed"]) == 14


def test_correction_stands_in_the_place_of_what_was_wrong(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    weighed(shop, CODE)
    shop.done("batch", "bench", CODE, "--correct", "glycerin=76@G-9", "--why", "misread")
    shop.done("batch", "bench", CODE, "--reading", "ph=5.9", "--yield", "2400", "--filled", "8")
    shop.done("batch", "bench", CODE, "--correct", "ph=5.3", "--correct", "yield=2450g", "--correct", "filled=9",
              "--why", "typed wrongly")
    shown = shop.document("batch", "show", CODE)
    line = shown["weighed"][1]
    assert (line["grams"], line["lot"], line["before"], line["why"]) == (76, "G-9", [75], "misread")
    assert [item["value"] for item in shown["readings"]] == [5.3]
    assert shown["yield"] == 2450 and shown["filled"] == {"": 9}
    assert shop.run("batch", "bench", CODE, "--correct", "2=75@G-9").code == 2


def test_mass_beyond_its_tolerance_is_kept_and_told(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    ran = shop.done("batch", "bench", CODE, "--from", filled_sheet(shop, CODE, glycerin={"grams": "80"}).name)
    assert "80 g weighed, 75.00 g planned" in ran.err and "73.50 g to 76.50 g" in ran.err
    assert shop.run("batch", "release", CODE, "--by", "A").code == 1


def test_line_weighed_already_is_not_weighed_again(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    weighed(shop, CODE)
    shop.write("again.csv", "line,material,grams,lot\n2,glycerin,74.9,L-2\n")
    ran = shop.run("batch", "bench", CODE, "--from", "again.csv")
    assert ran.code == 2 and "75 g are on record already" in ran.err.replace("75.00", "75")


def test_same_key_again_does_nothing_twice(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    call = ("batch", "bench", CODE, "--note", "once", "--reading", "ph=5.2", "--once", "k-1")
    shop.done(*call)
    assert "already done" in shop.done(*call).out
    shown = shop.document("batch", "show", CODE)
    assert len(shown["notes"]) == 1 and len(shown["readings"]) == 1
    assert shop.run("batch", "bench", CODE, "--note", "twice", "--once", "k-1").code == 2


def test_material_beyond_the_formula_is_declared_and_told(tmp_path):
    shop = small_shop(tmp_path)
    code = small_weighed(shop)
    ran = shop.done("batch", "bench", code, "--add", "panthenol-75=20@P-3")
    assert "panthenol-75 is not in the formula" in ran.err and "Panthenol" in ran.err
    names = shop.document("batch", "show", code)["as-made"]["label"]["names"]
    assert "Panthenol" in names
    printed = shop.document("print", code, "--count", "1", "--stock", "a4-2x4-99.1x67.7")
    assert "made.new" in [item["rule"] for item in printed["problems"]]


def test_cancelled_batch_takes_notes_alone(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    shop.done("batch", "cancel", CODE)
    refused = shop.run("batch", "bench", CODE, "--note", "x", "--add", "glycerin=5@G-1")
    assert refused.code == 2 and "is cancelled: nothing new is entered for it" in refused.err
    told = shop.done("batch", "bench", CODE, "--note", "opened twice").out
    assert f"next: labeltool batch show {CODE}" in told
    assert [item["text"] for item in shop.document("batch", "show", CODE)["notes"]] == ["opened twice"]
    assert shop.run("print", CODE).code == 2
    assert shop.done("batch", "open", "cedar-beard-oil", "--made", "2026-05-03").out.splitlines()[0] == "260503B28"


def test_code_in_another_spelling_and_record_stays_sound(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    shop.done("batch", "bench", "260503-a-31", "--note", "typed by hand")
    shop.done("records", "check")
