"""-o, --preview, --draft and prints/: which files are written, and which never."""

from __future__ import annotations

import pytest
from cli_runs import BALM, CREAM, tree
from PIL import Image
from pypdf import PdfReader

MINE = b"%PDF-1.4\nwritten by another program\n"


def test_named_file_is_written_and_goes_on_record(shop):
    found = shop.document("print", BALM, "--count", "1", "-o", "balm.pdf")
    assert found["file"] == "balm.pdf" and not list(shop.folder.glob("prints/*"))
    assert shop.document("batch", "show", found["code"])["prints"][0]["sha256"] == found["sha256"]


def test_own_pdf_is_replaced(shop):
    shop.done("print", BALM, "--count", "1", "-o", "balm.pdf")
    first = (shop.folder / "balm.pdf").read_bytes()
    shop.done("print", BALM, "--count", "2", "-o", "balm.pdf")
    assert (shop.folder / "balm.pdf").read_bytes() != first


@pytest.mark.parametrize(("name", "content"), [
    ("mine.pdf", MINE), ("mine.pdf", b""), ("mine.pdf", b"labeltool"), ("mine.txt", b"text"), ("mine", None),
    ("missing/mine.pdf", None), (".", None), ("formulas", None), ("formulas/plain-foot-balm.toml", None),
    ("records.sqlite", None), ("workshop.toml/x.pdf", None),
])
@pytest.mark.parametrize("draft", [(), ("--draft",)], ids=["print", "draft"])
def test_no_foreign_file_is_replaced_and_no_folder_made(shop, name, content, draft):
    if content is not None:
        shop.write(name, content)
    before = tree(shop.folder)
    ran = shop.run("print", BALM, "--count", "1", "-o", name, *draft)
    assert ran.code == 2 and ran.err.startswith("error: "), ran.err
    assert tree(shop.folder) == before


def test_reprint_keeps_to_the_same_rules(used_shop):
    used_shop.write("mine.pdf", MINE)
    before = tree(used_shop.folder)
    for name in ("mine.pdf", "missing/x.pdf", "x.png"):
        assert used_shop.run("reprint", "260503A31", "--why", "torn", "-o", name).code == 2
    assert tree(used_shop.folder) == before
    assert used_shop.document("reprint", "260503A31", "--why", "torn", "-o", "again.pdf")["file"] == "again.pdf"


def test_prints_are_never_replaced(used_shop):
    used_shop.write("prints/260503A31-2.pdf", MINE)
    for call in (("print", "260503A31", "--count", "1"), ("reprint", "260503A31", "--why", "torn")):
        ran = used_shop.run(*call)
        assert ran.code == 2 and "prints/260503A31-2.pdf" in ran.err
    assert (used_shop.folder / "prints/260503A31-2.pdf").read_bytes() == MINE
    assert len(used_shop.document("batch", "show", "260503A31")["prints"]) == 1


def test_code_of_a_pdf_that_the_record_has_lost_is_not_given_out_again(used_shop):
    for path in used_shop.folder.glob("records.sqlite*"):
        path.unlink()
    before = tree(used_shop.folder)
    ran = used_shop.run("print", BALM, "--count", "1")
    assert ran.code == 2 and "260503A31-1.pdf" in ran.err and "records restore" in ran.err
    assert tree(used_shop.folder) == before


def test_file_in_the_place_of_the_prints_folder(shop):
    shop.write("prints", "mine")
    before = tree(shop.folder)
    ran = shop.run("print", BALM, "--count", "1")
    assert ran.code == 2 and "prints is a file" in ran.err
    assert tree(shop.folder) == before


def test_file_of_a_print_on_record_is_not_replaced_by_name(used_shop):
    before = (used_shop.folder / "prints/260503A31-1.pdf").read_bytes()
    ran = used_shop.run("print", "260503B28", "--count", "1", "-o", "prints/260503A31-1.pdf")
    assert ran.code == 2
    assert (used_shop.folder / "prints/260503A31-1.pdf").read_bytes() == before


def test_one_file_for_several_formulas_is_refused(shop):
    before = tree(shop.folder)
    ran = shop.run("print", CREAM, BALM, "-o", "x.pdf")
    assert ran.code == 2 and "-o" in ran.err
    assert tree(shop.folder) == before


def test_draft_leaves_no_record_and_uses_no_code(shop):
    for _ in range(2):
        found = shop.document("print", BALM, "--draft", "--count", "1")
        text = PdfReader(shop.folder / found["file"]).pages[0].extract_text()
        assert "draft" in text.lower()
    assert not (shop.folder / "records.sqlite").exists()
    assert shop.document("print", BALM, "--count", "1")["code"] == "260503A31"


def test_draft_beside_a_record_leaves_it_alone(used_shop):
    before = {key: value for key, value in tree(used_shop.folder).items() if key.startswith("records")}
    used_shop.done("print", BALM, "--draft", "-o", "try.pdf")
    used_shop.done("print", "260503A31", "--draft", "-o", "try.pdf")
    assert {key: value for key, value in tree(used_shop.folder).items() if key.startswith("records")} == before


def test_draft_prints_what_a_label_may_not(shop):
    shop.change(f"formulas/{BALM}.toml", 'net        = "40 g"\n', "")
    assert shop.run("print", BALM).code == 2
    ran = shop.run("print", BALM, "--draft", "--count", "1")
    assert ran.code == 1 and "net content" in ran.err
    assert "a draft only: the errors told above stop a print for the record" in ran.out
    assert (shop.folder / "prints" / f"draft-{BALM}.pdf").is_file()
    shop.change(f"formulas/{BALM}.toml", "[product]\n", '[product]\nnet = "40 g"\n')
    assert shop.run("print", BALM, "--draft", "--count", "1").code == 0


def test_preview_is_a_picture_of_the_first_page(shop):
    found = shop.document("print", BALM, "--count", "1", "--preview", "balm.png")
    assert found["preview"] == "balm.png"
    with Image.open(shop.folder / "balm.png") as picture:
        assert picture.size == (round(210 / 25.4 * 300), round(297 / 25.4 * 300))
        assert picture.convert("L").getextrema() == (0, 255)


@pytest.mark.parametrize("name", ["balm.jpg", "missing/balm.png", "formulas", "workshop.toml"])
def test_wrong_preview_stops_before_anything_is_written(shop, name):
    before = tree(shop.folder)
    ran = shop.run("print", BALM, "--count", "1", "--preview", name)
    assert ran.code == 2 and ran.err.startswith("error: ")
    assert tree(shop.folder) == before


def test_why_is_asked_for_and_kept_out_of_the_pdf(used_shop):
    before = tree(used_shop.folder)
    for call in (("reprint", "260503A31"), ("reprint", "260503A31", "--why", " ")):
        ran = used_shop.run(*call)
        assert ran.code == 2 and "--why" in ran.err
    assert tree(used_shop.folder) == before
    found = used_shop.document("reprint", "260503A31", "--why", "scuffed on the shelf", "--count", "1")
    reader = PdfReader(used_shop.folder / found["file"])
    assert "scuffed" not in reader.pages[0].extract_text() + str(reader.metadata)
    assert b"scuffed" not in (used_shop.folder / found["file"]).read_bytes()
    assert used_shop.document("batch", "show", "260503A31")["prints"][1]["why"] == "scuffed on the shelf"
