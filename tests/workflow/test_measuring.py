import pytest
from cli_runs import BALM, labeltool, new_shop

READINGS = ("--page", 210, 297, "--label", 63.5, 38.1, "--grid", 3, 7, "--first", "7,5", 15, "--last", 203, 282)


@pytest.fixture
def shop(tmp_path):
    return new_shop(tmp_path)


def test_readings_become_a_stock_to_print_on(shop):
    made = shop.document("stock", "measure", "mine", *READINGS)
    assert made["file"].replace("\\", "/") == "layouts/stocks/mine.toml"
    assert (made["origin"], made["pitch"], made["grid"]) == ([7.5, 15], [66.0, 38.15], [3, 7])
    assert made["off"] == [0.5, 0.5]
    assert shop.document("print", BALM, "--stock", "mine")["labels"] == 21


def test_it_says_how_far_off_places_may_be(shop):
    assert "may be off by 0.5 mm across and 0.5 mm down" in shop.done("stock", "measure", "mine", *READINGS).out
    assert "may be off by 0.5 mm across" in (shop.folder / "layouts/stocks/mine.toml").read_text()


def test_a_built_in_stock_that_it_might_be_is_named(shop):
    made = shop.document("stock", "measure", "mine", "--page", 210, 297, "--label", 63.5, 38.1, "--grid", 3, 7,
                         "--first", 7.3, 15, "--last", 202.6, 281.9)
    assert [item["rule"] for item in made["problems"]] == ["stock.like"]
    assert "a4-3x7-63.5x38.1" in made["problems"][0]["text"]


@pytest.mark.parametrize("name", ["a4-3x7-63.5x38.1", "A4-3X7-63.5x38.1", "taken", "../x", "a/b", "", ".x", "x.toml",
                                  "x" * 61, "con\n"])
def test_a_name_in_use_or_of_no_use_is_refused(shop, name):
    shop.write("layouts/stocks/taken.toml", "broken")
    ran = shop.run("stock", "measure", name, *READINGS)
    assert ran.code == 2
    assert [path.name for path in (shop.folder / "layouts/stocks").iterdir()] == ["taken.toml"]
    assert (shop.folder / "layouts/stocks/taken.toml").read_text() == "broken"


@pytest.mark.parametrize(("option", "values", "rule"), [
    ("--last", (180, 282), "stock.readings"), ("--page", (200, 297), "stock.off-page"),
    ("--label", (2, 38.1), "stock.value"), ("--first", (-4, 15), "stock.value"),
    ("--grid", (0, 7), "call.usage"), ("--label", ("x", 2), "call.usage"),
])
def test_readings_that_cannot_be_are_told_and_nothing_is_written(shop, option, values, rule):
    words = list(READINGS)
    at = words.index(option)
    words[at + 1:at + 3] = values
    ran = shop.run("stock", "measure", "mine", "--json", *words)
    assert ran.code == 2 and rule in ran.rules
    assert not (shop.folder / "layouts/stocks/mine.toml").exists()


def test_outside_a_workshop_it_is_refused(tmp_path):
    assert labeltool("stock", "measure", "mine", *READINGS, cwd=tmp_path).code == 2
