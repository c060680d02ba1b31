"""Symbols round cylinders: warned of, set as small as the container wants, and graded as they are seen there."""

from decimal import Decimal

import pytest
from label_frames import label

from labeltool.formula.model import Container
from labeltool.workflow.curving import curve, diameter_of, widest_symbol_mm
from labeltool.workflow.layouts import stock

SHEET, ROUND = stock("a4-3x8-63.5x33.9", None), stock("a4-4x6-round-40", None)


def cylinder(diameter):
    return Container("cylinder", diameter_mm=Decimal(diameter), height_mm=Decimal(90))


@pytest.mark.parametrize(("container", "what", "artwork", "diameter"), [
    (cylinder(40), SHEET, "back", 40.0), (cylinder(40), ROUND, "round-lid", None), (cylinder(40), ROUND, "back", None),
    (cylinder(40), SHEET, "bottom-dot", None), (None, SHEET, "back", None),
    (Container("box", width_mm=Decimal(40), depth_mm=Decimal(40)), SHEET, "back", None),
    (Container("cylinder"), SHEET, "back", None),
])
def test_what_goes_round_a_cylinder(container, what, artwork, diameter):
    assert diameter_of(container, what, artwork) == diameter


def test_the_widest_symbol_follows_version_and_diameter():
    assert widest_symbol_mm(cylinder(40), SHEET, "back", 2) == pytest.approx(18.8)
    assert widest_symbol_mm(cylinder(40), SHEET, "back", 5) == pytest.approx(9.2)
    assert widest_symbol_mm(None, SHEET, "back", 5) is None


@pytest.mark.parametrize(("diameter", "warned"), [(22.6, False), (22.4, True), (15.0, True), (60.0, False), (None, 0)])
def test_a_symbol_too_wide_for_its_cylinder_is_warned_of(diameter, warned):
    """The sample's symbol: version 2, 25 modules of 10 dots at 600 dpi, 10.58 mm: 0.47 of 22.52 mm."""
    found = curve([label()], [diameter])
    assert bool(found) == warned
    for item in found:
        assert (item.rule, item.level, item.confidence) == ("container.curve", "warning", "practice")
        assert "10.6 mm wide" in item.text and "from 23 mm on" in item.limit


def test_a_label_without_symbol_is_not_warned_of():
    assert curve([label(symbol=False)], [10.0]) == ()
