"""trace and due."""

from __future__ import annotations

import csv
import datetime as dt

import pytest
from bench_shop import CODE, SMALL, demo_shop, opened, ready, small_shop, small_weighed, weighed


def test_nothing_found_is_exit_1(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    ran = shop.run("trace", "Q-9", "--json")
    assert ran.code == 1 and ran.json == {"format": 1, "term": "Q-9", "kind": None, "batches": []}
    shop.done("lot", "receive", "xanthan", "Q-9")
    told = shop.run("trace", "Q-9")
    assert told.code == 1 and "on record and in no batch" in told.err
    assert "did you mean glycerin?" in shop.run("trace", "glycerine").err


@pytest.mark.parametrize(("term", "kind", "grams"), [
    ("L-3", "lot", 100), ("oat-extract", "material", 100), ("oat-milk", "material", 100),
    ("260503-A-31", "code", 2501.3), ("Citric acid", "inci", 0.26),
])
def test_every_kind_of_term(tmp_path, term, kind, grams):
    shop = demo_shop(tmp_path)
    ready(shop)
    found = shop.document("trace", term)
    assert (found["kind"], [item["code"] for item in found["batches"]]) == (kind, [CODE])
    assert found["batches"][0]["grams"] == pytest.approx(grams)


def test_batch_not_weighed_is_found_by_what_is_planned(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    found = shop.document("trace", "glycerin")
    assert found["kind"] == "material" and found["batches"][0]["grams"] == 75
    assert [item["kind"] for item in found["also"]] == ["inci"]


def test_lot_goes_on_through_a_material_made_here(tmp_path):
    shop = small_shop(tmp_path)
    path = shop.folder / "materials.toml"
    path.write_text(path.read_text(encoding="utf-8") + '\n[own-base]\nname = "Base of our own"\n'
                    'formula = "plain-test-lotion"\n', encoding="utf-8")
    mixed = SMALL.replace("Plain Test Lotion", "Mixed").replace('"coconut-ester"', '"own-base"')
    shop.write("formulas/mixed.toml", mixed)
    base = small_weighed(shop)
    code = opened(shop, "mixed", "1000g")
    weighed(shop, code, own_base={"lot": base})
    found = shop.document("trace", "L-2")
    assert [item["code"] for item in found["batches"]] == [base, code]
    assert found["batches"][1]["grams"] == pytest.approx(50 + 49 * 50 / 1000)
    shop.done("batch", "recall", base, "--why", "smells")
    assert f"batch {base} is recalled" in shop.run("batch", "release", code, "--by", "A").err


def test_recall_sheet_as_csv_guards_its_cells(tmp_path):
    shop = small_shop(tmp_path)
    shop.change("formulas/plain-test-lotion.toml", "Plain Test Lotion", "=1+1 Lotion")
    code = opened(shop, "plain-test-lotion", "1000g")
    weighed(shop, code, glycerin={"lot": "@SUM(A1)"})
    shop.done("trace", "@SUM(A1)", "-o", "recall.csv")
    rows = list(csv.DictReader((shop.folder / "recall.csv").open(encoding="utf-8")))
    assert [(row["term"], row["product"]) for row in rows] == [("'@SUM(A1)", "'=1+1 Lotion")]
    again = shop.run("trace", "@SUM(A1)", "-o", "recall.csv")
    assert again.code == 2 and "never replaced" in again.err


def test_what_comes_due(tmp_path):
    shop = small_shop(tmp_path)
    shop.done("lot", "receive", "glycerin", "G-1", "--expires", "2026-06-30")
    shop.done("lot", "receive", "xanthan", "X-1", "--expires", "2026-05-01")
    code = opened(shop, "plain-test-lotion", "1000g")
    items = shop.document("due")["items"]
    assert [(item["kind"], item["name"], item["date"], item["overdue"]) for item in items] == [
        ("lot", "X-1", "2026-05-01", True), ("lot", "G-1", "2026-06-30", False)]
    names = [item["name"] for item in shop.document("due", "--within", "12 months")["items"]]
    assert names == ["X-1", "G-1", code]
    kinds = [item["kind"] for item in shop.document("due", "--within", "11y")["items"]]
    assert kinds == ["lot", "lot", "best-before", "sample", "records"]
    assert "PAST" in shop.done("due", today=dt.date(2027, 5, 4)).out
    assert shop.run("due", "--within", "soon").code == 2


def test_records_are_kept_for_ten_years_from_the_release(tmp_path):
    shop = small_shop(tmp_path)
    code = opened(shop, "plain-test-lotion", "1000g", made="2020-01-02")

    def until():
        items = shop.document("due", "--within", "99y")["items"]
        return next(item["date"] for item in items if item["kind"] == "records")

    assert until() == "2030-01-02"
    weighed(shop, code)
    shop.done("batch", "bench", code, "--reading", "ph=6")
    shop.done("batch", "release", code, "--by", "A")
    assert until() > "2033"
