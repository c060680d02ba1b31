from dataclasses import replace

import pytest
from label_frames import label, laid, written

from labeltool import tables
from labeltool.raster import Pdf
from labeltool.readback.heights import height_faults, measured
from labeltool.readback.model import Least, expect
from labeltool.readback.read import read_back
from labeltool.typeset.frame import TextRun

FRAME = label()
PDF = Pdf(written(laid([FRAME])))
LABEL = expect(laid([FRAME])).pages[0].labels[0]
CHARS = PDF.chars(0)


def set_height(weight, size_pt, measure="x"):
    """The height that the font's own figures give, mm."""
    font = tables.fonts().of(weight)
    return font.em(font.x_height if measure == "x" else font.figure_height) * size_pt * 25.4 / 72


def test_heights_on_the_raster_are_those_of_the_font():
    found = measured(PDF, 0, LABEL, CHARS)
    assert found["name", "x"] == pytest.approx(set_height("semibold", 10), abs=0.03)
    assert found["ingredients", "x"] == pytest.approx(set_height("regular", 5), abs=0.03)
    assert found["code", "figure"] == pytest.approx(set_height("semibold", 5, "figure"), abs=0.03)
    assert ("origin", "x") not in found  # turned


@pytest.mark.parametrize(("shift", "rules"), [(-0.05, []), (0.0, []), (0.06, ["readback.height"])])
def test_letters_under_their_least_height_are_told(shift, rules):
    least = Least("ingredients", set_height("regular", 5) + shift, "x")
    faults = list(height_faults(PDF, 0, replace(LABEL, least=(least,)), CHARS))
    assert [fault.rule for fault in faults] == rules
    assert all("the ingredients measures 0.9" in fault.text for fault in faults)


def test_figures_have_a_height_of_their_own():
    height = set_height("semibold", 5, "figure")
    for least, count in ((height - 0.05, 0), (height + 0.06, 1)):
        asked = replace(LABEL, least=(Least("code", least, "figure"),))
        assert len(list(height_faults(PDF, 0, asked, CHARS))) == count


def test_block_that_is_not_on_the_label_has_no_height():
    asked = replace(LABEL, least=(Least("warnings", 9.0, "x"), Least("name", 9.0, "other")))
    assert list(height_faults(PDF, 0, asked, CHARS)) == []


def test_smallest_size_of_a_block_counts():
    items = tuple(replace(item, size_pt=4) if isinstance(item, TextRun) and item.text == "CI 77492" else
                  replace(item, text="vexed wax", size_pt=3) if isinstance(item, TextRun) and item.text == "OTTER"
                  else item
                  for item in FRAME.items)
    frame = replace(FRAME, items=items)
    pdf = Pdf(written(laid([frame])))
    found = measured(pdf, 0, expect(laid([frame])).pages[0].labels[0], pdf.chars(0))
    assert found["brand", "x"] == pytest.approx(set_height("medium", 3), abs=0.03)


def test_read_back_tells_small_letters_once_for_all_labels_of_a_frame():
    sheets = laid([FRAME] * 3)
    least = {id(FRAME): (Least("ingredients", 1.2, "x"),)}
    reading = read_back(written(sheets), expect(sheets, least=least))
    assert [(item.rule, item.text.partition(":")[0]) for item in reading.findings] == [
        ("readback.height", "page 1, labels 1-3")]
    assert not any(item.matches for item in reading.labels)
