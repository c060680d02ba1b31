"""--once: a command sent twice does its work once."""

from __future__ import annotations

import datetime as dt

import pytest
from cli_runs import BALM, CREAM, tree


def test_same_key_again_answers_with_the_first_print(shop):
    call = ("print", BALM, "--count", "3", "--once", "order-7")
    first = shop.document(*call)
    before = tree(shop.folder / "prints")
    again = shop.document(*call)
    assert again | {"problems": []} == first | {"problems": []}
    assert tree(shop.folder / "prints") == before
    assert len(shop.document("batch", "list")["items"]) == 1
    assert "already done" in shop.done(*call).out


@pytest.mark.parametrize("other", [
    ("print", BALM, "--count", "4"), ("print", CREAM, "--count", "3"),
    ("print", BALM, "--count", "3", "--made", "2026-05-02"),
    ("print", BALM, "--count", "3", "--skip", "1"), ("print", BALM, "--count", "3", "--stock", "a4-2x4-99.1x67.7"),
    ("batch", "open", BALM),
], ids=" ".join)
def test_same_key_with_other_arguments_is_refused(shop, other):
    shop.done("print", BALM, "--count", "3", "--once", "order-7")
    before = tree(shop.folder)
    ran = shop.run(*other, "--once", "order-7")
    assert ran.code == 2 and ran.err.startswith("error: ") and "order-7" in ran.err
    assert tree(shop.folder) == before


def test_batch_opened_once(shop):
    first = shop.done("batch", "open", BALM, "--size", "500g", "--once", "k")
    again = shop.done("batch", "open", BALM, "--size", "500g", "--once", "k")
    assert first.out.splitlines()[0] == again.out.splitlines()[0] == "260503A31"
    assert len(shop.document("batch", "list")["items"]) == 1
    assert shop.run("batch", "open", BALM, "--size", "400g", "--once", "k").code == 2


def test_reprint_once(used_shop):
    call = ("reprint", "260503A31", "--why", "torn", "--once", "again")
    first, second = used_shop.document(*call), used_shop.document(*call)
    assert first["file"] == second["file"] == "prints/260503A31-2.pdf"
    assert len(used_shop.document("batch", "show", "260503A31")["prints"]) == 2
    assert used_shop.run("reprint", "260503A31", "--why", "lost", "--once", "again").code == 2
    assert used_shop.run("reprint", "260503B28", "--why", "torn", "--once", "again").code == 2


def test_several_formulas_under_one_key(shop):
    call = ("print", CREAM, BALM, "--count", "1", "--once", "run")
    first = [item["code"] for item in shop.document(*call)["items"]]
    assert [item["code"] for item in shop.document(*call)["items"]] == first
    assert len(shop.document("batch", "list")["items"]) == 2


def test_more_labels_of_an_open_batch_under_a_key(used_shop):
    call = ("print", "260503A31", "--count", "1", "--once", "more")
    assert used_shop.document(*call)["file"] == used_shop.document(*call)["file"]
    assert len(used_shop.document("batch", "show", "260503A31")["prints"]) == 2


def test_first_result_is_given_on_a_later_day_and_after_the_files_changed(shop):
    call = ("print", BALM, "--count", "1", "--once", "k")
    first = shop.document(*call)
    shop.change("materials.toml", 'inci = "Cera Alba"', 'inci = "Candelilla Cera"')
    later = shop.run(*call, "--json", today=dt.date(2026, 5, 4))
    assert later.code == 0 and later.json["code"] == first["code"]
    assert len(shop.document("batch", "list")["items"]) == 1
