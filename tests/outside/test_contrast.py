"""Contrast against the definitions of WCAG 2.2 (W3C Recommendation): relative luminance and contrast ratio."""

import pytest

from labeltool.stock.contrast import contrast, luminance, red_contrast


@pytest.mark.parametrize(("colour", "ratio"), [
    # W3C, Understanding SC 1.4.3: black on white is 21:1; #767676 is the lightest grey on white that reaches 4.5:1
    ("#000000", 21.0), ("#767676", 4.54), ("#777777", 4.48), ("#595959", 7.0), ("#949494", 3.03),
    ("#ff0000", 4.0), ("#0000ff", 8.59), ("#00ff00", 1.37),
])
def test_ratios_on_white(colour, ratio):
    assert contrast(colour, "#ffffff") == pytest.approx(ratio, abs=0.006)
    assert contrast("#ffffff", colour) == contrast(colour, "#ffffff")


def test_luminance_of_the_primaries_are_the_published_weights():
    # WCAG 2.2, relative luminance: L = 0.2126 R + 0.7152 G + 0.0722 B
    assert [luminance(colour) for colour in ("#ff0000", "#00ff00", "#0000ff")] == [0.2126, 0.7152, 0.0722]
    assert luminance("#ffffff") == pytest.approx(1)


def test_in_red_light_red_is_white_and_blue_and_green_are_black():
    assert red_contrast("#ff0000", "#ffffff") == 1
    assert red_contrast("#0000ff", "#000000") == red_contrast("#00ff00", "#000000") == 1
    assert red_contrast("#000000", "#ffffff") == pytest.approx(21)
