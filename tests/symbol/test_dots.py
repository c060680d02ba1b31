import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.symbol.dots import dot_mm, dots_that_fit, least_dots, module_dots, module_mm, snap_mm


@pytest.mark.parametrize("dpi, wish, dots", [
    (203, 0.38, 3), (203, 0.5, 4), (300, 0.38, 4), (300, 0.42, 5), (600, 0.38, 9), (600, 0.1, 8), (203, 0.1, 3),
])
def test_module_is_the_nearest_whole_number_of_dots(dpi, wish, dots):
    assert module_dots(dpi, wish) == dots


def test_smaller_least_is_for_artworks_that_say_so_but_never_under_three_dots():
    assert module_dots(600, 0.25, 0.25) == 6
    assert module_dots(203, 0.25, 0.25) == 3
    assert least_dots(300, 0.25) == 3


def test_33_modules_in_12_mm_do_not_fit_three_dots_at_203_dpi():
    assert dots_that_fit(203, 33, 12) == 2
    assert dots_that_fit(203, 33, 12.5) == 3
    assert dots_that_fit(203, 33, 0) == 0


@given(st.sampled_from([203, 300, 600, 1200]), st.floats(0.01, 2))
def test_module_is_whole_dots_and_never_under_the_floor(dpi, wish):
    dots = module_dots(dpi, wish)
    assert dots >= 3
    assert dots * dot_mm(dpi) >= 0.33 - 1e-6
    assert module_mm(dpi, wish) == pytest.approx(dots * 25.4 / dpi)


@given(st.floats(0, 300), st.sampled_from([203, 300, 600]))
def test_snapped_place_is_within_half_a_dot_and_on_the_grid(value, dpi):
    snapped = snap_mm(value, dpi)
    assert abs(snapped - value) <= dot_mm(dpi) / 2 + 1e-9
    assert abs(snapped / dot_mm(dpi) - round(snapped / dot_mm(dpi))) < 1e-6
