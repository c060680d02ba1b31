"""Heights of letters against the tables printed in the laws, on and just past every boundary."""

from decimal import Decimal
from fractions import Fraction

import pytest

from labeltool.formula.model import Container, NetQuantity
from labeltool.wording.geometry import MM2_PER_SQ_IN, PI, cylinder_panel
from labeltool.wording.minimums import CA_FIGURES, E_MARK, EU_FIGURES, US_FIGURES, heights, step, us_ingredients

A_BIT = Fraction(1, 10**6)

# Directive 76/211/EEC, Annex I 3.1 (and SI 2006/659): nominal g or ml, mm of the figures
EU = [(5, 2), (50, 2), (200, 3), (1000, 4), (10_000, 6)]
# 21 CFR 701.13(i): square inches, inches
US = [(5, "1/16"), (25, "1/8"), (100, "3/16"), (400, "1/4")]
# C.R.C., c. 417, s. 14(2): cm², mm
CA = [(32, 1.6), (258, 3.2), (645, 6.4), (2580, 9.5)]


@pytest.mark.parametrize(("amount", "height"), EU)
def test_figures_of_the_nominal_quantity(amount: int, height: int) -> None:
    assert step(EU_FIGURES, Fraction(amount)) == height


def test_past_a_boundary_the_next_row_counts() -> None:
    assert [step(EU_FIGURES, Fraction(row) + A_BIT) for row in (50, 200, 1000)] == [3, 4, 6]
    assert [step(US_FIGURES, Fraction(row) + A_BIT) for row in (5, 25, 100, 400)] == [1 / 8, 3 / 16, 1 / 4, 1 / 2]
    assert [step(CA_FIGURES, Fraction(row) + A_BIT) for row in (32, 258, 645, 2580)] == [3.2, 6.4, 9.5, 12.7]


@pytest.mark.parametrize(("area", "inches"), US)
def test_us_heights_by_principal_display_panel(area: int, inches: str) -> None:
    assert step(US_FIGURES, Fraction(area)) == float(Fraction(inches))


@pytest.mark.parametrize(("area", "height"), CA)
def test_canadian_heights_by_principal_display_surface(area: int, height: float) -> None:
    assert step(CA_FIGURES, Fraction(area)) == height


def test_half_an_inch_belongs_to_the_largest_panels_only() -> None:
    """Not 1/2 in where embossed: embossing adds 1/16 in to every row."""
    assert step(US_FIGURES, Fraction(400)) == 1 / 4


def test_the_e_mark_is_three_millimetres_high() -> None:
    """Directive 76/211/EEC, Annex I 3.3."""
    assert E_MARK.height_mm == 3.0


# Derived from 21 CFR 701.10, worked out beforehand: panels in inches and the row they fall into
@pytest.mark.parametrize(("height", "circumference", "area", "inches"), [
    (Fraction(5, 2), Fraction(5), Fraction(5), 1 / 16),
    (Fraction(10), Fraction(25), Fraction(100), 3 / 16),
])
def test_derived_cylinder_boundaries_are_exact(
    height: Fraction, circumference: Fraction, area: Fraction, inches: float,
) -> None:
    """0.4 * 2.5 * 5 is 5 exactly and stays in the lower row."""
    assert cylinder_panel(height, circumference) == area
    assert step(US_FIGURES, cylinder_panel(height, circumference)) == inches


@pytest.mark.parametrize(("diameter", "height", "area", "inches"), [
    ("2.0", "4.0", 10.0531, 1 / 8), ("2.0", "1.5", 3.7699, 1 / 16), ("0.63", "2.6", 2.0584, 1 / 16),
])
def test_derived_bottles_and_jars(diameter: str, height: str, area: float, inches: float) -> None:
    panel = cylinder_panel(Fraction(height), PI * Fraction(diameter))
    assert float(panel) == pytest.approx(area, abs=5e-5)
    assert step(US_FIGURES, panel) == inches


def inches_box(*measures: str) -> Container:
    width, depth, height = (Decimal(item) * Decimal("25.4") for item in measures)
    return Container("box", width_mm=width, depth_mm=depth, height_mm=height)


@pytest.mark.parametrize(("width", "height", "inches"), [
    ("2", "2.5", 1 / 16), ("5", "5", 1 / 8), ("10", "10", 3 / 16), ("20", "20", 1 / 4),
    ("2.001", "2.5", 1 / 8), ("5.001", "5", 3 / 16), ("10.001", "10", 1 / 4), ("20.001", "20", 1 / 2),
])
def test_derived_rectangles_on_and_past_the_boundary(width: str, height: str, inches: float) -> None:
    found = heights(inches_box(width, "0.5", height), NetQuantity(Decimal(50), "ml"), ("US",)).net
    assert max(item.height_mm for item in found if item.source.startswith("21 CFR")) == pytest.approx(inches * 25.4)


@pytest.mark.parametrize(("height", "smaller"), [("1.999", True), ("2", False), ("2.001", False)])
def test_twelve_square_inches_exactly_are_not_less(height: str, smaller: bool) -> None:
    """21 CFR 701.3(p): "less than 12 square inches" of the whole package; a box of 1 x 1 x h has 2 + 4 h."""
    third = Decimal(height) * Decimal("1.25")
    box = inches_box("1", "1", str(third))
    assert (us_ingredients(box).height_mm < 1) is smaller


def test_a_square_inch_is_exact() -> None:
    """16 CFR 500.19(a): 1 in² is 6.4516 cm² exactly."""
    assert Fraction("645.16") == MM2_PER_SQ_IN
