"""batch release, withdraw, recall, cancel."""

from __future__ import annotations

import pytest
from bench_shop import CODE, demo_shop, opened, ready, small_shop, weighed


def test_all_reasons_at_once_and_nothing_changes(tmp_path):
    shop = demo_shop(tmp_path)
    opened(shop)
    ran = shop.run("batch", "release", CODE, "--by", "A. Bell")
    assert ran.code == 1 and ran.err.count("has not been weighed") == 14 and "no ph was read" in ran.err
    assert "is not released" in ran.out and shop.document("batch", "show", CODE)["state"] == "open"


@pytest.mark.parametrize(("cells", "before", "reason"), [
    ({"glycerin": {"lot": ""}}, (), "line 2, glycerin: no lot is named"),
    ({"glycerin": {"grams": "70"}}, (), "70 g weighed, 75.00 g planned"),
    ({"glycerin": {"expires": "2026-05-02"}}, (), "expired on 2026-05-02"),
    ({"glycerin": {"lot": "G-1"}}, (("lot", "receive", "glycerin", "G-1"), ("lot", "block", "G-1", "--why", "smells")),
     "is blocked: smells"),
    ({"preservative_blend": {"grams": "30"}}, (), "Phenoxyethanol"),
], ids=["no lot", "off", "expired", "blocked", "limit of law"])
def test_one_reason_refuses(tmp_path, cells, before, reason):
    shop = demo_shop(tmp_path)
    for call in before:
        shop.done(*call)
    code = ready(shop, **cells)
    ran = shop.run("batch", "release", code, "--by", "A. Bell")
    assert ran.code == 1 and reason in ran.err


def test_release_names_who_releases(tmp_path):
    shop = demo_shop(tmp_path)
    code = ready(shop)
    shop.change("workshop.toml", 'by        = "AB"\n', "")
    ran = shop.run("batch", "release", code)
    assert ran.code == 2 and "--by NAME" in ran.err
    shop.done("batch", "release", code, "--by", "A. Bell", "--once", "r")
    assert "already done" in shop.done("batch", "release", code, "--by", "A. Bell", "--once", "r").out
    assert shop.run("batch", "release", code, "--by", "A. Bell").code == 2


def test_more_than_the_formula_counts_with_is_released_after_a_revision(tmp_path):
    shop = small_shop(tmp_path)
    code = opened(shop, "plain-test-lotion", "1000g")
    weighed(shop, code)
    shop.done("batch", "bench", code, "--add", "half-citric=12@H-1", "--reading", "ph=6.0")
    assert "12 g added to reach the pH" in shop.run("batch", "release", code, "--by", "A").err
    shop.change("formulas/plain-test-lotion.toml", "up-to = 1", "up-to = 2")
    shop.done("print", code, "--revise", "--why", "more acid", "--count", "1", "--stock", "a4-2x4-99.1x67.7")
    shop.done("batch", "release", code, "--by", "A")


def test_several_are_taken_back_or_none(tmp_path):
    shop = demo_shop(tmp_path)
    first, second = opened(shop), opened(shop, "cedar-beard-oil")
    assert shop.run("batch", "withdraw", first, "260503Z99", "--why", "x").code == 2
    assert shop.document("batch", "show", first)["state"] == "open"
    assert shop.run("batch", "withdraw", first).code == 2
    assert shop.run("batch", "withdraw", first, "--why", " ").code == 2
    told = shop.done("batch", "withdraw", first, second, "--why", "smells", "--once", "w").out
    assert told.count("is withdrawn") == 2
    assert "already done" in shop.done("batch", "withdraw", first, second, "--why", "smells", "--once", "w").out
    shop.done("batch", "recall", first, "--why", "glass")
    shown = shop.document("batch", "show", first)
    assert (shown["state"], shown["why"]) == ("recalled", "glass")


def test_batch_with_labels_cannot_be_cancelled(tmp_path):
    shop = demo_shop(tmp_path)
    code = opened(shop)
    shop.done("print", code, "--count", "1", "--stock", "a4-2x4-99.1x67.7")
    ran = shop.run("batch", "cancel", code)
    assert ran.code == 2 and f"labeltool batch withdraw {code}" in ran.err


def test_a_sheet_is_pdf_or_csv_and_tells_the_plan_in_columns_of_its_own(tmp_path):
    shop = demo_shop(tmp_path)
    code = opened(shop)
    wrong = shop.run("weigh", code, "-o", "weigh.xlsx")
    assert wrong.code == 2 and "weigh.xlsx is neither .pdf nor .csv" in wrong.err
    shop.done("weigh", code, "-o", "weigh.csv")
    lines = (shop.folder / "weigh.csv").read_text(encoding="utf-8").splitlines()
    assert lines[0] == "line,phase,material,planned,grams,lot,expires,note" and lines[1] == "1,A,water,1727.50,,,,"
    assert lines[15].endswith('"to pH, at most 12.5 g"')
