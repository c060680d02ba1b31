from __future__ import annotations

import csv
import datetime as dt

import pytest
from bench_samples import ROWS, D, row
from hypothesis import given
from hypothesis import strategies as st

from labeltool.batch.model import Weighing
from labeltool.batch.plan import plan
from labeltool.batch.sheet import guarded, materials_filled, read_sheet, unguarded, write_sheet

HEAD = "line,material,grams,lot,expires,note\n"


def read(text: str) -> list[Weighing]:
    rows, findings = read_sheet(text, "sheet.csv")
    assert not findings.errors, findings
    return [item.weighing for item in rows]


def errors(text: str) -> list[tuple[str, int | None, str | None]]:
    _, findings = read_sheet(text, "sheet.csv")
    assert all(item.where.file == "sheet.csv" for item in findings)
    return [(item.rule, item.where.row, item.where.cell) for item in findings.errors]


def test_the_sheet_of_a_plan():
    assert write_sheet(plan(ROWS, D(500))).splitlines() == [
        "line,phase,material,planned,grams,lot,expires,note", "1,A,water,357.00,,,,", "2,B,glycerin,25.00,,,,",
        "3,B,oil,118.00,,,,", "4,C,acid,,,,,\"to pH, at most 1.5 g\"",
    ]


@pytest.mark.parametrize("size", [None, D(500), D("0.0000001"), D("1E+6")])
def test_an_empty_sheet_reads_as_nothing_weighed(size):
    rows, findings = read_sheet(write_sheet(plan(ROWS, size)))
    assert (rows, findings.items) == ((), ())


@pytest.mark.parametrize("size", [None, D(500), D("0.0000001"), D("1E+6")])
def test_a_filled_sheet_reads_back_without_the_notes_of_the_plan(size):
    table = list(csv.reader(write_sheet(plan(ROWS, size)).splitlines()))
    table[2][4:7] = ["25,02 g", "G-1", "2027-01-31"]
    table[3][4], table[3][7] = "48.72-47.42", "spilled some"
    text = "\n".join(";".join(cells) for cells in table)
    assert read(text) == [
        Weighing("glycerin", D("25.02"), 2, "G-1", dt.date(2027, 1, 31)),
        Weighing("oil", D("1.30"), 3, note="spilled some"),
    ]


@pytest.mark.parametrize("text", [
    "line,material,grams,lot\n2,glycerin,25.02,G-1\n",
    "LOT;Grams;Line;Material\nG-1;25,02;2;glycerin\n",
    "\ufeffgrams\tline\tmaterial\tlot\r\n25.02 g\t2\tglycerin\tG-1\r\n\r\n",
    "line,material,grams,lot\r2,glycerin,25.02,G-1\r",
    "\n\nline,material,grams,lot,weigher\n2,\"glycerin\",25.02,G-1,AB\n,,,,\n",
    "line,material,grams,lot,expires,note\n 2 , glycerin , 25.02 , G-1\n",
])
def test_any_order_case_delimiter_and_line_ending(text):
    assert read(text) == [Weighing("glycerin", D("25.02"), 2, "G-1")]


def test_a_sheet_with_the_plan_in_its_notes_is_still_read():
    text = HEAD + '2,glycerin,25.02,G-1,,"planned 25.00 g, phase B"\n4,acid,1.2,C-7,,"to pH, at most 1.5 g, phase C"\n'
    assert [item.note for item in read(text)] == ["", ""]


def test_columns_that_are_not_read_are_noted():
    _, findings = read_sheet("line,grams,weigher\n2,25,AB\n")
    assert [(item.rule, item.level) for item in findings] == [("weigh.column", "note")]
    assert "weigher" in findings.items[0].text


def test_a_line_alone_gets_the_plans_material():
    rows, _ = read_sheet("line,grams\n2,25\n9,1\n")
    assert [item.weighing.material for item in materials_filled(rows, plan(ROWS, D(500)))] == ["glycerin", ""]


def test_a_material_alone_gets_its_line_later():
    assert read("material,grams\nglycerin,25\n") == [Weighing("glycerin", D(25))]


@pytest.mark.parametrize(("text", "expected"), [
    ("", [("weigh.empty", None, None)]),
    ("\n\n", [("weigh.empty", None, None)]),
    ("water\n", [("weigh.column", 1, None)]),
    ("line,material\n1,water\n", [("weigh.column", 1, None)]),
    ("grams,lot\n1,G\n", [("weigh.column", 1, None)]),
    ("line,grams,grams\n1,1,2\n", [("weigh.column", 1, None)]),
    (HEAD + "x,water,1,,,\n", [("weigh.cell", 2, "column line")]),
    (HEAD + "0,water,1,,,\n", [("weigh.cell", 2, "column line")]),
    (HEAD + "1,water,much,,,\n", [("weigh.cell", 2, "column grams")]),
    (HEAD + "1,water,-5,,,\n", [("weigh.cell", 2, "column grams")]),
    (HEAD + "1,water,5,,03/05/2026,\n", [("weigh.cell", 2, "column expires")]),
    (HEAD + ",,5,,,\n", [("weigh.line", 2, None)]),
    (HEAD + "1,water,5,,,\n\nx,oil,y,,z,\n", [
        ("weigh.cell", 4, "column grams"), ("weigh.cell", 4, "column line"), ("weigh.cell", 4, "column expires"),
    ]),
    (HEAD + "1," + "w" * 200_000 + ",5,,,\n", [("weigh.syntax", None, None)]),
])
def test_everything_wrong_is_named_with_its_row(text, expected):
    assert errors(text) == expected


def test_a_date_in_another_form_is_answered_with_the_iso_form():
    _, findings = read_sheet(HEAD + "1,water,5,,31/12/2026,\n")
    assert "2026-12-31" in findings.items[0].text


def test_a_lot_without_a_mass_is_warned_of():
    rows, findings = read_sheet(HEAD + "2,glycerin,,G-1,,\n")
    assert (rows, [(item.rule, item.level) for item in findings]) == ((), [("weigh.grams", "warning")])


@pytest.mark.parametrize(("text", "expected"), [
    ("=1+1", "'=1+1"), ("+1", "'+1"), ("-7", "'-7"), ("@x", "'@x"), ("'=x", "''=x"), ("'x", "''x"),
    ("x=1", "x=1"), ("", ""),
])
def test_cells_that_a_spreadsheet_would_compute_are_quoted(text, expected):
    assert guarded(text) == expected
    assert unguarded(expected) == text


def test_a_material_like_a_formula_is_quoted_in_the_sheet_and_read_back():
    text = write_sheet(plan([row(1, "=cmd", "100")], D(5)))
    assert "1,A,'=cmd,5.00," in text
    assert read(text.replace("5.00,,", "5.00,5,'-7")) == [Weighing("=cmd", D(5), 1, "-7")]


@given(st.text())
def test_guarding_can_be_undone(text):
    assert unguarded(guarded(text)) == text
    assert not guarded(text).startswith(("=", "+", "-", "@"))


@given(st.text(st.characters(codec="utf-8"), max_size=200))
def test_no_text_raises(text):
    for content in (text, HEAD + text, HEAD + "1,water," + text):
        _, findings = read_sheet(content, "sheet.csv")
        assert all(item.rule.startswith("weigh.") for item in findings)
