"""Labels held against the container they go on."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labeltool.formula.model import Container
from labeltool.stock.onto import onto, suits
from labeltool.stock.parse import parse_stock

SHEET = {"kind": "sheet", "page": [210, 297], "label": [63.5, 33.9], "origin": [7.2, 12.9]}
STOCK = parse_stock("a4", SHEET)[0]
assert STOCK is not None
JAR = Container("cylinder", diameter_mm=Decimal(40), height_mm=Decimal(60))


def rules(container: Container | None, *, shape: str = "rectangle", artworks: tuple[str, ...] = ("back",)) -> list[str]:
    return [item.rule for item in onto(replace(STOCK, shape=shape), container, artworks)]


@pytest.mark.parametrize(("height", "straight", "found"), [
    ("60", None, []), ("39.9", None, []), ("39.8", None, ["container.shoulders"]),
    ("33.9", None, ["container.shoulders"]),
    ("33.8", None, ["container.height"]), ("60", "33.9", []), ("60", "33.8", ["container.height"]),
    ("34", "33.9", []), (None, None, []),
])
def test_the_wall_bounds_the_label(height: str | None, straight: str | None, found: list[str]) -> None:
    jar = replace(JAR, height_mm=height and Decimal(height), straight_mm=straight and Decimal(straight))
    assert rules(jar) == found
    assert suits(STOCK, jar) is ("container.height" not in found)


@pytest.mark.parametrize(("width", "found"), [("63.5", []), ("63.4", ["container.width"])])
def test_a_pouch_bounds_its_width(width: str, found: list[str]) -> None:
    assert rules(Container("pouch", width_mm=Decimal(width), height_mm=Decimal(90))) == found


def test_what_goes_on_lid_or_bottom_is_held_against_nothing() -> None:
    low = replace(JAR, height_mm=Decimal(20))
    assert rules(low) == ["container.height"]
    assert rules(low, shape="round") == rules(low, artworks=("bottom-dot",)) == rules(None) == []


def test_the_finding_has_both_numbers() -> None:
    low = replace(JAR, straight_mm=Decimal("30.5"))
    assert [item.text for item in onto(STOCK, low, ("back",))] == [
        "the label is 33.9 mm high, the container's straight wall 30.5 mm"]
