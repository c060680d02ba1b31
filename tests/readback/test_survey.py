from dataclasses import replace

import pytest
from label_frames import label, laid, written

from labeltool.errors import InputError
from labeltool.readback.model import expect
from labeltool.readback.survey import disagreements, survey

CODE, OTHER = "260503A31", "260503B28"
FRAME = label(CODE)
SHEETS = laid([FRAME] * 26)
PDF = written(SHEETS)


def test_survey_tells_symbols_places_sizes_and_words_of_every_page():
    pages = survey(PDF)
    assert [(page.page, len(page.symbols)) for page in pages] == [(1, 24), (2, 2)]
    symbol = FRAME.symbols[0]
    found = pages[1].symbols[0]
    assert found.payload == symbol.payload
    assert (found.x_mm, found.y_mm) == pytest.approx((7.25 + symbol.x_mm, 12.9 + symbol.y_mm), abs=0.2)
    assert found.side_mm == pytest.approx(25 * symbol.module_mm, abs=0.2)
    assert (pages[0].width_mm, pages[0].height_mm) == pytest.approx((210, 297), abs=0.01)
    assert pages[1].text.count(f"Batch {CODE}") == 2
    assert pages[1].squashed.count(f"Batch{CODE}OatMilk") == 1


def test_print_that_made_the_file_agrees_in_everything():
    assert disagreements(survey(PDF), expect(SHEETS, [CODE])) == 0


def test_other_prints_agree_less_the_more_they_differ():
    found = survey(PDF)
    same_places = laid([label(OTHER)] * 26)
    fewer, skipped = laid([FRAME] * 25), laid([FRAME] * 26, skip=1)
    assert disagreements(found, expect(fewer)) > 0
    assert disagreements(found, expect(skipped)) > disagreements(found, expect(fewer))
    assert disagreements(found, expect(same_places)) >= 2 * 26
    assert disagreements(found, expect(SHEETS[:1])) >= 1000


def test_labels_without_symbols_are_told_by_their_words():
    found = survey(written(laid([label(CODE, symbol=False)] * 3)))
    assert found[0].symbols == ()
    assert disagreements(found, expect(laid([label(CODE, symbol=False)] * 3))) == 0
    assert disagreements(found, expect(laid([label(OTHER, symbol=False)] * 3))) > 0


def test_symbol_too_small_for_one_resolution_is_found_at_the_next():
    symbol = replace(FRAME.symbols[0], module_mm=0.08, x_mm=40, y_mm=16)
    found = survey(written(laid([replace(FRAME, items=(*FRAME.items[:-1], symbol))])))
    assert [item.payload for item in found[0].symbols] == [symbol.payload]


def test_page_without_anything_is_surveyed_too():
    found = survey(written([replace(SHEETS[0], placed=())]))
    assert (found[0].symbols, found[0].squashed) == ((), "")


def test_file_that_is_none_is_refused():
    with pytest.raises(InputError):
        survey(b"not a PDF")


def test_thousands_of_equal_pages_are_surveyed_and_compared_quickly():
    sheets = laid([FRAME] * 24 * 500)
    data = written(sheets)
    found = survey(data)
    assert len(found) == 500 and disagreements(found, expect(sheets)) == 0
