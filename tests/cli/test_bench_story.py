"""From the pot to the bottle and back: one batch of the demo's lotion, weighed, released, labelled and traced."""

from __future__ import annotations

import csv

import pytest
from bench_shop import CODE, LOTION, demo_shop, filled_sheet, opened, small_shop, small_weighed

from labeltool.raster import Pdf


def test_from_pot_to_bottle_and_back(tmp_path):
    shop = demo_shop(tmp_path)
    assert opened(shop) == CODE
    sheet = filled_sheet(shop, CODE, oat_extract={"lot": "OX-17", "expires": "2027-03-31"})
    entered = shop.done("batch", "bench", CODE, "--from", sheet.name)
    assert "14 of 14 rows weighed" in entered.out and "OX-17 of oat-extract" in entered.err
    shop.done("batch", "bench", CODE, "--add", "citric-solution=48.72-47.42@CS-1", "--reading", "ph=5.32@21C")
    shop.done("batch", "bench", CODE, "--yield", "2450g", "--filled", "9")
    shop.done("batch", "release", CODE, "--by", "A. Bell")
    printed = shop.document("print", CODE, "--count", "filled", "--stock", "a4-2x4-99.1x67.7")
    assert printed["labels"] == 9 and printed["best-before"] == "2027-03-31"
    assert "best-before.lot" in [item["rule"] for item in printed["problems"]]

    forwards = shop.document("trace", "ox-17")
    assert forwards["kind"] == "lot"
    assert forwards["batches"] == [{
        "code": CODE, "product": "Oat Milk Hand Lotion", "made": "2026-05-03", "state": "released", "grams": 100,
        "labels": 9, "prints": 1,
    }]
    backwards = shop.document("trace", CODE)
    assert backwards["kind"] == "code"
    assert {"material": "oat-extract", "lot": "OX-17", "grams": 100} in backwards["went-in"]
    assert {"material": "citric-solution", "lot": "CS-1", "grams": 1.3} in backwards["went-in"]

    shop.done("batch", "withdraw", CODE, "--why", "oat extract taken back")
    for call in (("print", CODE), ("reprint", CODE, "--why", "more")):
        refused = shop.run(*call)
        assert refused.code == 2 and "withdrawn (oat extract taken back)" in refused.err
    assert shop.document("trace", "OX-17")["batches"][0]["state"] == "withdrawn"


def test_show_tells_the_whole_of_it(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    shop.done("batch", "bench", CODE, "--from", filled_sheet(shop, CODE).name, "--by", "CD")
    shop.done("batch", "bench", CODE, "--add", "citric-solution=1.3@CS-1", "--reading", "ph=5,32@21C",
              "--yield", "2450g", "--filled", "9", "--note", "a calm day")
    shown = shop.document("batch", "show", CODE)
    assert shown["size"] == 2500 and shown["yield"] == 2450 and shown["filled"] == {"": 9}
    assert shown["plan"][0] == {"line": 1, "phase": "A", "material": "water", "grams": 1727.5}
    assert shown["plan"][14]["grams"] is None
    assert sum(row["grams"] for row in shown["plan"][:14]) == 2500
    glycerin = shown["weighed"][1]
    assert {key: glycerin[key] for key in ("line", "phase", "material", "grams", "lot", "expires", "by")} == {
        "line": 2, "phase": "A", "material": "glycerin", "grams": 75, "lot": "L-2", "expires": None, "by": "CD"}
    reading = shown["readings"][0]
    assert (reading["name"], reading["value"], reading["unit"], reading["celsius"]) == ("ph", 5.32, "", 21)
    assert shown["notes"][0]["text"] == "a calm day"
    made = shown["as-made"]
    assert made["label"]["names"][:2] == ["Aqua", "Helianthus Annuus Seed Oil"]
    citric = next(row for row in made["ingredients"] if row["inci"] == "Citric Acid")
    assert citric["percent"]["low"] == citric["percent"]["high"] == pytest.approx(1.3 * 0.2 / 2501.3 * 100)


def test_adjuster_of_equal_parts_is_declared_as_its_parts(tmp_path):
    shop = small_shop(tmp_path)
    code = small_weighed(shop)
    shop.done("batch", "bench", code, "--add", "half-citric=8@H-1", "--reading", "ph=6.01")
    made = shop.document("batch", "show", code)["as-made"]
    percents = {row["inci"]: row["percent"]["nominal"] for row in made["ingredients"]}
    assert percents["Citric Acid"] == pytest.approx(4 / 1008 * 100)
    assert percents["Aqua"] == pytest.approx((901 + 4) / 1008 * 100)
    assert next(row for row in made["ingredients"] if row["inci"] == "Aqua")["from"] == ["water", "half-citric"]


def test_reading_out_of_range_is_not_released_and_the_next_one_is(tmp_path):
    shop = small_shop(tmp_path)
    code = small_weighed(shop)
    shop.done("batch", "bench", code, "--reading", "ph=6.74@22C")
    refused = shop.run("batch", "release", code, "--by", "A. Bell")
    assert refused.code == 1 and "the last ph read is 6.74" in refused.err and "5.5 to 6.5" in refused.err
    assert shop.document("batch", "show", code)["state"] == "open"
    shop.done("batch", "bench", code, "--add", "half-citric=5@H-1", "--reading", "ph=6.01@22C")
    shop.done("batch", "release", code, "--by", "A. Bell")
    shown = shop.document("batch", "show", code)
    assert shown["state"] == "released" and [item["value"] for item in shown["readings"]] == [6.74, 6.01]


def test_sheets_of_the_story_are_whole_pages(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    shop.done("weigh", CODE, "-o", "weigh.pdf")
    shop.done("batch", "bench", CODE, "--from", filled_sheet(shop, CODE).name)
    shop.done("print", CODE, "--count", "2", "--stock", "a4-2x4-99.1x67.7")
    shop.done("batch", "show", CODE, "-o", "batch.pdf")
    shop.done("trace", "L-2", "-o", "recall.pdf")
    shop.done("trace", "L-2", "-o", "recall.csv")
    texts = {name: Pdf((shop.folder / f"{name}.pdf").read_bytes()) for name in ("weigh", "batch", "recall")}
    for pdf in texts.values():
        assert pdf.size_mm(0) == pytest.approx((210, 297), abs=0.2)
    assert all(word in texts["weigh"].text(0) for word in ("1727.50 g", "1692.95 to 1762.05 g", "at most 12.5 g",
                                                           "Phase C", "weighed by, date"))
    file = "prints/260503A31-1.pdf"
    assert all(word in texts["batch"].text(0) for word in (CODE, "L-2", file, "Ingredients as made"))
    assert all(word in texts["recall"].text(0) for word in (CODE, "75.00 g", "open"))
    rows = list(csv.DictReader((shop.folder / "recall.csv").open(encoding="utf-8")))
    assert [(row["code"], row["kind"], row["grams"], row["labels"]) for row in rows] == [(CODE, "lot", "75", "2")]


def test_formula_weighed_without_a_batch(tmp_path):
    shop = demo_shop(tmp_path)
    told = shop.done("weigh", LOTION, "--size", "500g").out
    assert "345.50 g   338.59 to 352.41 g" in told and "to pH, at most 2.5 g" in told
    assert "next: labeltool batch open oat-milk-hand-lotion --size 500g" in told
    missing = shop.run("weigh", LOTION)
    assert missing.code == 2 and "--size 500g" in missing.err
    assert not (shop.folder / "records.sqlite").exists()


def test_spreadsheet_alone_is_weighed_with_its_name_as_an_option(tmp_path):
    shop = demo_shop(tmp_path)
    shop.write("formulas/quick.csv", "phase,material,percent\nA,water,90\nA,glycerin,10\n")
    assert "50.00 g" in shop.done("weigh", "quick", "--size", "500g", "--name", "Quick").out
