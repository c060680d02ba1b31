"""Smallest heights: which apply to which block, and what happens where measures lack."""

from decimal import Decimal
from fractions import Fraction

import pytest

from labeltool.formula.model import Container, NetQuantity
from labeltool.wording.geometry import largest_face_mm2, package_mm2, panel_mm2
from labeltool.wording.minimums import floor_minimum, heights, measure_findings, us_ingredients
from labeltool.wording.model import Minimum

ML50 = NetQuantity(Decimal(50), "ml")
BOX = Container("box", width_mm=Decimal(40), depth_mm=Decimal(60), height_mm=Decimal(100))
POUCH = Container("pouch", width_mm=Decimal(80), height_mm=Decimal(100))
OTHER = Container("other", area_mm2=Decimal(8000))
TUBE = Container("cylinder", diameter_mm=Decimal(16), height_mm=Decimal(66))


def tallest(found: tuple[Minimum, ...], measure: str) -> float:
    return max((item.height_mm for item in found if item.measure == measure), default=0.0)


@pytest.mark.parametrize(("container", "panel", "package", "face"), [
    (BOX, 6000, 24_800, 6000),
    (POUCH, 8000, 16_000, 8000),
    (OTHER, 3200, 8000, 8000),
    (None, None, None, None),
    (Container("cylinder"), None, None, None),
    (Container("box", width_mm=Decimal(40)), None, None, None),
    (Container("other"), None, None, None),
])
def test_areas(container: Container | None, panel: int | None, package: int | None, face: int | None) -> None:
    assert (panel_mm2(container), package_mm2(container), largest_face_mm2(container)) == (panel, package, face)


def test_a_cylinders_areas() -> None:
    wall = 3.141592653589793 * 16 * 66
    assert float(panel_mm2(TUBE) or 0) == pytest.approx(0.4 * wall)
    assert float(largest_face_mm2(TUBE) or 0) == pytest.approx(wall)
    assert float(package_mm2(TUBE) or 0) == pytest.approx(wall + 2 * 3.141592653589793 * 64)


@pytest.mark.parametrize(("width", "height", "floor"), [("80", "99.9", 0.9), ("80", "100", 1.2), ("80", "100.1", 1.2)])
def test_our_floor_shrinks_below_80_square_centimetres(width: str, height: str, floor: float) -> None:
    """Borrowed from Regulation (EU) No 1169/2011, Art. 13(3): "less than 80 cm2"; cosmetics law has no figure."""
    found = floor_minimum(Container("pouch", width_mm=Decimal(width), height_mm=Decimal(height)))
    assert found.height_mm == floor
    assert found.borrowed
    assert found.measure == "x"


def test_without_a_container_the_larger_figures_count() -> None:
    assert floor_minimum(None).height_mm == 1.2
    assert us_ingredients(None).height_mm == pytest.approx(25.4 / 16)
    found = heights(None, ML50, ("US", "CA")).net
    assert tallest(found, "x") == pytest.approx(3.175)
    assert tallest(found, "figure") == 3.2


def test_lacking_measures_are_said_where_they_decide() -> None:
    assert [item.rule for item in measure_findings(None, ("US",))] == ["container.measures"]
    assert [item.level for item in measure_findings(None, ("CA",))] == ["warning"]
    assert not measure_findings(None, ("UK", "EU"))
    assert not measure_findings(TUBE, ("US", "CA"))


@pytest.mark.parametrize(("market", "figure", "x"), [
    ("UK", 2.0, 0.9), ("EU", 2.0, 0.9), ("US", 0.0, 25.4 / 16), ("CA", 1.6, 1.6),
])
def test_the_net_quantity_by_market(market: str, figure: float, x: float) -> None:
    found = heights(TUBE, ML50, (market,)).net
    assert (tallest(found, "figure"), tallest(found, "x")) == (figure, pytest.approx(x))


def test_several_markets_bring_all_their_minimums() -> None:
    """30 square inches: the US wants 3/16 in, Canada 1/8 in; 60: 3/16 and 1/4 (21 CFR 701.13(i); c. 417, s. 14(2))."""
    thirty = Container("pouch", width_mm=Decimal("127"), height_mm=Decimal("152.4"))
    sixty = Container("pouch", width_mm=Decimal("254"), height_mm=Decimal("152.4"))
    at_thirty, at_sixty = (heights(item, ML50, ("US", "CA")).net for item in (thirty, sixty))
    assert (tallest(at_thirty, "x"), tallest(at_thirty, "figure")) == (pytest.approx(4.7625), 3.2)
    assert (tallest(at_sixty, "x"), tallest(at_sixty, "figure")) == (pytest.approx(4.7625), 6.4)


def test_pieces_have_no_figure_height_in_europe() -> None:
    assert tallest(heights(TUBE, NetQuantity(Decimal(6), "pieces"), ("EU",)).net, "figure") == 0
    assert tallest(heights(TUBE, None, ("EU",)).net, "figure") == 0


def test_only_ingredients_may_be_smaller_on_a_small_package() -> None:
    """21 CFR 701.3(p) allows 1/32 in for the list; 740.2(a) knows no such case for warnings."""
    high = heights(TUBE, ML50, ("US",))
    assert tallest(high.ingredients, "x") == 0.9
    assert any(item.height_mm == pytest.approx(25.4 / 32) for item in high.ingredients)
    assert tallest(high.us_warning, "x") == pytest.approx(25.4 / 16)
    assert tallest(high.running, "x") == 0.9


def test_canada_wants_its_height_for_identity_and_dealer_only() -> None:
    high = heights(TUBE, ML50, ("CA",))
    assert tallest(high.identity, "x") == tallest(high.dealer, "x") == 1.6
    assert tallest(high.ingredients, "x") == tallest(high.running, "x") == 0.9


def test_every_minimum_names_its_source() -> None:
    high = heights(TUBE, ML50, ("UK", "EU", "US", "CA"))
    every = (*high.running, *high.net, *high.ingredients, *high.identity, *high.dealer, *high.us_warning)
    assert all(item.source and item.height_mm > 0 for item in every)
    assert {item.borrowed for item in every} == {True, False}


def test_areas_are_exact() -> None:
    assert panel_mm2(Container("pouch", width_mm=Decimal("0.1"), height_mm=Decimal("0.3"))) == Fraction(3, 100)
