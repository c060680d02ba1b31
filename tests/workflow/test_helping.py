"""What is said to help a label that does not fit does help it."""

import re

import pytest
from cli_runs import BALM, CREAM, Shop, new_shop

MINE = 'kind = "sheet"\npage = [210, 297]\nlabel = [{width}, {height}]\norigin = [5, 5]\n'


@pytest.fixture
def shop(tmp_path) -> Shop:
    home = new_shop(tmp_path)
    home.change("workshop.toml", 'markets   = ["UK"]', 'markets   = ["UK", "US"]')
    return home


def tried(shop, formula, width, height, artwork):
    """(error texts, what helps) of a print that does not fit."""
    shop.write("layouts/stocks/mine.toml", MINE.format(width=width, height=height))
    ran = shop.run("print", formula, "--stock", "mine", "--artwork", artwork, "--json")
    assert ran.code == 2 and not (shop.folder / "records.sqlite").exists()
    found = ran.json["problems"]
    assert {item["rule"] for item in found if item["level"] == "error"} < {"typeset.room", "typeset.width",
                                                                           "typeset.flood"}
    return ([item["text"] for item in found if item["level"] == "error"],
            [item for item in found if item["rule"] == "typeset.helps"])


def test_the_error_says_by_how_much(shop):
    small, _ = tried(shop, BALM, 40, 22, "back")
    less, _ = tried(shop, BALM, 60, 35, "back")
    areas = [int(re.search(r"lacks (\d+) mm²", text)[1]) for text in (small[0], less[0])]
    assert areas[0] > areas[1] > 0


def test_every_change_named_makes_it_fit(shop):
    _, helps = tried(shop, BALM, 90, 60, "front-and-back")
    assert [item["text"][:1] for item in helps] == ["1", "2", "3", "4"]
    assert "without the market US" in helps[3]["text"]
    for item in helps[:3]:
        words = item["do"].split()
        words += ["--stock", "mine"] if "--stock" not in words else ["--artwork", "front-and-back"]
        assert shop.run("print", BALM, *words, "--draft").code == 0, item
    shop.change("workshop.toml", 'markets   = ["UK", "US"]', 'markets   = ["UK"]')
    assert shop.run("print", BALM, "--stock", "mine", "--artwork", "front-and-back").code == 0


def test_the_larger_stock_is_the_smallest_that_holds_it(shop):
    _, helps = tried(shop, BALM, 60, 35, "back")
    assert helps[0]["do"] == "--stock a4-1x6-140x40"
    for smaller in ("a4-2x7-99.1x38.1", "a4-3x7-63.5x38.1"):
        assert shop.run("print", BALM, "--stock", smaller, "--artwork", "back").code == 2


def test_it_says_so_where_nothing_helps(shop):
    text = shop.folder / "formulas" / f"{CREAM}.toml"
    words = text.read_text(encoding="utf-8")
    text.write_text(words.replace("directions = ", 'warnings = ["' + "Keep it cool. " * 500 + '"]\ndirections = ', 1))
    _, helps = tried(shop, CREAM, 60, 35, "back")
    assert len(helps) == 1 and "no other artwork" in helps[0]["text"]


def test_check_tells_it_too(shop):
    shop.write("layouts/stocks/mine.toml", MINE.format(width=60, height=35))
    ran = shop.run("check", BALM, "--stock", "mine", "--artwork", "back", "--json")
    assert {"typeset.room", "typeset.helps"} <= set(ran.rules)


def test_a_fault_that_is_not_of_room_gets_no_such_advice(shop):
    ran = shop.run("print", BALM, "--stock", "a4-4x6-round-40", "--artwork", "wrap", "--json")
    assert "typeset.helps" not in ran.rules and "typeset.arrangement" in ran.rules


def test_it_is_quick(shop):
    tried(shop, CREAM, 60, 35, "front-and-back")


def test_a_leaflet_is_proposed_where_the_law_of_all_markets_takes_one(shop):
    _, helps = tried(shop, CREAM, 63.5, 38.1, "back")
    assert not any("leaflet" in item["do"] for item in helps)
    shop.change("workshop.toml", 'markets   = ["UK", "US"]', 'markets   = ["UK"]')
    _, helps = tried(shop, CREAM, 63.5, 38.1, "back")
    leaflet = next(item for item in helps if item["do"].startswith("--leaflet"))
    assert "the list of ingredients in a leaflet" in leaflet["text"] and "warnings" not in leaflet["text"]
    assert shop.run("print", CREAM, "--stock", "mine", "--artwork", "back", "--leaflet").code == 0


def test_where_no_stock_like_it_holds_the_label_another_kind_is_named(shop):
    shop.write("layouts/stocks/mine.toml", 'kind = "sheet"\npage = [210, 297]\nlabel = [62, 62]\nshape = "round"\n'
               'origin = [5, 5]\n')
    ran = shop.run("print", CREAM, "--stock", "mine", "--artwork", "back", "--json")
    larger = [item["do"] for item in ran.json["problems"] if item["do"] and item["do"].startswith("--stock")]
    assert ran.code == 2 and len(larger) == 1 and "round" not in larger[0]
    assert shop.run("print", CREAM, *larger[0].split(), "--artwork", "back").code == 0


def test_no_stock_is_named_that_is_too_high_for_the_container(shop):
    named = {}
    for straight in (95, 36):
        shop.change(f"formulas/{CREAM}.toml", "height   = 95\n", f"height   = 95\nstraight = {straight}\n")
        _, helps = tried(shop, CREAM, 63.5, 33.9, "back")
        named[straight] = [item["do"] for item in helps if item["do"].startswith("--stock")]
        shop.change(f"formulas/{CREAM}.toml", f"\nstraight = {straight}\n", "\n")
    assert len(named[95]) == 1 and named[36] == []
