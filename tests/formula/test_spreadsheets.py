from __future__ import annotations

import datetime as dt
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from formula_workshops import read, rules, write
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook
from sheets import ROWS, edited, xlsx

from labeltool.finding import Findings
from labeltool.formula.files import Data
from labeltool.formula.grid import letters
from labeltool.formula.load import Loaded
from labeltool.formula.report import Report
from labeltool.formula.sheet_csv import delimiter_of, read_csv

FACTS = '[product]\nname = "Lotion"\n'


def of_sheet(folder: Path, content: str | bytes, ending: str = "csv") -> tuple[Loaded | None, Findings]:
    return read(write(folder, {"formulas/lotion.toml": FACTS, f"formulas/lotion.{ending}": content}))


def percents(found: Loaded | None) -> list[tuple[str, Decimal]]:
    assert found is not None
    return [(row.material, row.percent) for row in found.formula.rows]


@pytest.mark.parametrize("text", [
    "material,percent\nwater,71.5\nrosemary-oil,28.5\n", "Material;Percent\nwater;71,5\nrosemary-oil;28,5 %\n",
    "PERCENT\tMATERIAL\n71,5\twater\n28.5\trosemary-oil\n", 'material,percent\n"water","71,5"\nrosemary-oil,qs\n',
    "\n\nmaterial,percent\n\nwater,71.5\n,\nrosemary-oil,28.5",
    "material,percent\r\nwater,qs\r\nrosemary-oil,28.5%\r\n",
    "\ufeffmaterial,percent\nwater, 71.5 \nrosemary-oil,28.5\n", "material,percent\rwater,71.5\rrosemary-oil,28.5\r",
    "material;percent;inci\nwater;71,5\nrosemary-oil;28,5;\n", "grams,material\n143,water\n\"57,0 g\",rosemary-oil\n",
])
def test_the_same_formula_in_many_spellings(tmp_path: Path, text: str) -> None:
    found, findings = of_sheet(tmp_path, text)
    assert percents(found) == [("water", Decimal("71.5")), ("rosemary-extract", Decimal("28.5"))]
    assert len(findings) == 0


@pytest.mark.parametrize("text", [
    "material,percent,grams\nwater,71.5,\nrosemary-oil,28.5,\n",
    "grams,material,percent\n143,water\n57,rosemary-oil,\n",
])
def test_a_column_of_amounts_that_holds_nothing_is_left_out(tmp_path: Path, text: str) -> None:
    found, findings = of_sheet(tmp_path, text)
    assert percents(found) == [("water", Decimal("71.5")), ("rosemary-extract", Decimal("28.5"))]
    (note,) = findings
    empty = "grams" if text.startswith("material") else "percent"
    assert (note.rule, note.level, note.text) == ("sheet.ignored", "note", f"the column {empty} is empty: not read")


@pytest.mark.parametrize("text", [
    "material,percent,grams\nwater,,\n", "material,percent,grams\nwater,100,\nwater,,5\n",
])
def test_two_columns_of_amounts_that_are_both_empty_or_both_used_are_refused(tmp_path: Path, text: str) -> None:
    assert "formula.mixed" in rules(of_sheet(tmp_path, text)[1], "error")


def test_all_columns_of_a_row(tmp_path: Path) -> None:
    text = "phase,material,inci,percent,purpose\nA,water,,99,\nB,,Citric Acid,1,pH adjuster\n,,Lactic Acid,to pH 0.3,\n"
    found, _ = of_sheet(tmp_path, text)
    assert found is not None
    water, citric, lactic = found.formula.rows
    assert (water.phase, citric.phase) == ("A", "B")
    assert (citric.material, citric.purpose) == ("inci:Citric Acid", "ph-adjuster")
    assert (lactic.kind, lactic.up_to) == ("to-ph", Decimal("0.3"))
    assert (water.where.line, citric.where.line) == (2, 3)


def test_a_row_stands_on_the_line_where_it_begins(tmp_path: Path) -> None:
    text = 'material,percent,note\nwater,50,"two\nlines"\n\nwater,0,\n'
    _, findings = of_sheet(tmp_path, text)
    assert [(item.rule, item.where.line) for item in findings.errors] == [("row.amount", 5)]


def test_other_columns_are_noted_with_the_name_meant(tmp_path: Path) -> None:
    found, findings = of_sheet(tmp_path, "material,percent,phases,cost\nwater,100,A,1\n")
    assert found is not None
    (note,) = findings.items
    assert (note.rule, note.level, note.do) == ("sheet.ignored", "note", "did you mean phase?")
    assert "'cost'" in note.text


@pytest.mark.parametrize(("text", "delimiter"), [
    ("material,percent", ","), ("material;percent", ";"), ("material\tpercent", "\t"), ("\n \nmaterial;percent,x", ";"),
    ('"material";"percent, in %"', ";"), ("material", ","),
])
def test_the_first_row_tells_what_parts_the_cells(text: str, delimiter: str) -> None:
    assert delimiter_of(text) == delimiter


@given(st.text(max_size=60) | st.text('material,percent;\t"\n\r %5.', max_size=60))
def test_no_text_makes_the_csv_reader_fail(text: str) -> None:
    report = Report()
    read_csv(Data(Path("x.csv"), "x.csv", text.encode(errors="surrogatepass")), report)
    assert all(item.where.file == "x.csv" for item in report.findings())


def test_an_xlsx_is_read(tmp_path: Path) -> None:
    found, findings = of_sheet(tmp_path, xlsx(), "xlsx")
    assert percents(found) == [("water", Decimal("71.5")), ("rosemary-extract", Decimal("28.5"))]
    assert len(findings) == 0
    assert found is not None
    assert found.formula.rows[0].where.row == 2


@pytest.mark.parametrize("numbers", [[0.715, 0.285], [0.7151, 0.2850], [0.7149, 0.2850], ["0,715", 0.285]])
def test_fractions_that_sum_to_one_are_read_as_percents(tmp_path: Path, numbers: list[Any]) -> None:
    rows = [ROWS[0], ["A", "water", numbers[0]], ["B", "rosemary-oil", numbers[1]]]
    found, findings = of_sheet(tmp_path, xlsx(rows), "xlsx")
    assert sum(percent for _, percent in percents(found)) == 100
    assert rules(findings, "note")[0] == "sheet.hundred"


@pytest.mark.parametrize("numbers", [[0.7149, 0.2849], [0.7152, 0.2850], [0.5, 0.4]])
def test_fractions_that_do_not_are_a_sum_that_is_off(tmp_path: Path, numbers: list[float]) -> None:
    rows = [ROWS[0], ["A", "water", numbers[0]], ["B", "rosemary-oil", numbers[1]]]
    assert rules(of_sheet(tmp_path, xlsx(rows), "xlsx")[1]) == ["formula.sum"]


def test_fractions_beside_qs_cannot_be_told_from_percents(tmp_path: Path) -> None:
    for numbers, expected in (([0.285, 0.1], ["sheet.scale"]), ([0.5, 0.6], []), ([0.5, 0.5002], []),
                              ([0.5, 0.5001], ["sheet.scale"]), (["0.285 %", "0,1 %"], [])):
        rows = [ROWS[0], ["A", "water", "qs"], *(["B", "rosemary-oil", number] for number in numbers)]
        assert rules(of_sheet(tmp_path, xlsx(rows), "xlsx")[1]) == expected


def test_written_percents_beside_fractions(tmp_path: Path) -> None:
    rows = [ROWS[0], ["A", "water", "71.5 %"], ["B", "rosemary-oil", 0.285]]
    found, findings = of_sheet(tmp_path, xlsx(rows), "xlsx")
    assert percents(found)[1][1] == Decimal("28.5")
    assert rules(findings, "note") == ["sheet.hundred"]
    rows = [ROWS[0], ["A", "water", "99.5 %"], ["B", "rosemary-oil", 0.5]]
    found, findings = of_sheet(tmp_path, xlsx(rows), "xlsx")
    assert percents(found)[1][1] == Decimal("0.5")
    assert len(findings) == 0


def test_a_csv_of_fractions_is_not_multiplied(tmp_path: Path) -> None:
    assert rules(of_sheet(tmp_path, "material,percent\nwater,0.7\nwater,0.3\n")[1]) == ["formula.sum"]


def test_sums_of_floating_numbers_are_read_as_shown(tmp_path: Path) -> None:
    rows = [ROWS[0], ["A", "water", 0.3], ["B", "rosemary-oil", 99.7]]
    longer = b">0.30000000000000004<"  # 0.1 + 0.2, as spreadsheets keep it
    content = edited(xlsx(rows), "xl/worksheets/sheet1.xml", lambda data: data.replace(b">0.3<", longer))
    found, findings = of_sheet(tmp_path, content, "xlsx")
    assert percents(found)[0][1] == Decimal("0.3")
    assert len(findings) == 0


@pytest.mark.parametrize(("cell", "value", "rule"), [
    ("C2", None, "row.amount"), ("C2", "much", "row.amount"), ("C2", -5, "row.amount"), ("C2", True, "sheet.cell"),
    ("C3", dt.date(2026, 5, 3), "sheet.cell"), ("C3", dt.time(5, 3), "sheet.cell"), ("C3", 1e300, "row.amount"),
    ("B3", dt.datetime(2026, 5, 3), "sheet.cell"), ("B2", "watr", "material.unknown"), ("C2", "#DIV/0!", "sheet.error"),
    ("A2", "=1/0", "sheet.error"), ("C3", "=A1*2", "sheet.error"), ("B3", "#REF!", "sheet.error"),
    ("B2", "inci:Aqua", "row.nothing"),
])
def test_faults_are_named_by_cell(tmp_path: Path, cell: str, value: object, rule: str) -> None:
    def change(book: Workbook) -> None:
        book.active[cell] = value

    found, findings = of_sheet(tmp_path, xlsx(change=change), "xlsx")
    assert found is None
    assert rules(findings) == [rule]
    where = findings.errors[0].where
    assert where.row == int(cell[1:])
    assert where.cell == (None if rule == "material.unknown" else cell)


def test_columns_without_a_name_are_noted(tmp_path: Path) -> None:
    def change(book: Workbook) -> None:
        book.active["E3"] = 5
        book.active["AB2"] = "cheaper elsewhere?"

    found, findings = of_sheet(tmp_path, xlsx(change=change), "xlsx")
    assert len(percents(found)) == 2
    assert [(item.rule, item.text) for item in findings] == [
        ("sheet.ignored", "columns without a name are not read: E, AB"),
    ]
    found, findings = of_sheet(tmp_path / "csv", "material,,percent,,\nwater,x,100,,\n")
    assert len(percents(found)) == 1
    assert rules(findings, "note") == ["sheet.ignored"]


def test_texts_kept_apart_from_their_cells_are_read(tmp_path: Path) -> None:
    texts = ("material", "percent", "water", "qs")
    shared = "<sst>" + "".join(f"<si><t>{text}</t></si>" for text in texts) + "</sst>"
    cells = "".join(
        f'<row r="{row}"><c r="A{row}" t="s"><v>{first}</v></c><c r="B{row}" t="s"><v>{second}</v></c></row>'
        for row, first, second in ((1, 0, 1), (2, 2, 3))
    )
    sheet = f"<worksheet><sheetData>{cells}</sheetData></worksheet>"
    content = edited(xlsx(), "xl/sharedStrings.xml", lambda _: shared.encode())
    content = edited(content, "xl/worksheets/sheet1.xml", lambda _: sheet.encode())
    assert percents(of_sheet(tmp_path, content, "xlsx")[0]) == [("water", Decimal(100))]


def test_a_row_of_formulas_without_results_does_not_vanish(tmp_path: Path) -> None:
    def change(book: Workbook) -> None:
        for column in "ABC":
            book.active[f"{column}4"] = "=A1"

    found, findings = of_sheet(tmp_path, xlsx(change=change), "xlsx")
    assert found is None
    assert [item.where.cell for item in findings.errors] == ["B4", "C4", "A4"]


def test_cells_are_named_where_the_sheet_begins_further_in(tmp_path: Path) -> None:
    def change(book: Workbook) -> None:
        book.active.insert_rows(1, 3)
        book.active.insert_cols(1, 2)
        book.active["E6"] = 0

    _, findings = of_sheet(tmp_path, xlsx(change=change), "xlsx")
    assert [item.where.cell for item in findings.errors] == ["E6"]


def test_the_first_visible_sheet_is_read_and_others_are_noted(tmp_path: Path) -> None:
    def change(book: Workbook) -> None:
        book.create_sheet("hidden", 0).sheet_state = "hidden"
        book.create_sheet("prices").append(["a"])

    found, findings = of_sheet(tmp_path, xlsx(change=change), "xlsx")
    assert len(percents(found)) == 2
    assert rules(findings, "note") == ["sheet.others"]


def test_a_blank_sheet_is_empty(tmp_path: Path) -> None:
    assert rules(of_sheet(tmp_path, xlsx([]), "xlsx")[1]) == ["file.empty"]


def test_numbers_stand_for_keys_and_phases(tmp_path: Path) -> None:
    rows: list[list[Any]] = [["phase", "inci", "percent"], [1, 7, 100]]
    found, _ = of_sheet(tmp_path, xlsx(rows), "xlsx")
    assert percents(found) == [("inci:7", Decimal(100))]
    assert found is not None
    assert found.formula.rows[0].phase == "1"


def test_an_xlsx_part_of_nonsense_is_a_finding(tmp_path: Path) -> None:
    for part in ("xl/workbook.xml", "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "xl/styles.xml"):
        content = edited(xlsx(), part, lambda data: data[: len(data) // 2])
        found, findings = of_sheet(tmp_path, content, "xlsx")
        assert found is not None or findings.errors


def test_column_letters() -> None:
    assert [letters(at) for at in (0, 25, 26, 701, 702, 16383)] == ["A", "Z", "AA", "ZZ", "AAA", "XFD"]
