"""labeltool print as a maker meets it: from a new folder to labels, in words."""

from __future__ import annotations

import datetime as dt
import re

import pytest
from cli_runs import BALM, CREAM, labeltool, tree
from pypdf import PdfReader

SHEET = "a4-2x4-99.1x67.7"
ROLL = "roll-100x40-300dpi"


def codes(ran):
    return re.findall(r"batch (\w+), made", ran.out)


def test_new_workshop_prints_both_formulas_at_once(tmp_path):
    made = labeltool("start", "shop", cwd=tmp_path)
    assert made.code == 0 and made.err == ""
    assert made.out.splitlines()[-1] == "next: labeltool print shop/formulas/*.toml"
    ran = labeltool("print", "shop/formulas/*.toml", cwd=tmp_path)
    assert ran.code == 0, ran.err
    assert "Calendula Hand Cream: batch 260503A31, made 2026-05-03" in ran.out
    assert "Plain Foot Balm: batch 260503B" in ran.out
    for name in re.findall(r"shop/prints/\S+-1\.pdf$", ran.out, re.MULTILINE):
        assert len(PdfReader(tmp_path / name).pages) == 1
    assert "error" not in ran.err and "warning" not in ran.err
    assert ran.out.splitlines()[-1].startswith("next: labeltool verify shop/prints/")


@pytest.mark.parametrize("folder", ["shop", "new folder", "deep/shop"])
def test_start_makes_no_folder_above_and_leaves_what_is_there(tmp_path, folder):
    ran = labeltool("start", folder, cwd=tmp_path)
    if "/" in folder:
        assert ran.code == 2 and "mkdir deep" in ran.err and tree(tmp_path) == {}
        return
    assert ran.code == 0
    before = tree(tmp_path)
    again = labeltool("start", folder, cwd=tmp_path)
    assert again.code == 2 and again.err.startswith("error: ") and "not empty" in again.err
    assert tree(tmp_path) == before


def test_start_takes_an_empty_folder_and_the_current_one(tmp_path):
    (tmp_path / "empty").mkdir()
    assert labeltool("start", "empty", cwd=tmp_path).code == 0
    (tmp_path / "here").mkdir()
    here = labeltool("start", ".", cwd=tmp_path / "here")
    assert here.code == 0, here.err
    assert (tmp_path / "here" / "workshop.toml").is_file()


def test_formula_is_named_by_file_by_bare_name_and_by_pattern(shop):
    for what in (f"formulas/{BALM}.toml", BALM, "formulas/plain*", str(shop.folder / "formulas" / f"{BALM}.toml")):
        assert "Plain Foot Balm" in shop.done("print", what, "--count", "1").out
    letters = [item["code"][6] for item in shop.document("batch", "list")["items"]]
    assert letters == ["A", "B", "C", "D"]


def test_open_batch_prints_more_labels_under_its_code(used_shop):
    ran = used_shop.done("print", "260503A31", "--count", "3", "--skip", "2")
    assert "prints/260503A31-2.pdf" in ran.out and "6 of 8: --stock a4-2x4-99.1x67.7 --skip 5" in ran.out
    assert used_shop.document("batch", "show", "260503A31")["labels"] == 5


@pytest.mark.parametrize("typed", [
    "260503a31", "260503 A 31", "260503-A-31", "2605\u201303A31", "Lot 260503A31", "L260503A31", "batch 260503 a31",
    "26O5O3A31", "260503A3I", "26\u00a00503A31",
])
def test_code_is_taken_in_any_spelling(printed_shop, typed):
    assert printed_shop.document("batch", "show", typed)["code"] == "260503A31"


@pytest.mark.parametrize(("typed", "near"), [
    ("260503A32", "260503A31"), ("260503A13", "260503A31"), ("plain-foot-blam", BALM), ("Plain-Foot-Balm", BALM),
])
def test_unknown_name_is_answered_with_the_nearest(printed_shop, typed, near):
    before = tree(printed_shop.folder)
    ran = printed_shop.run("print", typed)
    assert ran.code == 2 and ran.err.startswith("error: ") and f"did you mean {near}" in ran.err
    assert tree(printed_shop.folder) == before


def test_unknown_formula_file_is_answered_with_the_nearest(printed_shop):
    ran = printed_shop.run("print", "formulas/plain-foot-blam.toml")
    assert ran.code == 2 and f"{BALM}.toml" in ran.err


def test_count_skip_and_places(used_shop):
    def printed(*options):
        return used_shop.document("print", "260503A31", "--stock", SHEET, *options)

    def figures(*options):
        found = printed(*options)
        return found["labels"], found["sheets"], found["next-skip"]

    assert figures() == (8, 1, 8)
    assert figures("--skip", "3") == (5, 1, 8)
    assert figures("--count", "3", "--skip", "6") == (3, 2, 1)
    assert figures("--count", "20") == (20, 3, 4)
    assert figures("--places", "5,7-8") == (3, 1, 8)
    assert figures("--places", "2", "--count", "1") == (1, 1, 2)


def test_next_free_place_is_told_ready_to_type(used_shop):
    told = used_shop.done("print", "260503A31", "--stock", SHEET, "--count", "3").out
    options = re.search(r"--stock \S+ --skip \d+", told).group().split()
    after = used_shop.document("print", "260503A31", "--count", "1", *options)
    assert (after["next-skip"], after["stock"]) == (4, SHEET)
    assert "the last sheet is full" in used_shop.done("print", "260503A31", "--stock", SHEET, "--skip", "6").out


def test_roll_gets_one_label_a_page(used_shop):
    found = used_shop.document("print", "260503B28", "--stock", ROLL)
    assert (found["labels"], found["sheets"], found["next-skip"]) == (1, 1, 0)
    found = used_shop.document("print", "260503B28", "--stock", ROLL, "--count", "4")
    assert (found["labels"], found["sheets"]) == (4, 4)
    page = PdfReader(used_shop.folder / found["file"]).pages[0]
    size = [float(page.mediabox.width), float(page.mediabox.height)]
    assert size == pytest.approx([100 / 25.4 * 72, 40 / 25.4 * 72], abs=0.01)
    assert "--skip" not in used_shop.done("print", "260503B28", "--stock", ROLL).out


def test_batch_open_says_the_code_alone_on_the_first_line(shop):
    ran = shop.done("batch", "open", BALM, "--size", "0,5 kg", "--by", "AB")
    assert ran.out == "260503A31\n"
    assert "labeltool print 260503A31" in ran.err
    shown = shop.document("batch", "show", "260503A31")
    assert (shown["size"], shown["by"], shown["prints"], shown["state"]) == (500, "AB", [], "open")
    assert shop.document("print", "260503A31", "--count", "1")["code"] == "260503A31"


def test_second_batch_of_the_day_names_the_one_that_is_open(shop):
    shop.done("print", BALM, "--count", "1")
    ran = shop.done("print", BALM, "--count", "1")
    assert "note: batch 260503A31 of the same product and day is open" in ran.err
    assert "labeltool print 260503A31" in ran.err
    other_day = shop.done("print", BALM, "--count", "1", "--made", "2026-05-02")
    assert "is open" not in other_day.err
    assert codes(other_day) == ["260502A40"]


def test_several_formulas_are_all_checked_before_the_first_is_opened(shop):
    shop.change(f"formulas/{BALM}.toml", 'net        = "40 g"\n', "")
    before = tree(shop.folder)
    ran = shop.run("print", CREAM, BALM)
    assert ran.code == 2 and "net" in ran.err
    assert tree(shop.folder) == before
    assert shop.run("batch", "list").code == 2


def test_list_of_batches_is_printed_row_by_row(shop):
    rows = f"formula;made;size;count\n{CREAM};2026-04-30;500 g;3\nformulas/{BALM}.toml;;0,5 kg;\n{BALM};;;5\n"
    shop.write("today.csv", rows)
    items = shop.document("print", "--from", "today.csv", "--stock", SHEET)["items"]
    assert [(item["code"][:7], item["labels"]) for item in items] == [("260430A", 3), ("260503A", 8), ("260503B", 5)]
    sizes = [item["size"] for item in shop.document("batch", "list")["items"]]
    assert sizes == [500, 500, None]


def test_every_faulty_row_of_a_list_is_told_and_no_batch_opened(shop):
    rows = f"formula,made,size,count\n{CREAM},3.5.2026,,\nno-such,2026-05-01,,1\n{BALM},,5,0\n{BALM},,,1\n"
    shop.write("today.csv", rows)
    before = tree(shop.folder)
    ran = shop.run("print", "--from", "today.csv", "--json")
    assert ran.code == 2
    assert {item["where"]["line"] for item in ran.json["problems"]} >= {2, 4}
    assert tree(shop.folder) == before
    shop.write("today.csv", f"formula,count\n{BALM},1\nplain-foot-blam,1\n")
    ran = shop.run("print", "--from", "today.csv")
    assert ran.code == 2 and f"did you mean {BALM}" in ran.err and "today.csv" in ran.err
    assert "records.sqlite" not in tree(shop.folder)


@pytest.mark.parametrize(("made", "code", "says"), [
    ("2026-05-04", 0, "note: "), ("2026-06-03", 0, "note: "), ("2026-06-04", 2, "error: "),
    ("1989-12-31", 2, "error: "), ("1990-01-01", 0, ""), ("2026-02-30", 2, "error: "),
    ("3.5.2026", 2, "2026-05-03"), ("05/03/2026", 2, "2026-05-03"),
    ("", 2, "error: "), ("yesterday", 2, "error: "),
])
def test_made_date(shop, made, code, says):
    ran = shop.run("print", BALM, "--count", "1", "--made", made)
    assert ran.code == code, ran.err
    assert says in ran.err
    assert (shop.folder / "records.sqlite").exists() == (code == 0)


def test_best_before_counts_whole_months(shop):
    shop.change(f"formulas/{BALM}.toml", '"18 months"', '"1 month"')
    found = shop.document("print", BALM, "--count", "1", "--made", "2026-01-31")
    assert found["best-before"] == "2026-02-28"


def test_files_changed_since_the_opening_are_told_and_the_frozen_words_printed(used_shop):
    used_shop.change("materials.toml", 'inci = "Cera Alba"', 'inci = "Candelilla Cera"')
    ran = used_shop.done("print", "260503B28", "--count", "1")
    assert "changed in the files since the batch opened: materials.toml" in ran.err
    text = PdfReader(used_shop.folder / "prints" / "260503B28-2.pdf").pages[0].extract_text()
    assert "Cera Alba" in text and "Candelilla" not in text


def test_made_date_of_an_open_batch_stands(used_shop):
    ran = used_shop.run("print", "260503A31", "--made", "2026-05-01")
    assert ran.code == 2 and "2026-05-03" in ran.err
    assert used_shop.run("print", "260503A31", "--made", "2026-05-03", "--count", "1").code == 0


def test_workshop_is_found_by_option_then_environment_then_formula(shop, tmp_path):
    other = labeltool("start", "other", cwd=tmp_path)
    assert other.code == 0
    file = f"shop/formulas/{BALM}.toml"
    env = {"LABELTOOL_WORKSHOP": "shop"}
    named = labeltool("print", file, "--count", "1", "--workshop", "other", cwd=tmp_path, env=env)
    assert named.code == 0 and "other/prints/260503A31-1.pdf" in named.out
    env = labeltool("print", BALM, "--count", "1", cwd=tmp_path, env={"LABELTOOL_WORKSHOP": str(tmp_path / "other")})
    assert env.code == 0 and "other/prints/260503B28-1.pdf" in env.out
    upward = labeltool("print", file, "--count", "1", cwd=tmp_path)
    assert upward.code == 0 and "shop/prints/260503A31-1.pdf" in upward.out
    below = labeltool("print", BALM, "--count", "1", cwd=shop.folder / "formulas")
    assert below.code == 0 and "../prints/260503B28-1.pdf" in below.out


def test_print_years_later_is_judged_by_the_day_it_is_printed(used_shop):
    later = used_shop.run("print", "260503B28", "--count", "1", today=dt.date(2026, 7, 1))
    assert later.code == 0
    assert used_shop.document("batch", "show", "260503B28")["made"] == "2026-05-03"
