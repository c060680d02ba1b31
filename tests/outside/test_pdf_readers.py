"""The PDF as readers see it that nobody here wrote: pypdf, qpdf (by pikepdf), pdfium and poppler.

Places are measured on rasters of two programs, pdfium and poppler's pdftoppm; positions come from the stock's file.
"""

import contextlib
import subprocess
import tempfile
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pikepdf
import pypdf
import pypdfium2
import pytest
from label_frames import A4, ROLL, label, laid, written
from PIL import Image

from labeltool.output.pdf import Placed, Sheet
from labeltool.typeset.frame import Rule
from labeltool.workflow.layouts import stock

FRAME = label()
STOCKS = (A4, "letter-3x10-66.7x25.4", "a4-8x12-round-20", ROLL, "a4-2x2-99.1x139")
DPI = 600


def words(text: str) -> list[str]:
    return text.split()


def expected_words(frame) -> list[str]:
    return words(" ".join(text for _, text in frame.words))


@contextlib.contextmanager
def as_file(data: bytes):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "labels.pdf"
        path.write_bytes(data)
        yield str(path)


def poppler(data: bytes, dpi: int):
    """The first page by pdftoppm."""
    with as_file(data) as name:
        call = ["pdftoppm", "-r", str(dpi), "-gray", "-singlefile", name]
        out = subprocess.run(call, capture_output=True, check=True)
    return Image.open(BytesIO(out.stdout))


@pytest.fixture(scope="module")
def sheet_pdf() -> bytes:
    return written(laid([FRAME] * 50))


def test_pypdf_reads_the_words_of_every_label_in_order(sheet_pdf):
    reader = pypdf.PdfReader(BytesIO(sheet_pdf), strict=True)
    assert [len(page.extract_text().split("Oat Milk")) - 1 for page in reader.pages] == [24, 24, 2]
    joined = reader.pages[2].extract_text().replace("77491/\n", "77491/")
    assert words(joined) == expected_words(FRAME) * 2


def test_pdfium_reads_the_words_of_every_label_in_order(sheet_pdf):
    text = pypdfium2.PdfDocument(sheet_pdf)[2].get_textpage().get_text_bounded()
    assert words(text.replace("77491/\r\n", "77491/")) == expected_words(FRAME) * 2


def test_poppler_reads_the_words_of_every_label(sheet_pdf):
    with as_file(sheet_pdf) as name:
        out = subprocess.run(["pdftotext", "-raw", "-f", "3", name, "-"], capture_output=True, check=True)
    text = out.stdout.decode().replace("77491/\n", "77491/")
    assert sorted(words(text)) == sorted(expected_words(FRAME) * 2)


def test_every_ascii_letter_and_the_latin_ones_come_out_as_they_went_in():
    lines = ("The quick brown fox jumps over the lazy dog 0123456789", "ÀÁÂÃÄÅÆÇÈÉÊË ŒŠŽ àáâãäåæçèéêë œšž ß µ ° ½",
             "(parens) \\ back/slash [x] {y} <z> & % # @ ! ? ; : ' \" ~ ^ _ | `", "Αλφα Омега ℮ – — “” €")
    for line in lines:
        run = replace(FRAME.items[0], text=line, size_pt=6)
        data = written(laid([replace(FRAME, items=(run,), words=(("name", line),))]))
        assert pypdf.PdfReader(BytesIO(data)).pages[0].extract_text().strip() == line


def test_qpdf_finds_nothing_wrong_and_fonts_are_all_embedded(sheet_pdf):
    with pikepdf.open(BytesIO(sheet_pdf)) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        form = next(iter(pdf.pages[0].Resources.XObject.values()))
        fonts = list(form.Resources.Font.values())
        assert fonts and all("/FontFile2" in font.FontDescriptor for font in fonts)
        assert {str(font.BaseFont).split("-")[-1] for font in fonts} == {"Regular", "Medium", "SemiBold"}


def test_shared_pages_have_one_stream_for_both_readers(sheet_pdf):
    with pikepdf.open(BytesIO(sheet_pdf)) as pdf:
        streams = [page.obj.Contents.objgen for page in pdf.pages]
        assert streams[0] == streams[1] != streams[2]
    document = pypdfium2.PdfDocument(sheet_pdf)
    pictures = [document[index].render(scale=1, grayscale=True) for index in range(2)]
    assert bytes(pictures[0].buffer) == bytes(pictures[1].buffer)
    assert pypdf.PdfReader(BytesIO(sheet_pdf)).pages[1].extract_text().count("Oat Milk") == 24


@pytest.mark.parametrize("name", STOCKS)
def test_page_boxes_are_the_stocks_to_a_thousandth_of_a_point(name):
    item = stock(name, None)
    data = written(laid([FRAME], name))
    for box in (pypdf.PdfReader(BytesIO(data)).pages[0].mediabox[2:], pypdfium2.PdfDocument(data)[0].get_size()):
        assert [float(side) for side in box] == pytest.approx([side * 72 / 25.4 for side in item.page_mm], abs=0.001)


def marks(name):
    """Every place of a stock with a square of 2 mm, 2 mm from its left and top edge."""
    item = stock(name, None)
    width, height = item.label_mm
    mark = replace(FRAME, width_mm=width, height_mm=height, items=(Rule(2, 2, 2, 2, "name"),), words=())
    return item, written(laid([mark] * item.per_page, name))


def by_pdfium(data):
    return pypdfium2.PdfDocument(data)[0].render(scale=DPI / 72, grayscale=True).to_pil()


def by_poppler(data):
    return poppler(data, DPI)


@pytest.mark.parametrize("rasterise", [by_pdfium, by_poppler])
@pytest.mark.parametrize("name", STOCKS)
def test_labels_lie_where_the_stock_says_within_a_tenth_of_a_millimetre(name, rasterise):
    item, data = marks(name)
    picture = rasterise(data).point(lambda value: 255 * (value < 128))
    found = 0
    for row in range(item.rows):
        for column in range(item.columns):
            x = item.origin_mm[0] + column * item.pitch_mm[0]
            y = item.origin_mm[1] + row * item.pitch_mm[1]
            area = [round(side / 25.4 * DPI) for side in (x + 1, y + 1, x + 5, y + 5)]
            box = picture.crop(area).getbbox()
            edges = [(area[index % 2] + side) * 25.4 / DPI for index, side in enumerate(box)]
            assert edges == pytest.approx([x + 2, y + 2, x + 4, y + 4], abs=0.1)
            found += 1
    assert found == item.per_page
    ink = picture.histogram()[255] * (25.4 / DPI) ** 2
    assert ink == pytest.approx(4 * item.per_page, rel=0.05)  # nothing else is printed


@pytest.mark.parametrize("dpi", [203, 300, 600])
@pytest.mark.parametrize("rasterise", ["pdfium", "poppler"])
def test_symbol_has_no_seams_between_its_modules(dpi, rasterise):
    dark = replace(FRAME.symbols[0], rows=("1" * 25,) * 25, x_mm=3.0, y_mm=3.0)
    data = written([Sheet(25, 25, (Placed(replace(FRAME, items=(dark,), words=()), 0, 0),))])
    if rasterise == "pdfium":
        picture = pypdfium2.PdfDocument(data)[0].render(scale=dpi / 72, grayscale=True).to_pil()
    else:
        picture = poppler(data, dpi)
    inner = picture.crop([round(side / 25.4 * dpi) for side in (3.3, 3.3, 13.2, 13.2)])
    assert inner.getextrema()[1] <= 5
