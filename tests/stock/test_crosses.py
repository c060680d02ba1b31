import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.errors import InputError
from labeltool.stock.align import correction_of, marks
from labeltool.stock.places import places
from labeltool.workflow import layouts

STOCKS = layouts.stocks(None)
MEANT = ((20.0, 20.0), (190.0, 277.0))


def printer(offset, factor):
    """Where a printer puts a place: it moves and scales."""
    return lambda place: tuple(a + b * at for a, b, at in zip(offset, factor, place, strict=True))


@pytest.mark.parametrize("name", STOCKS)
def test_crosses_lie_apart_and_where_print_may_be(name):
    stock = STOCKS[name]
    (left, top), (right, bottom) = marks(stock)
    assert left + 4 <= right and top + 4 <= bottom
    assert min(left, top) - 2 >= stock.safe_mm - 1e-9
    assert stock.page_mm[0] - right - 2 >= stock.safe_mm - 1e-9
    assert stock.page_mm[1] - bottom - 2 >= stock.safe_mm - 1e-9


def test_crosses_of_a_round_label_lie_inside_it():
    stock = STOCKS["roll-round-25-300dpi"]
    for x, y in marks(stock):
        assert ((x - 12.5) ** 2 + (y - 12.5) ** 2) ** 0.5 + 2 <= 12.5 - stock.safe_mm + 0.01


@given(
    st.sampled_from(sorted(STOCKS)), st.tuples(st.floats(-1.4, 1.4), st.floats(-1.4, 1.4)),
    st.tuples(st.floats(0.992, 1.008), st.floats(0.992, 1.008)),
    st.lists(st.floats(-0.05, 0.05), min_size=4, max_size=4),
)
def test_a_printer_that_moves_and_scales_lands_within_a_fifth_of_a_millimetre(name, offset, factor, misread):
    stock = STOCKS[name]
    real = printer(offset, factor)
    first, second = (real(mark) for mark in marks(stock))
    reads = ((first[0] + misread[0], first[1] + misread[1]), (second[0] + misread[2], second[1] + misread[3]))
    correction, _ = correction_of(marks(stock), reads)
    for place in places(stock, stock.per_page):
        x, y = real(correction.moved(place.x_mm, place.y_mm, stock.dpi))
        assert abs(x - place.x_mm) < 0.2 and abs(y - place.y_mm) < 0.2


def test_a_printer_without_fault_needs_nothing():
    correction, findings = correction_of(MEANT, MEANT)
    assert (correction.nudge_mm, correction.scale, findings) == ((0, 0), (1, 1), ())


def test_a_printer_that_only_moves_is_moved_back():
    correction, _ = correction_of(MEANT, ((20.5, 19.6), (190.5, 276.6)))
    assert correction.nudge_mm == (pytest.approx(-0.5), pytest.approx(0.4))
    assert correction.scale == (1, 1)


def test_scaling_left_on_is_warned_about_and_refused_where_it_is_large():
    _, findings = correction_of(MEANT, ((20.3, 20.3), (187.0, 272.1)))
    assert [(item.rule, item.level) for item in findings] == [("printer.scaled", "warning")]
    with pytest.raises(InputError, match=r"across, the crosses lie 6.0% too near; down, .* 6.0% too near"):
        correction_of(MEANT, ((18.8, 18.8), (178.6, 260.38)))


@pytest.mark.parametrize("reads", [
    ((190.0, 277.0), (20.0, 20.0)), ((20.0, 20.0), (20.0, 277.0)), ((20.0, 20.0), (190.0, -5.0)),
    ((50.0, 20.0), (220.0, 277.0)), ((20.0, 20.0), (1e9, 277.0)),
])
def test_readings_that_no_printer_gives_are_refused(reads):
    with pytest.raises(InputError) as caught:
        correction_of(MEANT, reads)
    assert {item.rule for item in caught.value.findings} == {"printer.read"}
