"""A batch filled into several packs: counts by pack and by label."""

from __future__ import annotations

import pytest
from cli_runs import CREAM
from pack_shop import pack_shop


@pytest.fixture
def shop(tmp_path):
    return pack_shop(tmp_path)


@pytest.fixture
def code(shop):
    return shop.done("batch", "open", CREAM, "--size", "2kg").out.splitlines()[0]


def test_packs_are_filled_and_counted_one_by_one(shop, code):
    which = shop.run("batch", "bench", code, "--filled", "40")
    assert which.code == 2 and "several packs: say which" in which.err and "--filled sample=40" in which.err
    shop.done("batch", "bench", code, "--filled", "30ML=12", "--filled", "100ml=4")
    again = shop.run("batch", "bench", code, "--filled", "30ml=13")
    assert again.code == 2 and "--correct filled=30ml=13 --why TEXT" in again.err
    shop.done("print", code, "--pack", "30ml", "--count", "filled")
    shop.done("batch", "bench", code, "--spoiled", "1=2", "--left", "2/back=1")
    shown = shop.document("batch", "show", code)
    assert shown["filled"] == {"30ml": 12, "100ml": 4}
    first, second, _ = shown["prints"]
    assert (first["pack"], first["label"], first["good"], first["spoiled"]) == ("30ml", "front", 10, 2)
    assert (second["good"], second["spoiled"], second["left"]) == (12, None, 1)
    accounts = {item["artwork"]: item for item in shown["accounts"]}
    assert accounts["front"]["missing"] == 2 and accounts["back"]["used"] == 11 and accounts["box"]["used"] is None
    assert [item["rule"] for item in shown["problems"] if item["rule"].startswith("labels.")] == [
        "labels.too-few", "labels.differ"]
    more = shop.document("print", code, "--pack", "30ml", "--label", "front", "--count", "filled")
    assert more["labels"] == 2
