import re
from dataclasses import replace
from io import BytesIO

import pytest
from label_frames import A4, FONTS, ROLL, label, laid, written

from labeltool.errors import InputError, MachineError
from labeltool.output.pdf import Placed, Sheet, write_pdf
from labeltool.typeset.frame import Frame, TextRun

FRAME = label()


def test_same_input_gives_the_same_bytes():
    assert written(laid([FRAME] * 30)) == written(laid([label()] * 30))


def test_other_title_gives_other_bytes():
    assert written(laid([FRAME])) != written(laid([FRAME]), title="Other")


def test_label_is_drawn_once_and_placed_many_times():
    few, many = written(laid([FRAME] * 24)), written(laid([FRAME] * 240))
    assert few.count(b"/Subtype /Form") == many.count(b"/Subtype /Form") == 1
    assert len(many) - len(few) < 9 * 400


def test_two_different_labels_are_two_forms():
    assert written(laid([FRAME, label("260503B28"), FRAME])).count(b"/Subtype /Form") == 2


def test_equal_pages_point_at_the_same_stream_and_resources():
    data = written(laid([FRAME] * 72))
    pages = set(re.findall(rb"<<\s*/Contents[^>]*/Type /Page\s*>>", data))
    assert data.count(b"/Type /Page\n") == 3
    assert len(pages) == 1


def test_only_fonts_that_are_used_are_embedded():
    plain = replace(FRAME, items=(TextRun(3, 6, "Plain", "regular", 8, "name"),), words=(("name", "Plain"),))
    data = written(laid([plain]))
    assert data.count(b"/FontFile2") == 1
    assert b"Helvetica" not in data


def test_page_has_exactly_the_size_of_the_stock():
    for name, size in ((A4, (595.2756, 841.8898)), (ROLL, (161.5748, 90.7087))):
        box = re.search(rb"/MediaBox \[ 0 0 ([0-9.]+) ([0-9.]+) \]", written(laid([FRAME], name)))
        assert [float(number) for number in box.groups()] == pytest.approx(size, abs=0.0005)


def test_printers_are_told_not_to_scale_and_the_maker_is_named():
    data = written(laid([FRAME]), title="Oat Milk", author="Ottersholt Bodycare")
    assert b"/PrintScaling /None" in data
    assert b"(Oat Milk)" in data and b"(Ottersholt Bodycare)" in data and b"(labeltool)" in data


def test_missing_glyph_stops_the_print_and_names_character_and_block():
    strange = replace(FRAME, items=(TextRun(3, 6, "Snow \u96ea \u2603", "regular", 8, "name"), *FRAME.items))
    with pytest.raises(InputError) as caught:
        written(laid([strange]))
    assert [item.rule for item in caught.value.findings] == ["output.glyph", "output.glyph"]
    assert "U+96EA (CJK UNIFIED IDEOGRAPH-96EA) in the name" in caught.value.findings[0].text


def test_no_break_space_is_drawn_as_a_space():
    assert written(laid([replace(FRAME, items=(TextRun(3, 6, "50\u00a0ml", "regular", 8, "net"),))]))


@pytest.mark.parametrize("fonts", [{}, {sha: data[:-1] for sha, data in FONTS.items()}])
def test_missing_or_damaged_font_file_is_a_machine_error(fonts):
    with pytest.raises(MachineError) as caught:
        write_pdf(laid([FRAME]), BytesIO(), fonts=fonts, title="", author="")
    assert caught.value.findings[0].rule == "output.font"


def test_font_file_that_is_none_is_a_machine_error():
    sha256 = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"  # of nothing
    frame = replace(FRAME, fonts=tuple((weight, sha256) for weight in ("regular", "medium", "semibold")))
    with pytest.raises(MachineError):
        write_pdf(laid([frame]), BytesIO(), fonts={sha256: b""}, title="", author="")


def test_weight_without_a_font_is_a_machine_error():
    with pytest.raises(MachineError):
        written(laid([replace(FRAME, fonts=FRAME.fonts[:1])]))


def test_draft_has_the_word_under_every_label_and_others_have_not():
    assert written(laid([FRAME]), draft=True) != written(laid([FRAME]))
    bare = replace(FRAME, items=FRAME.symbols, words=())
    assert b"/FontFile2" in written(laid([bare]), draft=True)
    assert b"/FontFile2" not in written(laid([bare]))


def test_frame_without_words_needs_no_font():
    bare = Frame(20, 20, "round", 0, "dot", FRAME.symbols, (), 0, (), (), 600)
    assert written([Sheet(40, 40, (Placed(bare, 5, 5),))]).startswith(b"%PDF-1.6")


def test_a_hundred_thousand_labels_take_little_room():
    sheets = laid([FRAME] * 100_000)
    data = written(sheets)
    assert len(data) < 1_000_000


def test_twenty_thousand_roll_pages_are_all_there():
    sheets = laid([FRAME] * 20_000, ROLL)
    data = written(sheets)
    assert data.count(b"/Type /Page\n") + data.count(b"/Type /Page ") >= 20_000
