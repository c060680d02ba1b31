"""`verify` as a maker calls it: PDFs, copies, pictures, papers that are no labels, and what each is told."""

import json
from io import BytesIO

import pikepdf
import pytest
from bench_shop import demo_shop, opened
from cli_runs import CREAM, new_shop
from photo_lab import as_camera, at_an_angle, blurred, cut, in_light, noisy, on_table, page, saved, turned
from PIL import Image
from tampered_symbols import a_symbol_that_leads_elsewhere
from tampering import mutated

A, B = "260503A31", "260503B28"
STOCK = "a4-2x4-99.1x67.7"


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """Two batches on one sheet, and a draft."""
    shop = new_shop(tmp_path_factory.mktemp("verify"))
    for _ in range(2):
        shop.done("batch", "open", CREAM, "--size", "500g", "--made", "2026-05-03")
    shop.done("print", f"{A}:3", f"{B}:3", "--skip", "1", "--stock", STOCK)
    return shop


@pytest.fixture(scope="module")
def pdf(shop):
    return (shop.folder / "prints" / f"{A}-1.pdf").read_bytes()


def told(shop, name, data):
    """The document of a file verified, and the exit code."""
    shop.write(name, data)
    ran = shop.run("verify", name, "--json")
    return ran.json, ran.code


def rules(document):
    return {item["rule"] for item in document["problems"]}


def test_print_is_told_in_a_few_lines(shop):
    ran = shop.done("verify", f"prints/{A}-1.pdf")
    lines = ran.out.splitlines()
    assert len(lines) <= 9 and ran.err == ""
    assert f"print 1 of batch {A}, Calendula Hand Cream and 1 other batch: {B}" in lines[0]
    assert "the file on record, byte for byte" in lines[0] and "6 of 6 labels as on record" in lines[1]
    assert any(f"{A}: 3 times, 3 read alike by both decoders" in line for line in lines)
    assert any("checked against print 1: symbols, words, places" in line and "zxing-cpp" in line for line in lines)
    assert any(line.startswith("  by eye:") for line in lines) and lines[-1].startswith("next: print at 100 %")


def test_copy_is_no_longer_the_very_file(shop, pdf):
    target = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as opened_pdf:
        opened_pdf.save(target)
    document, code = told(shop, "copy.pdf", target.getvalue())
    assert code == 0 and document["same-bytes"] is False and document["kind"] == "labels"
    assert "a copy, not the very file on record" in shop.done("verify", "copy.pdf").out


def test_equal_faults_are_told_once_for_all_labels(shop, pdf):
    shop.write("elsewhere.pdf", mutated(pdf, a_symbol_that_leads_elsewhere))
    ran = shop.run("verify", "elsewhere.pdf")
    assert ran.code == 1 and ran.err.count("readback") == 0
    assert ran.err.count("page 1, labels 1-3: the symbol says something else") == 1
    assert ran.out.count("WRONG: page 1, labels 1-3: its code says 260503C25") == 1
    assert f"labeltool reprint {A} --why TEXT makes them again" in ran.out


@pytest.mark.parametrize("picture", [
    lambda sheet: saved(sheet, dpi=(300, 300)), lambda sheet: saved(turned(sheet, 180, 255), "JPEG", dpi=(300, 300)),
    lambda sheet: saved(turned(sheet, 3, 255)), lambda sheet: saved(sheet.convert("1")),
], ids=["scan", "upside down", "askew", "one bit"])
def test_scan_of_a_sheet_names_every_label(shop, pdf, picture):
    document, code = told(shop, "scan.png", picture(page(pdf, 300)))
    assert code == 0 and document["kind"] == "picture" and document["print"] == 1
    assert sorted(item["code"] for item in document["labels"]) == [A] * 3 + [B] * 3
    assert all(item["matches-record"] and item["decoded"]["zbar"] for item in document["labels"])
    assert "picture.words" in rules(document) and "picture.count" not in rules(document)


def test_scan_in_which_some_labels_do_not_read_says_so(shop, pdf):
    document, code = told(shop, "part.png", saved(cut(page(pdf, 300), 300, 0, 0, 210, 150)))
    assert code == 0 and len(document["labels"]) == 3
    assert "picture.count" not in rules(document)
    whole = page(pdf, 300)
    whole.paste(255, (1300, 100, 2480, 900))
    document, code = told(shop, "gap.png", saved(whole))
    assert len(document["labels"]) == 5 and "picture.count" in rules(document)


def photo(pdf):
    one = cut(page(pdf, 400), 400, 104, 12, 103, 72)
    light = in_light(blurred(at_an_angle(on_table(one), 0.15), 1.0), 0.9, 0.5)
    return saved(as_camera(noisy(light, 3)), "JPEG", quality=85)


def test_photo_is_found_on_record_and_says_what_it_cannot_tell(shop, pdf):
    document, code = told(shop, "photo.jpg", photo(pdf))
    assert code == 0 and [item["code"] for item in document["labels"]] == [A]
    assert {"picture.words", "picture.no-scale"} <= rules(document)
    ran = shop.done("verify", "photo.jpg")
    assert "it should measure 8.0 mm a side" in ran.err and "print growth" in ran.out
    assert ran.out.splitlines()[-1] == f"next: labeltool batch show {A}"


def test_scan_of_a_print_that_the_printer_scaled_is_told(shop, pdf):
    sheet = page(pdf, 300)
    smaller = sheet.resize([round(side * 0.96) for side in sheet.size], Image.Resampling.BICUBIC)
    document, code = told(shop, "scaled.png", saved(smaller, dpi=(300, 300)))
    assert code == 0 and "picture.scale" in rules(document)
    text = next(item["text"] for item in document["problems"] if item["rule"] == "picture.scale")
    assert "96%" in text and "instead of 8.0 mm" in text


@pytest.mark.parametrize(("data", "exit_code", "rule"), [
    (saved(Image.new("L", (300, 300), 210)), 1, "picture.none"),
    (saved(Image.new("L", (300, 300), 210))[:80], 2, "picture.broken"),
    (saved(Image.new("L", (30, 30)), "GIF"), 2, "picture.kind"),
    (b"%PDF-1.7\nnonsense", 2, "pdf.unreadable"), (b"", 2, "pdf.unreadable"), (b"hello", 2, "pdf.unreadable"),
])
def test_file_without_labels_or_sense(shop, data, exit_code, rule):
    document, code = told(shop, "odd.bin", data)
    assert (code, rules(document)) == (exit_code, {rule})


def test_encrypted_file_is_refused(shop, pdf):
    target = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as opened_pdf:
        opened_pdf.save(target, encryption=pikepdf.Encryption(user="", owner="b"))
    document, code = told(shop, "locked.pdf", target.getvalue())
    assert (code, rules(document)) == (2, {"pdf.encrypted"})


def symbol_picture(text):
    """A photo of a code that says a text."""
    from labeltool.symbol.qr import matrix
    rows = matrix(text).rows
    flat = Image.frombytes("L", (len(rows),) * 2, bytes(0 if cell == "1" else 255 for row in rows for cell in row))
    large = flat.resize((len(rows) * 8,) * 2, Image.Resampling.NEAREST)
    ground = Image.new("L", (large.width + 80, large.height + 80), 255)
    ground.paste(large, (40, 40))
    return saved(ground)


@pytest.mark.parametrize(("text", "rule", "code"), [
    ("260503a31", "verify.payload", A), ("2605-03A31", "verify.payload", A),
    ("https://elsewhere.example/B/260503A31", "verify.payload", A),
    ("https://id.elsewhere.example/01/09520123456788/10/260503B28", "verify.payload", B),
    ("260503C25", "verify.unknown", None), ("https://elsewhere.example/menu", "verify.unknown", None),
])
def test_code_that_was_never_printed_so_is_traced_and_told(shop, text, rule, code):
    document, exit_code = told(shop, "code.png", symbol_picture(text))
    assert exit_code == 1 and rule in rules(document)
    assert [item["code"] for item in document["labels"]] == [code]
    assert not document["labels"][0]["matches-record"]


def test_labels_of_a_batch_that_was_recalled_are_told(tmp_path):
    shop = new_shop(tmp_path)
    shop.done("print", CREAM, "--made", "2026-05-03", "--stock", STOCK, "--count", "1")
    shop.done("batch", "recall", A, "--why", "TEST")
    document = shop.document("verify", f"prints/{A}-1.pdf")
    assert "verify.state" in rules(document)
    old, _ = told(shop, "code.png", symbol_picture(A))
    assert "verify.state" in rules(old)


@pytest.mark.parametrize(("make", "kind"), [
    (("weigh", A, "-o", "paper.pdf"), "weighing sheet"), (("batch", "show", A, "-o", "paper.pdf"), "batch sheet"),
    (("trace", "Aqua", "-o", "paper.pdf"), "recall sheet"),
    (("stock", "align", STOCK, "-o", "paper.pdf"), "alignment page"),
    (("print", CREAM, "--draft", "--stock", STOCK, "-o", "paper.pdf"), "draft"),
])
def test_papers_that_are_no_labels_are_named(shop, make, kind):
    (shop.folder / "paper.pdf").unlink(missing_ok=True)
    shop.done(*make)
    ran = shop.run("verify", "paper.pdf", "--json")
    assert ran.code == 1 and ran.json["kind"] == kind and "verify.kind" in ran.rules
    assert kind in ran.json["problems"][0]["text"] and ran.json["labels"] == []


def test_someone_elses_file_and_other_workshops_labels(shop, pdf, tmp_path):
    with pikepdf.new() as other:
        other.add_blank_page()
        other.save(shop.folder / "other.pdf")
    ran = shop.run("verify", "other.pdf")
    assert ran.code == 1 and "no label of a batch on record" in ran.err and "an unnamed program" in ran.err
    elsewhere = new_shop(tmp_path)
    elsewhere.done("batch", "open", "plain-foot-balm")
    document, code = told(elsewhere, "theirs.pdf", pdf)
    assert code == 1 and {"verify.unknown", "verify.symbol"} == rules(document)
    assert "made by labeltool" in document["problems"][0]["text"]


def test_set_roll_reprint_and_corrected_printer_read_back(tmp_path):
    shop = demo_shop(tmp_path)
    shop.write("printers.toml", '[office]\nstock."a4-2x4-99.1x67.7" = { nudge = [0.4, -0.3], scale = [1, 1.001] }\n')
    code = opened(shop)
    shop.done("print", code, "--artwork", "front", "--artwork", "back", "--stock", STOCK, "--count", "3",
              "--printer", "office")
    shop.done("print", code, "--stock", "roll-102x76-300dpi", "--count", "2", "--preview", "dots.png")
    shop.done("reprint", code, "--print", "1", "--count", "1", "--skip", "3", "--why", "torn")
    for number, labels in ((1, 6), (2, 2), (3, 2)):
        document = shop.document("verify", f"prints/{code}-{number}.pdf")
        assert document["print"] == number and len(document["labels"]) == labels
        assert document["same-bytes"] and all(item["matches-record"] for item in document["labels"])
    dots = shop.document("verify", "dots.png")
    assert [(item["code"], item["matches-record"]) for item in dots["labels"]] == [(code, True)]
    assert json.dumps(dots)
