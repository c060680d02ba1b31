"""What print says of a stock's medium and face."""

import pytest
from cli_runs import BALM, Shop, new_shop

CLEAR, KRAFT = "a4-3x8-63.5x33.9-clear", "a4-3x7-63.5x38.1-kraft"
RULES = ("medium.", "face.")


@pytest.fixture
def shop(tmp_path) -> Shop:
    home = new_shop(tmp_path)
    for name, colour in (("blue", "#0000ff"), ("dun", "#787878")):
        home.write(f"layouts/stocks/{name}.toml", 'kind = "sheet"\npage = [210, 297]\nlabel = [99.1, 67.7]\n'
                   f'origin = [4.7, 13.1]\nface = "{colour}"\nprint = "thermal-transfer"\n')
    return home


def cautions(shop, *words):
    ran = shop.run("print", BALM, "--json", *words)
    return ran.code, [item["rule"] for item in ran.json["problems"] if item["rule"].startswith(RULES)]


@pytest.mark.parametrize(("words", "found"), [
    (("--stock", "a4-2x4-99.1x67.7"), []), (("--stock", KRAFT), []),
    (("--stock", CLEAR, "--behind", "f5efdc"), ["medium.scuffs"]),
    (("--stock", "roll-102x152-203dpi"), ["medium.fades"]),
    (("--stock", CLEAR), ["medium.scuffs", "face.clear"]),
    (("--stock", KRAFT, "--behind", "#c8a165"), ["face.behind"]),
])
def test_each_stock_has_its_cautions(shop, words, found):
    assert cautions(shop, *words) == (0, found)


def test_a_symbol_without_contrast_is_refused_and_a_draft_is_not(shop):
    assert cautions(shop, "--stock", "blue") == (2, ["face.contrast", "face.symbol"])
    assert not (shop.folder / "records.sqlite").exists()
    assert cautions(shop, "--stock", "blue", "--draft")[0] == 1
    assert cautions(shop, "--stock", CLEAR, "--behind", "#3b2414")[0] == 2
    assert cautions(shop, "--stock", "blue", "--artwork", "front")[1] == ["face.contrast"]


def test_check_tells_the_same(shop):
    ran = shop.run("check", BALM, "--stock", "blue", "--json")
    assert ran.code == 1 and "face.symbol" in ran.rules


def test_a_reprint_remembers_what_lies_behind(shop):
    code = shop.document("print", BALM, "--stock", CLEAR, "--behind", "#f5efdc")["code"]
    again = shop.document("reprint", code, "--why", "torn")
    assert [item["rule"] for item in again["problems"] if item["rule"].startswith(RULES)] == ["medium.scuffs"]
    other = shop.run("reprint", code, "--why", "torn", "--stock", "blue", "--json")
    assert other.code == 2 and "face.symbol" in other.rules


@pytest.mark.parametrize("colour", ["brown", "#12", "#1234567", "#gggggg", ""])
def test_what_is_no_colour_is_a_wrong_call(shop, colour):
    assert cautions(shop, "--stock", CLEAR, "--behind", colour) == (2, [])


def test_the_container_s_colour_stands_in_for_the_option(shop):
    name = f"formulas/{BALM}.toml"
    text = (shop.folder / name).read_text(encoding="utf-8")
    head = "" if "[container]" in text else '[container]\nshape = "cylinder"\ndiameter = 60\nheight = 90\n\n'
    shop.write(name, text.replace("[[ingredient]]", f"{head}[[ingredient]]", 1))
    shop.change(name, "height = 90", 'height = 90\ncolour = "#3b2414"')
    assert cautions(shop, "--stock", CLEAR)[0] == 2
    assert cautions(shop, "--stock", CLEAR, "--behind", "#f5efdc") == (0, ["medium.scuffs"])
    assert "face.symbol" in shop.run("check", BALM, "--stock", CLEAR, "--json").rules
    assert cautions(shop, "--stock", KRAFT) == (0, [])


def test_over_labels_are_counted_in_print_and_reprint(shop):
    found = shop.document("print", BALM, "--stock", CLEAR, "--count", "7")
    again = shop.document("reprint", found["code"], "--count", "3", "--why", "torn")
    for labels, document in ((7, found), (3, again)):
        do = next(item["do"] for item in document["problems"] if item["rule"] == "medium.scuffs")
        assert do.startswith(f"put {labels} clear labels of 63.5 × 33.9 mm")


def test_a_stock_that_goes_onto_the_container_is_chosen_first(shop):
    name = f"formulas/{BALM}.toml"
    text = (shop.folder / name).read_text(encoding="utf-8")
    box = '[container]\nshape = "cylinder"\ndiameter = 60\nheight = {}\n\n[[ingredient]]'
    heights = {}
    for height in (36, 30):
        shop.write(name, text.replace("[[ingredient]]", box.format(height), 1))
        found = shop.document("print", BALM, "--draft")
        heights[height] = found["stock"], [item["rule"] for item in found["problems"] if "container" in item["rule"]]
    assert heights[36] == ("a4-3x8-63.5x33.9", ["container.shoulders"])
    assert heights[30][1] == ["container.height"]
