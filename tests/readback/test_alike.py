import re
from io import BytesIO

import pikepdf
import pytest
from label_frames import label, laid, written

from labeltool.readback.alike import first_likes

FRAME = label()
PDF = written(laid([FRAME] * 50))


def test_full_pages_are_the_first_page_again_and_the_last_is_its_own():
    assert first_likes(PDF, 3) == (0, 0, 2)


def test_hundreds_of_pages_are_told_by_their_objects():
    likes = first_likes(written(laid([FRAME] * 24 * 300)), 300)
    assert likes == (0,) * 300


def test_pages_of_other_labels_are_their_own():
    sheets = (*laid([FRAME] * 24), *laid([label("260503B28")] * 24), *laid([FRAME] * 24))
    assert first_likes(written(sheets), 3) == (0, 1, 0)


def saved(pdf, **options):
    target = BytesIO()
    pdf.save(target, **options)
    return target.getvalue()


def test_file_of_another_kind_is_not_taken_at_its_word():
    with pikepdf.open(BytesIO(PDF)) as pdf:
        packed = saved(pdf, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    assert first_likes(packed, 3) == (0, 1, 2)


def test_page_with_anything_of_its_own_makes_every_page_its_own():
    with pikepdf.open(BytesIO(PDF)) as pdf:
        pdf.pages[1].Rotate = 180
        assert first_likes(saved(pdf), 3) == (0, 1, 2)


def test_addition_behind_the_end_makes_every_page_its_own():
    start = int(re.search(rb"startxref\s+(\d+)", PDF)[1])
    more = b"8 0 obj\n<< /Type /Page >>\nendobj\nxref\n0 0\ntrailer\n<< /Prev %d >>\n" % start
    more += b"startxref\n%d\n%%%%EOF\n" % len(PDF)
    assert first_likes(PDF + more, 3) == (0, 1, 2)


@pytest.mark.parametrize("more", [b"/Prev 9 ", b"/XRefStm 9 ", b"/Encrypt 9 0 R "])
def test_trailer_that_names_more_makes_every_page_its_own(more):
    assert first_likes(PDF.replace(b"/Size", more + b"/Size"), 3) == (0, 1, 2)


def test_second_end_makes_every_page_its_own():
    assert first_likes(b"startxref\n0\n" + PDF, 3) == (0, 1, 2)
    start = int(re.search(rb"startxref\s+(\d+)", PDF)[1])
    assert first_likes(PDF + b"startxref\n%d\n%%%%EOF\n" % start, 3) == (0, 1, 2)


@pytest.mark.parametrize("data", [b"", b"startxref", b"trailer startxref", PDF[:-300], PDF.replace(b"/Kids", b"/Kidz"),
                                  re.sub(rb"startxref\s+\d+", b"startxref 99", PDF)])
def test_damaged_file_makes_every_page_its_own(data):
    assert first_likes(data, 3) == (0, 1, 2)


def test_count_that_is_not_the_files_makes_every_page_its_own():
    assert first_likes(PDF, 2) == (0, 1)
