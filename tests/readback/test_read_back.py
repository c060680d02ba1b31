import subprocess
import sys
from dataclasses import replace
from io import BytesIO

import pikepdf
import pypdf
import pytest
from label_frames import ROLL, label, laid, written
from pypdf.annotations import Rectangle

from labeltool.errors import InputError, MachineError
from labeltool.output.pdf import Placed, Sheet
from labeltool.readback import zbar
from labeltool.readback.model import expect
from labeltool.readback.read import read_back
from labeltool.typeset.frame import Rule, TextRun

CODE, OTHER = "260503A31", "260503B28"
FRAME = label(CODE)
SHEETS = laid([FRAME] * 24)
EXPECTED = expect(SHEETS, [CODE])
PDF = written(SHEETS)


def rules(reading):
    return {item.rule for item in reading.findings}


def with_label(number, frame, sheets=SHEETS):
    """The sheet with another frame at one place, counted from 1."""
    placed = list(sheets[0].placed)
    placed[number - 1] = replace(placed[number - 1], frame=frame)
    return (replace(sheets[0], placed=tuple(placed)), *sheets[1:])


def edited(operators: bytes, data: bytes = PDF) -> bytes:
    """The PDF with operators added behind the content of its first page."""
    with pikepdf.open(BytesIO(data)) as pdf:
        pdf.pages[0].contents_add(pikepdf.Stream(pdf, operators))
        target = BytesIO()
        pdf.save(target)
    return target.getvalue()


def at(x_mm, y_mm, width_mm, height_mm, page_mm=297):
    """A rectangle on the page in points, from its top left corner in mm."""
    scale = 72 / 25.4
    numbers = (x_mm * scale, (page_mm - y_mm - height_mm) * scale, width_mm * scale, height_mm * scale)
    return " ".join(f"{number:.3f}" for number in numbers).encode()


def test_every_label_of_a_sheet_is_read_by_both_decoders():
    reading = read_back(PDF, EXPECTED)
    assert reading.matches and not reading.findings
    assert [(item.page, item.label) for item in reading.labels] == [(1, number) for number in range(1, 25)]
    payload = FRAME.symbols[0].payload
    assert {(item.decoded.zbar, item.decoded.zxing) for item in reading.labels} == {(payload, payload)}
    assert {item.code for item in reading.labels} == {CODE}
    assert {(item.grade, item.limits) for item in reading.labels} == {(None, ())}


def test_labels_of_a_roll_are_read_at_its_printers_module():
    sheets = laid([label(CODE, dpi=203, width_mm=57, height_mm=32)] * 3, ROLL)
    reading = read_back(written(sheets), expect(sheets, [CODE]))
    assert reading.matches and [item.page for item in reading.labels] == [1, 2, 3]


def test_one_sheet_may_carry_several_batches():
    sheets = laid([FRAME] * 12 + [label(OTHER)] * 6, skip=3)
    reading = read_back(written(sheets), expect(sheets, [CODE] * 12 + [OTHER] * 6))
    assert reading.matches
    assert [item.code for item in reading.labels] == [CODE] * 12 + [OTHER] * 6


def test_label_without_a_symbol_is_matched_by_its_words():
    sheets = laid([label(CODE, symbol=False)] * 2)
    reading = read_back(written(sheets), expect(sheets, [CODE]))
    assert reading.matches and {item.code for item in reading.labels} == {CODE}
    wrong = read_back(written(laid([label(OTHER, symbol=False)] * 2)), expect(sheets, [CODE]))
    assert not wrong.matches and {item.code for item in wrong.labels} == {None}


def test_label_of_another_batch_is_found_where_it_lies():
    reading = read_back(written(with_label(7, label(OTHER))), EXPECTED)
    assert [item.label for item in reading.labels if not item.matches] == [7]
    assert reading.labels[6].code is None
    assert rules(reading) == {"readback.payload", "readback.text"}
    assert all(item.text.startswith("page 1, label 7: ") for item in reading.findings)


def test_missing_label_is_found():
    sheet = replace(SHEETS[0], placed=SHEETS[0].placed[:9] + SHEETS[0].placed[10:])
    reading = read_back(written([sheet]), EXPECTED)
    assert [(item.rule, item.text) for item in reading.findings] == [
        ("readback.missing", "page 1, label 10: the label is missing")]
    assert [item.label for item in reading.labels if not item.matches] == [10]


def test_extra_label_is_found_by_its_symbol_its_words_and_its_ink():
    sheets = laid([FRAME] * 5)
    reading = read_back(written(laid([FRAME] * 6)), expect(sheets, [CODE]))
    assert all(item.matches for item in reading.labels) and not reading.matches
    assert rules(reading) == {"readback.extra-symbol", "readback.extra-text", "readback.stray-ink"}


@pytest.mark.parametrize("by_mm", [(1.0, 0), (0, 0.4), (-0.15, 0), (10, 5)])
def test_moved_label_is_found(by_mm):
    placed = list(SHEETS[0].placed)
    placed[4] = replace(placed[4], x_mm=placed[4].x_mm + by_mm[0], y_mm=placed[4].y_mm + by_mm[1])
    reading = read_back(written([replace(SHEETS[0], placed=tuple(placed))]), EXPECTED)
    assert not reading.labels[4].matches
    assert any("label 5" in item.text for item in reading.findings)


def test_scaled_page_is_found():
    with pikepdf.open(BytesIO(PDF)) as pdf:
        page = pdf.pages[0]
        page.contents_add(pikepdf.Stream(pdf, b"q 0.97 0 0 0.97 8 12 cm"), prepend=True)
        page.contents_add(pikepdf.Stream(pdf, b"Q"))
        target = BytesIO()
        pdf.save(target)
    reading = read_back(target.getvalue(), EXPECTED)
    assert "readback.moved" in rules(reading) and not any(item.matches for item in reading.labels)


@pytest.mark.parametrize("old, new", [("CI 77492", "CI 77499"), ("Oat Milk Hand Lotion", "Oat Milk Hand Lotoin"),
                                      ("Ingredients:", "Ingredients"), ("OTTER", "OTTER!")])
def test_one_changed_character_is_found_and_its_block_named(old, new):
    items = tuple(replace(item, text=new) if isinstance(item, TextRun) and item.text == old else item
                  for item in FRAME.items)
    assert items != FRAME.items
    reading = read_back(written(with_label(2, replace(FRAME, items=items))), EXPECTED)
    assert rules(reading) == {"readback.text"}
    assert not reading.labels[1].matches and reading.labels[0].matches
    assert reading.labels[1].code == CODE


def test_word_left_out_is_found():
    items = tuple(item for item in FRAME.items if not (isinstance(item, TextRun) and item.block == "brand"))
    reading = read_back(written(with_label(24, replace(FRAME, items=items))), EXPECTED)
    assert rules(reading) == {"readback.text"}
    assert "brand" in reading.findings.items[0].text


@pytest.mark.parametrize("block", ["opening", "name"])
def test_symbol_or_rule_left_out_is_found(block):
    items = tuple(item for item in FRAME.items if isinstance(item, TextRun) or item.block != block)
    reading = read_back(written(with_label(3, replace(FRAME, items=items))), EXPECTED)
    assert [(item.rule, item.text) for item in reading.findings] == [
        ("readback.ink", f"page 1, label 3: ink is missing in {block}")]


def test_words_painted_over_are_found_though_they_are_still_in_the_file():
    reading = read_back(edited(b"1 g " + at(7.25 + 5, 12.9 + 3, 3, 4) + b" re f"), EXPECTED)
    assert rules(reading) == {"readback.ink"}
    assert [item.label for item in reading.labels if not item.matches] == [1]


def test_stray_ink_is_found_with_its_place():
    reading = read_back(edited(b"0 g " + at(100, 285, 2, 1) + b" re f"), EXPECTED)
    assert [item.rule for item in reading.findings] == ["readback.stray-ink"]
    assert "from 100.0, 285.0 to 102" in reading.findings.items[0].text


def test_stray_ink_within_a_label_is_found():
    reading = read_back(edited(b"0 g " + at(7.25 + 40, 12.9 + 30, 0.5, 0.5) + b" re f"), EXPECTED)
    assert rules(reading) == {"readback.stray-ink"}


def test_stray_ink_close_to_words_is_found():
    reading = read_back(edited(b"0 g " + at(7.25 + 15.5, 12.9 + 17, 0.4, 0.4) + b" re f"), EXPECTED)
    assert rules(reading) == {"readback.stray-ink"}


def test_label_with_its_symbol_but_without_its_words_is_not_called_missing():
    frame = replace(FRAME, items=tuple(item for item in FRAME.items if not isinstance(item, TextRun)))
    reading = read_back(written(with_label(2, frame)), EXPECTED)
    assert rules(reading) == {"readback.text"} and reading.labels[1].code == CODE


def test_annotation_over_a_label_is_found():
    writer = pypdf.PdfWriter(clone_from=pypdf.PdfReader(BytesIO(PDF)))
    writer.add_annotation(0, Rectangle(rect=(300, 300, 330, 330), interior_color="000000"))
    target = BytesIO()
    writer.write(target)
    assert not read_back(target.getvalue(), EXPECTED).matches


def test_symbol_with_a_few_wrong_modules_is_found_though_it_decodes():
    symbol = FRAME.symbols[0]
    row = symbol.rows[12]
    flipped = row[:12] + "".join("10"[int(cell)] for cell in row[12:15]) + row[15:]
    changed = replace(symbol, rows=(*symbol.rows[:12], flipped, *symbol.rows[13:]))
    frame = replace(FRAME, items=(*FRAME.items[:-1], changed))
    reading = read_back(written(with_label(1, frame)), EXPECTED)
    assert reading.labels[0].decoded.zxing == symbol.payload
    assert [(item.rule, item.text) for item in reading.findings] == [
        ("readback.modules", "page 1, label 1: 3 of 625 modules of the symbol are not as printed")]


def test_symbol_that_nobody_can_read_is_found():
    frame = replace(FRAME, items=(*FRAME.items[:-1], Rule(45, 15, 8, 8, "qr")))
    reading = read_back(written(with_label(1, frame)), EXPECTED)
    assert reading.labels[0].decoded == type(reading.labels[0].decoded)()
    assert "readback.symbol" in rules(reading) and reading.labels[0].code is None


def test_missing_and_surplus_pages_are_found():
    two = laid([FRAME] * 26)
    short = read_back(PDF, expect(two, [CODE]))
    assert "1 of 2 pages are missing" in short.findings.items[0].text
    assert [(item.page, item.label) for item in short.labels if not item.matches] == [(2, 1), (2, 2)]
    long = read_back(written(two), EXPECTED)
    assert rules(long) == {"readback.pages"} and all(item.matches for item in long.labels) and not long.matches


def test_page_of_another_size_is_found():
    sheet = Sheet(210, 296, tuple(SHEETS[0].placed))
    assert "readback.page-size" in rules(read_back(written([sheet]), EXPECTED))


def test_faults_of_equal_pages_are_told_once():
    sheets = laid([FRAME] * 72)
    wrong = tuple(with_label(2, label(OTHER), (sheet,))[0] for sheet in sheets)
    reading = read_back(written(wrong), expect(sheets, [CODE]))
    assert {item.text.partition(":")[0] for item in reading.findings} == {"page 1 and 2 like it, label 2"}
    assert [item.page for item in reading.labels if not item.matches] == [1, 2, 3]


def by_qpdf(data):
    target = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        pdf.save(target, object_stream_mode=pikepdf.ObjectStreamMode.generate, linearize=True)
    return target.getvalue()


def by_pypdf(data):
    writer = pypdf.PdfWriter(clone_from=pypdf.PdfReader(BytesIO(data)))
    writer.compress_identical_objects()
    target = BytesIO()
    writer.write(target)
    return target.getvalue()


def by_cairo(data, tmp_path):
    (tmp_path / "in.pdf").write_bytes(data)
    subprocess.run(["pdftocairo", "-pdf", str(tmp_path / "in.pdf"), str(tmp_path / "out.pdf")], check=True)
    return (tmp_path / "out.pdf").read_bytes()


@pytest.mark.parametrize("program", ["qpdf", "pypdf", "cairo"])
def test_copy_saved_anew_by_another_program_passes_and_a_missing_label_in_it_is_found(program, tmp_path):
    def saved(data):
        return {"qpdf": by_qpdf, "pypdf": by_pypdf}[program](data) if program != "cairo" else by_cairo(data, tmp_path)

    whole = saved(PDF)
    assert whole != PDF
    assert [item.text for item in read_back(whole, EXPECTED).findings.errors] == []
    sheet = replace(SHEETS[0], placed=SHEETS[0].placed[:20] + SHEETS[0].placed[21:])
    assert {item.rule for item in read_back(saved(written([sheet])), EXPECTED).findings.errors} == {"readback.missing"}


def test_turned_page_is_found():
    with pikepdf.open(BytesIO(PDF)) as pdf:
        pdf.pages[0].rotate(90, relative=True)
        target = BytesIO()
        pdf.save(target)
    reading = read_back(target.getvalue(), EXPECTED)
    assert "readback.page-size" in rules(reading)


def encrypted(**passwords):
    target = BytesIO()
    with pikepdf.open(BytesIO(PDF)) as pdf:
        pdf.save(target, encryption=pikepdf.Encryption(**passwords))
    return target.getvalue()


def empty():
    target = BytesIO()
    with pikepdf.new() as pdf:
        pdf.save(target)
    return target.getvalue()


@pytest.mark.parametrize("data, rule", [
    (b"", "pdf.unreadable"), (b"hello", "pdf.unreadable"), (b"%PDF-1.6\n", "pdf.unreadable"),
    (PDF[:200], "pdf.unreadable"), (encrypted(user="a", owner="b"), "pdf.encrypted"),
    (encrypted(user="", owner="b"), "pdf.encrypted"), (empty(), "pdf.empty"),
])
def test_file_that_cannot_be_read_is_refused(data, rule):
    with pytest.raises(InputError) as caught:
        read_back(data, EXPECTED)
    assert [item.rule for item in caught.value.findings] == [rule]


@pytest.mark.parametrize("system, words", [
    ("Linux", "apt install libzbar0"), ("Darwin", "brew install zbar"), ("Windows", "Visual C++"),
    ("Plan9", "libzbar0"),
])
def test_missing_zbar_library_is_a_machine_error_with_the_cure(monkeypatch, system, words):
    monkeypatch.setitem(sys.modules, "pyzbar", None)
    monkeypatch.setattr(zbar.platform, "system", lambda: system)
    zbar._library.cache_clear()
    try:
        with pytest.raises(MachineError) as caught:
            read_back(PDF, EXPECTED)
    finally:
        zbar._library.cache_clear()
    assert words in caught.value.findings[0].do


def test_labels_of_different_sizes_share_a_page():
    small = label(CODE, width_mm=60, height_mm=33)
    sheet = Sheet(210, 297, (Placed(FRAME, 10, 10), Placed(small, 100, 10)))
    assert read_back(written([sheet]), expect([sheet], [CODE])).matches
