from __future__ import annotations

from io import BytesIO

import pytest

from labeltool import tables
from labeltool.output.documents import (
    A4,
    A6,
    Column,
    Document,
    Facts,
    Heading,
    Signatures,
    Table,
    Words,
    document_pages,
    document_sheets,
)
from labeltool.output.pdf import write_pdf
from labeltool.raster import Pdf
from labeltool.typeset.frame import Rule, TextRun

COLUMNS = (Column("Line", 12, "right"), Column("Material", 60), Column("Lot", 40, box=True))


def sheets(*blocks, title="Weighing sheet", foot="Ottersholt"):
    return document_sheets(Document(title, "Size 500 g.", blocks, foot), tables.fonts())


def runs(sheet):
    return [item for item in sheet.placed[0].frame.items if isinstance(item, TextRun)]


def right_edge(run):
    width = tables.fonts().of(run.weight).width(run.text) * run.size_pt * 25.4 / 72
    return run.x_mm + width


def pdf(found):
    stream = BytesIO()
    fonts = {tables.font_sha256(weight): tables.font_bytes(weight) for weight in tables.FONT_FILES}
    write_pdf(found, stream, fonts=fonts, title="Sheet", author="Ottersholt")
    return stream.getvalue()


def test_everything_stands_on_the_page_in_its_order():
    table = Table(COLUMNS, (("1", "Water", "W-7"),))
    found = sheets(Facts((("Made", "2026-05-03"),)), Heading("Phase A"), table, Words("Stir well."),
                   Signatures(("weighed by", "checked by")))
    text = Pdf(pdf(found)).text(0)
    words = ["Weighing sheet", "Size 500 g.", "Made", "2026-05-03", "Phase A", "Material", "Water", "W-7", "Stir well.",
             "weighed by", "checked by"]
    places = [text.index(word) for word in words]
    assert places == sorted(places) and "page 1 of 1" in text


def test_long_table_goes_on_with_its_head_on_every_page():
    rows = tuple((str(number), f"Material {number}", "") for number in range(1, 101))
    found = sheets(Table(COLUMNS, rows, 9.0))
    assert len(found) == 4
    written = Pdf(pdf(found))
    for page in range(4):
        assert "Material" in written.text(page) and f"page {page + 1} of 4" in written.text(page)
    said = [run.text for sheet in found for run in runs(sheet) if run.text.startswith("Material ")]
    assert said == [f"Material {number}" for number in range(1, 101)]


def test_nothing_leaves_its_column_or_the_page():
    long = "Hydrolysed oat protein in water with a very long name " * 4
    found = sheets(Heading(long), Table(COLUMNS, (("1", long, "W" * 80),)), Words(long * 8), Facts((("Note", long),)))
    for sheet in found:
        for run in runs(sheet):
            assert run.x_mm >= A4.margin_mm - 0.01 and right_edge(run) <= A4.width_mm - A4.margin_mm + 0.01
            assert 0 < run.y_mm < A4.height_mm - 5
    materials = [run for run in runs(found[0]) if run.x_mm == pytest.approx(A4.margin_mm + 12 + 1.2)]
    assert max(map(right_edge, materials)) <= A4.margin_mm + 72


def test_right_aligned_figures_end_at_one_edge():
    found = sheets(Table((Column("", 30, "right"),), (("1.00 g",), ("1000.00 g",))))
    ends = [right_edge(run) for run in runs(found[0]) if run.text.endswith(" g")]
    assert len(ends) == 2 and ends[0] == pytest.approx(ends[1], abs=0.01)


def test_boxes_are_framed_and_stand_above_the_margin():
    found = sheets(Table(COLUMNS, (("1", "Water", ""),) * 60, 9.0))
    for sheet in found:
        rules = [item for item in sheet.placed[0].frame.items if isinstance(item, Rule)]
        upright = [item for item in rules if item.height_mm > 5]
        assert upright and len(upright) % 2 == 0
        assert max(item.y_mm + item.height_mm for item in rules) <= A4.height_mm - A4.margin_mm + 0.2


def test_heading_does_not_stand_alone_at_the_foot():
    for count in range(30, 60):
        found = sheets(Table(COLUMNS, (("1", "Water", ""),) * count), Heading("Readings"),
                       Table(COLUMNS, (("2", "pH", ""),)))
        page = next(number for number, sheet in enumerate(found) if any(run.text == "Readings" for run in runs(sheet)))
        assert any(run.text == "pH" for run in runs(found[page])), count


def test_character_that_the_face_lacks_stands_as_its_code_point():
    found = sheets(Words("a calm day \N{SMILING FACE WITH OPEN MOUTH}, 水"))
    text = Pdf(pdf(found)).text(0)
    assert "a calm day [U+1F603], [U+6C34]" in text


def test_same_document_gives_the_same_bytes():
    blocks = (Heading("Phase A"), Table(COLUMNS, (("1", "Water", ""),)))
    assert pdf(sheets(*blocks)) == pdf(sheets(*blocks))


def test_a_small_page_holds_its_words_and_counts_its_pages_only_where_there_are_several():
    text = "Aqua, Glycerin, Helianthus Annuus Seed Oil, Cetearyl Alcohol, Parfum. " * 3
    one = document_pages(Document("Hand lotion", "Batch 1", (Heading("Ingredients"), Words(text))), tables.fonts(), A6)
    many = document_pages(Document("Hand lotion", "Batch 1", (Words(text * 9),)), tables.fonts(), A6)
    assert len(one) == 1 and len(many) > 1
    for page in (*one, *many):
        said = [item for item in page.items if isinstance(item, TextRun)]
        assert (page.width_mm, page.height_mm) == (A6.width_mm, A6.height_mm)
        assert all(A6.margin_mm - 0.01 <= run.x_mm and right_edge(run) <= A6.width_mm - A6.margin_mm + 0.01
                   and run.y_mm < A6.height_mm for run in said)
        assert any(run.text.startswith("page 1") for run in said) is (page is many[0])
