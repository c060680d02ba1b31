"""Rules that depend on the pack, on both sides of each edge, from the texts of law named beside them."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from cli_runs import BALM, Shop, new_shop

from labeltool.formula.model import Container, NetQuantity
from labeltool.wording.minimums import CA_FIGURES, CA_NET_SOURCE, EU_SOURCE, US_NET_SOURCE, heights, us_ingredients

MM_PER_IN = Decimal("25.4")
LOW, HIGH = Decimal("0.999999"), Decimal("1.000001")


def figures(source: str, container: Container | None, net: str, market: str) -> float:
    found = heights(container, NetQuantity(Decimal(net), "ml"), (market,)).net
    (height,) = [item.height_mm for item in found if item.source == source]
    return height


def panel(area_mm2: Decimal) -> Container:
    """A pouch whose face, its principal display panel, has this area (21 CFR 701.10(a))."""
    return Container("pouch", width_mm=Decimal(100), height_mm=area_mm2 / 100)


# Directive 76/211/EEC, Annex I 3.1: not more than 50, more than 50 to 200, more than 200 to 1000, more than 1000
@pytest.mark.parametrize(("net", "height"), [
    ("5", 2), ("50", 2), ("50.1", 3), ("200", 3), ("200.1", 4), ("1000", 4), ("1000.1", 6),
])
def test_european_figures_by_content(net, height):
    assert figures(EU_SOURCE, None, net, "EU") == figures(EU_SOURCE, None, net, "UK") == height


# 21 CFR 701.13(i): square inches of the principal display panel "5 or less", "more than 5 but not more than 25", …
@pytest.mark.parametrize(("square_inches", "inch"), [(5, "1/16"), (25, "1/8"), (100, "3/16"), (400, "1/4")])
def test_american_figures_by_panel(square_inches, inch):
    above = {"1/16": "1/8", "1/8": "3/16", "3/16": "1/4", "1/4": "1/2"}
    area = square_inches * MM_PER_IN**2
    for factor, wanted in ((1, inch), (LOW, inch), (HIGH, above[inch])):
        top, bottom = map(int, wanted.split("/"))
        assert figures(US_NET_SOURCE, panel(area * factor), "30", "US") == pytest.approx(25.4 * top / bottom)


# 21 CFR 701.10(b): 40 percent of the product of the height of the container times the circumference
def test_american_panel_of_a_cylinder():
    bottle = Container("cylinder", diameter_mm=Decimal(33), height_mm=Decimal(78))  # 5.01 square inches
    slim = Container("cylinder", diameter_mm=Decimal(33), height_mm=Decimal("77.7"))  # 4.99
    assert figures(US_NET_SOURCE, bottle, "30", "US") == pytest.approx(25.4 / 8)
    assert figures(US_NET_SOURCE, slim, "30", "US") == pytest.approx(25.4 / 16)


# 21 CFR 701.3(p): 1/32 inch where the package has less than 12 square inches in all
def test_american_list_by_the_whole_package():
    area = 12 * MM_PER_IN**2
    assert us_ingredients(Container("other", area_mm2=area)).height_mm == pytest.approx(25.4 / 16)
    assert us_ingredients(Container("other", area_mm2=area * LOW)).height_mm == pytest.approx(25.4 / 32)


# C.R.C., c. 417, s. 14(2): 32 cm² or less 1.6 mm, more than 32 to 258 3.2, to 645 6.4, to 25.8 dm² 9.5, more 12.7
@pytest.mark.parametrize(("square_cm", "height", "above"), [(32, 1.6, 3.2), (258, 3.2, 6.4), (645, 6.4, 9.5),
                                                            (2580, 9.5, 12.7)])
def test_canadian_figures_by_surface(square_cm, height, above):
    assert (square_cm, height) in CA_FIGURES
    area = Decimal(square_cm * 100)
    assert figures(CA_NET_SOURCE, panel(area), "30", "CA") == height
    assert figures(CA_NET_SOURCE, panel(area * HIGH), "30", "CA") == above


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """A balm in packs round every edge."""
    shop = new_shop(tmp_path_factory.mktemp("edges"))
    path = shop.folder / "formulas" / f"{BALM}.toml"
    text = path.read_text(encoding="utf-8").replace('net        = "40 g"\n', "")
    nets = [("a", 'net = "4.9 ml"'), ("b", 'net = "5.0 ml"'), ("c", 'net = "5.1 ml"'), ("d", 'net = "4.9 g"'),
            ("e", 'net = "5 g"'), ("f", ""), ("g", 'mark = "Sample. Not for sale."'), ("h", 'mark = "Tester"'),
            ("i", 'mark = "Winter edition"'), ("j", 'net = "6 pieces"'), ("k", 'net = "3 x 100 g"')]
    path.write_text(text + "".join(f'\n[[pack]]\nname = "{name}"\n{more}\n' for name, more in nets), encoding="utf-8")
    return shop


# Art. 19(1)(b): no content on packaging of less than 5 g or 5 ml, on free samples, on single-application packs
@pytest.mark.parametrize(("pack", "state"), [
    ("a", "not-needed"), ("b", "present"), ("c", "present"), ("d", "not-needed"), ("e", "present"), ("f", "missing"),
    ("g", "not-needed"), ("h", "not-needed"), ("i", "missing"), ("j", "present"), ("k", "present"),
])
def test_small_packs_and_samples_need_no_content(packs, pack, state):
    found = net_rows(packs.run("check", BALM, "--pack", pack, "--json").json)
    assert [row["state"] for row in found] == [state]


def test_a_single_application_needs_no_content(packs, tmp_path):
    path = packs.write("formulas/single.toml", (packs.folder / "formulas" / f"{BALM}.toml").read_text().replace(
        "shelf-life", 'no-opening-period = "single use"\nshelf-life'))
    assert [row["state"] for row in net_rows(packs.run("check", path, "--pack", "f", "--json").json)] == ["not-needed"]


def test_the_rest_of_article_19_is_asked_of_small_packs_too(packs):
    small = {row["element"]: row["state"] for row in packs.document("check", BALM, "--pack", "a")["elements"]}
    large = {row["element"]: row["state"] for row in packs.document("check", BALM, "--pack", "c")["elements"]}
    assert {key for key in small if small[key] != large[key]} == {"net content"}


def test_counts_and_multiples_are_said_as_they_are(packs):
    for pack, words in (("j", "6 pieces"), ("k", "3 × 100 g")):
        (row,) = net_rows(packs.document("check", BALM, "--pack", pack))
        assert row["text"] == words


def net_rows(document: Any) -> list[Any]:
    return [row for row in document["elements"] if row["element"] == "net content"]
