"""printers.toml through the command: measured, applied, kept in the record, read back."""

import json

import pytest
from cli_runs import CREAM, labeltool, new_shop

from labeltool.codec import from_plain, to_plain
from labeltool.raster import Pdf
from labeltool.stock.printers import Correction
from labeltool.workflow import layouts

A4 = "a4-3x8-63.5x33.9"
STOCK = layouts.stock("a4-2x4-99.1x67.7", None)
WIDE = STOCK.name
OFFICE = f'[office]\nstock."{WIDE}" = {{ nudge = [0.8, -0.6], scale = [1, 1.001] }}\n'


@pytest.fixture
def shop(tmp_path):
    return new_shop(tmp_path)


def printed(shop, *more):
    return shop.document("print", CREAM, "--stock", WIDE, "--count", 8, *more)


def letters(shop, name):
    """Where the first and the last letter of a PDF's page lie, mm."""
    found = Pdf((shop.folder / name).read_bytes()).chars(0)
    size = len(found) // 8
    return [(found[index * size].x_mm, found[index * size].y_mm) for index in range(8)]


def test_places_move_by_the_correction_and_labels_are_not_stretched(shop):
    plain = printed(shop)
    shop.write("printers.toml", OFFICE)
    moved = printed(shop, "--printer", "office")
    assert (plain["printer"], moved["printer"]) == (None, "office")
    dot = 25.4 / STOCK.dpi
    for index, (before, after) in enumerate(zip(letters(shop, plain["file"]), letters(shop, moved["file"]),
                                                strict=True)):
        top = STOCK.origin_mm[1] + index // 2 * STOCK.pitch_mm[1]
        assert after[0] - before[0] == pytest.approx(0.8, abs=dot / 2 + 0.01)
        assert after[1] - before[1] == pytest.approx(0.001 * top - 0.6, abs=dot / 2 + 0.01)


def test_the_row_keeps_printer_and_correction_and_the_frame_none_of_it(shop):
    shop.write("printers.toml", OFFICE)
    plain, moved = printed(shop), printed(shop, "--printer", "office")
    rows = [shop.document("batch", "show", item["code"])["prints"][0] for item in (plain, moved)]
    assert [row["printer"] for row in rows] == [None, "office"]
    events = [json.loads(line) for line in shop.done("records", "export").out.splitlines()]
    assert json.dumps(events).count("nudge_mm") == 1


def test_a_corrected_print_reads_back_and_verifies(shop):
    shop.write("printers.toml", OFFICE)
    moved = printed(shop, "--printer", "office")
    found = shop.document("verify", moved["file"])
    assert all(label["matches-record"] for label in found["labels"]) and not found["problems"]


def test_verify_takes_the_correction_of_the_print_not_of_today(shop):
    shop.write("printers.toml", OFFICE)
    moved = printed(shop, "--printer", "office")
    shop.write("printers.toml", OFFICE.replace("0.8", "-3"))
    assert shop.run("verify", moved["file"]).code == 0
    (shop.folder / "printers.toml").unlink()
    assert shop.run("verify", moved["file"]).code == 0


def test_reprint_applies_the_correction_of_the_day(shop):
    first = printed(shop)
    shop.write("printers.toml", OFFICE)
    plain = shop.document("reprint", first["code"], "--why", "torn")
    moved = shop.document("reprint", first["code"], "--why", "torn", "--printer", "office")
    again = shop.document("reprint", first["code"], "--why", "torn")
    assert [item["printer"] for item in (plain, moved, again)] == [None, "office", "office"]
    assert letters(shop, plain["file"]) == letters(shop, first["file"])
    assert letters(shop, moved["file"])[0][0] - letters(shop, first["file"])[0][0] == pytest.approx(0.8, abs=0.05)
    assert again["sha256"] == moved["sha256"]
    assert shop.run("verify", moved["file"]).code == 0


def test_several_batches_on_one_sheet_move_together(shop):
    shop.write("printers.toml", OFFICE)
    codes = [printed(shop)["code"] for _ in range(2)]
    both = shop.document("print", *(f"{code}:4" for code in codes), "--stock", WIDE, "--printer", "office")["items"]
    assert {item["printer"] for item in both} == {"office"}
    assert shop.run("verify", both[0]["file"]).code == 0


def test_the_printer_of_the_workshop_is_used_where_the_call_names_none(shop):
    shop.write("printers.toml", OFFICE)
    text = (shop.folder / "workshop.toml").read_text()
    shop.write("workshop.toml", text.rstrip() + '\n\n[print]\nprinter = "office"\n')
    assert printed(shop)["printer"] == "office"


def test_a_default_printer_that_nobody_measured_is_a_note(shop):
    text = (shop.folder / "workshop.toml").read_text()
    shop.write("workshop.toml", text.rstrip() + '\n\n[print]\nprinter = "office"\n')
    assert [item["level"] for item in printed(shop)["problems"] if item["rule"] == "printer.stock"] == ["note"]
    shop.write("printers.toml", OFFICE.replace("[office]", "[offices]"))
    assert "printer.unknown" in shop.run("print", CREAM, "--stock", WIDE, "--json").rules


def test_a_printer_without_this_stock_is_a_note(shop):
    shop.write("printers.toml", OFFICE.replace(WIDE, A4))
    done = printed(shop, "--printer", "office")
    assert done["printer"] == "office" and "printer.stock" in [item["rule"] for item in done["problems"]]


@pytest.mark.parametrize(("file", "rule"), [
    (None, "printer.unknown"), (OFFICE.replace("[office]", "[ofice]"), "printer.unknown"),
    (OFFICE.replace("scale", "scael"), "printer.key"), (OFFICE.replace("0.8", "80"), "printer.value"),
    (OFFICE.replace("0.8", "-9"), "printer.off-page"), ("[office", "toml.syntax"),
])
def test_what_cannot_be_corrected_is_refused_and_nothing_is_written(shop, file, rule):
    if file is not None:
        shop.write("printers.toml", file)
    ran = shop.run("print", CREAM, "--stock", WIDE, "--printer", "office", "--json")
    assert ran.code == 2 and rule in ran.rules
    assert not (shop.folder / "records.sqlite").exists() or not list((shop.folder / "prints").glob("*.pdf"))


def test_faults_of_the_file_name_their_line(shop):
    shop.write("printers.toml", OFFICE.replace("0.8", '"x"') + "nugde = 1\n")
    ran = shop.run("print", CREAM, "--stock", WIDE, "--printer", "office")
    assert "printers.toml:2: nudge is" in ran.err and "printers.toml:3: unknown key 'nugde'" in ran.err


def test_two_readings_become_a_correction_that_print_applies(shop):
    page = shop.document("stock", "align", WIDE)
    assert page["marks"] == [[20.0, 20.0], [190.0, 277.0]]
    words = Pdf((shop.folder / page["file"]).read_bytes()).text(0)
    assert "1: 20, 20" in words and "2: 190, 277" in words
    shop.write("printers.toml", "# ours\n[studio]\n")
    done = shop.document("stock", "align", WIDE, "--printer", "office", "--read", "20,5", "19.6",
                         "--read", 190.5, 276.6)
    assert done["nudge"] == [-0.5, 0.4] and done["scale"] == [1.0, 1.0]
    text = (shop.folder / "printers.toml").read_text()
    assert text.startswith("# ours\n[studio]\n") and f'stock."{WIDE}" = {{ nudge = [-0.5, 0.4]' in text
    assert printed(shop, "--printer", "office")["printer"] == "office"


@pytest.mark.parametrize("more", [
    ("--read", 20, 20), ("--printer", "office", "--read", 20, 20),
    ("--printer", "office", "--read", 20, 20, "--read", 20, 20),
    ("--printer", " ", "--read", 20, 20, "--read", 190, 277),
    ("--printer", "o", "-o", "x.pdf", "--read", 20, 20, "--read", 190, 277), ("--printer", "o", "--read", "a", 20),
])
def test_readings_that_make_no_correction_write_nothing(shop, more):
    before = sorted(path.name for path in shop.folder.iterdir())
    assert shop.run("stock", "align", WIDE, *more).code == 2
    assert sorted(path.name for path in shop.folder.iterdir()) == before


def test_a_faulty_file_is_not_written_over(shop):
    shop.write("printers.toml", "[office")
    assert shop.run("stock", "align", WIDE, "--printer", "o", "--read", 20, 20, "--read", 190, 277).code == 2
    assert (shop.folder / "printers.toml").read_text() == "[office"


def test_the_alignment_page_replaces_only_its_own_kind(shop):
    shop.write("mine.pdf", b"%PDF-1.4 mine")
    assert shop.run("stock", "align", WIDE, "-o", "mine.pdf").code == 2
    assert shop.run("stock", "align", WIDE, "-o", "page.pdf").code == 0
    assert shop.run("stock", "align", WIDE, "-o", "page.pdf").code == 0


def test_a_page_can_be_made_outside_a_workshop(tmp_path):
    ran = labeltool("stock", "align", A4, "--json", cwd=tmp_path)
    assert ran.code == 0 and (tmp_path / ran.json["file"]).is_file()


def test_corrections_keep_their_form_in_the_record():
    correction = Correction((0.4, -0.3), (1.0, 1.001))
    assert from_plain(Correction, json.loads(json.dumps(to_plain(correction)))) == correction
