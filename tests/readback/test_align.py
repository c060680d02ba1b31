import pytest
from label_frames import label, laid

from labeltool.raster import Char
from labeltool.readback.align import aligned
from labeltool.readback.model import expect
from labeltool.readback.words import runs_of

LABELS = expect(laid([label()] * 24)).pages[0].labels


def drawn(item, shift=(0.0, 0.0), scale=1.0):
    """A label's characters, all of a run at its start, moved and scaled with the page."""
    return [
        Char(char, (item.x_mm + run.x_mm) * scale + shift[0], (item.y_mm + run.y_mm) * scale + shift[1])
        for run in runs_of(item) for char in run.text if char != " "
    ]


def moves(labels):
    return [(now.x_mm - was.x_mm, now.y_mm - was.y_mm) for now, was in zip(labels, LABELS, strict=True)]


def test_page_in_place_is_left_alone():
    assert aligned(LABELS, [drawn(item) for item in LABELS]) == LABELS


def test_small_shift_of_the_whole_page_is_followed():
    for move in moves(aligned(LABELS, [drawn(item, (0.2, -0.1)) for item in LABELS])):
        assert move == pytest.approx((0.2, -0.1), abs=0.001)


def test_small_scale_of_the_whole_page_is_followed():
    found = aligned(LABELS, [drawn(item, (0.1, 0.15), 0.999) for item in LABELS])
    assert moves(found)[0] == pytest.approx((0.1 - 0.039, 0.15 - 0.03), abs=0.03)
    assert moves(found)[23] == pytest.approx((0.1 - 0.171, 0.15 - 0.267), abs=0.03)


@pytest.mark.parametrize("shift, scale", [((0.5, 0), 1.0), ((0, 0), 0.97), ((3, 4), 1.0)])
def test_larger_moves_are_left_to_be_found(shift, scale):
    assert aligned(LABELS, [drawn(item, shift, scale) for item in LABELS]) == LABELS


def test_one_label_that_moved_does_not_draw_the_others_along():
    chars = [drawn(item, (1.0, 0) if index == 5 else (0, 0)) for index, item in enumerate(LABELS)]
    assert aligned(LABELS, chars) == LABELS
    chars = [drawn(item, (0.15, 0) if index == 5 else (0, 0)) for index, item in enumerate(LABELS)]
    assert max(abs(x) for x, _ in moves(aligned(LABELS, chars))) < 0.03


def test_labels_with_other_words_do_not_count():
    chars = [drawn(item, (0.2, 0.2))[1:] for item in LABELS]
    assert aligned(LABELS, chars) == LABELS
    assert aligned((), []) == ()
