"""A material made here goes in as its batch was made, not as its formula was planned."""

from __future__ import annotations

import pytest
from bench_shop import opened, small_shop, small_weighed

SOLUTION = """
[product]
name = "Citric solution of our own"
use = "leave-on"
form = "liquid"
net = "100 ml"
directions = "None."
shelf-life = "6 months"
markets = ["UK"]

[[ingredient]]
material = "water"
percent = 80

[[ingredient]]
inci = "Citric Acid"
percent = 20
purpose = "ph-adjuster"
"""
MATERIAL = """
[own-citric]
name = "Citric solution of our own"
formula = "own-citric"
"""


@pytest.fixture
def shop(tmp_path):
    shop = small_shop(tmp_path)
    shop.write("formulas/own-citric.toml", SOLUTION)
    path = shop.folder / "materials.toml"
    path.write_text(path.read_text(encoding="utf-8") + MATERIAL, encoding="utf-8")
    return shop


def citric(shop, code):
    made = shop.document("batch", "show", code)["as-made"]
    row = next(row for row in made["ingredients"] if row["inci"] == "Citric Acid")
    assert "own-citric" in row["from"]
    return row["percent"]["nominal"]


def solution(shop, water, acid):
    code = opened(shop, "own-citric", "200g")
    if water:
        shop.write(f"{code}.csv", f"line,grams,lot\n1,{water},\n2,{acid},C-1\n")
        shop.done("batch", "bench", code, "--from", f"{code}.csv")
    return code


def test_what_the_batch_was_made_of_goes_in(shop):
    own = solution(shop, 150, 50)
    code = small_weighed(shop)
    shop.done("batch", "bench", code, "--add", f"own-citric=8@{own}", "--reading", "ph=6")
    assert citric(shop, code) == pytest.approx(8 * 0.25 / 1008 * 100)


def test_a_batch_not_weighed_yet_stands_by_its_formula(shop):
    own = solution(shop, None, None)
    code = small_weighed(shop)
    shop.done("batch", "bench", code, "--add", f"own-citric=8@{own}", "--reading", "ph=6")
    assert citric(shop, code) == pytest.approx(8 * 0.2 / 1008 * 100)


def test_two_batches_of_one_material_each_bring_their_own(shop):
    one, other = solution(shop, 150, 50), solution(shop, 180, 20)
    code = small_weighed(shop)
    shop.done("batch", "bench", code, "--add", f"own-citric=4@{one}", "--add", f"own-citric=6@{other}",
              "--reading", "ph=6")
    assert citric(shop, code) == pytest.approx((4 * 0.25 + 6 * 0.1) / 1010 * 100)
    traced = {item["code"]: item["grams"] for item in shop.document("trace", "C-1")["batches"]}
    assert traced[code] == pytest.approx(4 * 0.25 + 6 * 0.1)
