import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeltool.stock.parse import parse_stock

SHEET = {
    "title": "A4 sheet", "kind": "sheet", "page": [210, 297], "label": [63.5, 33.9], "shape": "rectangle",
    "corner": 1.5, "grid": [3, 8], "origin": [7.25, 12.9], "pitch": [66.0, 33.9], "safe": 1.5, "face": "white",
    "print": "laser", "dpi": 600,
}
ROLL = {"kind": "roll", "label": [57, 32], "corner": 2, "gap": 3, "print": "direct-thermal", "dpi": 203}


def without(key):
    return {name: value for name, value in SHEET.items() if name != key}


def test_sheet_of_the_documented_keys():
    stock, findings = parse_stock("a4", SHEET)
    assert not findings
    assert (stock.name, stock.kind, stock.per_page) == ("a4", "sheet", 24)
    assert (stock.page_mm, stock.label_mm, stock.pitch_mm) == ((210, 297), (63.5, 33.9), (66, 33.9))
    assert (stock.medium, stock.dpi, stock.safe_mm, stock.face) == ("laser", 600, 1.5, "white")


def test_page_of_a_roll_is_one_row_across_without_the_gap():
    stock, findings = parse_stock("roll", ROLL)
    assert not findings
    assert (stock.page_mm, stock.gap_mm, stock.origin_mm, stock.per_page) == ((57, 32), 3, (0, 0), 1)
    assert stock.pitch_mm == (57, 35)


def test_roll_of_two_across_with_a_liner_edge():
    stock, findings = parse_stock("roll", ROLL | {"label": [40, 20], "grid": [2, 1], "pitch": 43, "origin": [1.5, 0]})
    assert not findings
    assert stock.page_mm == (86, 20)
    assert stock.pitch_mm == (43, 23)


def test_pitch_of_a_roll_may_be_a_pair():
    stock, findings = parse_stock("roll", ROLL | {"grid": [2, 1], "pitch": [60, 35]})
    assert not findings
    assert stock.page_mm == (117, 32)


def test_what_is_left_out_has_sensible_values():
    stock, findings = parse_stock("plain", {"kind": "sheet", "page": [100, 100], "label": [50, 50], "origin": [25, 25]})
    assert not findings
    assert (stock.title, stock.shape, stock.corner_mm, stock.safe_mm) == ("plain", "rectangle", 0, 1.5)
    assert (stock.face, stock.medium, stock.dpi, stock.per_page) == ("white", "laser", 600, 1)
    roll, findings = parse_stock("r", {"kind": "roll", "label": [50, 25]})
    assert not findings
    assert (roll.medium, roll.dpi, roll.gap_mm) == ("direct-thermal", 203, 3)


@pytest.mark.parametrize("change, rule, key, words", [
    ({"lable": [1, 2]}, "stock.key", "lable", "did you mean label?"),
    ({"gap": 3}, "stock.key", "gap", "rolls only"),
    ({"kind": "sheets"}, "stock.value", "kind", "did you mean sheet?"),
    ({"kind": ["roll"]}, "stock.value", "kind", "sheet, roll"),
    ({"shape": "circle"}, "stock.value", "shape", "rectangle, round, oval"),
    ({"face": "#12345"}, "stock.value", "face", "#rrggbb"),
    ({"face": "black"}, "stock.value", "face", "white, clear, kraft"),
    ({"print": "lazer"}, "stock.value", "print", "did you mean laser?"),
    ({"dpi": 600.0}, "stock.value", "dpi", "whole number"),
    ({"dpi": True}, "stock.value", "dpi", "whole number"),
    ({"dpi": 12}, "stock.value", "dpi", "100 to 4800"),
    ({"title": ""}, "stock.value", "title", "printable"),
    ({"title": "a\x1b[31mb"}, "stock.value", "title", "printable"),
    ({"page": 210}, "stock.value", "page", "two numbers"),
    ({"page": [210]}, "stock.value", "page", "two numbers"),
    ({"page": [210, 297, 1]}, "stock.value", "page", "two numbers"),
    ({"page": ["210", 297]}, "stock.value", "page", "two numbers"),
    ({"label": [float("nan"), 30]}, "stock.value", "label", "nan"),
    ({"label": [float("inf"), 30]}, "stock.value", "label", "inf"),
    ({"label": [-63.5, 33.9]}, "stock.value", "label", "-63.5"),
    ({"label": [0, 33.9]}, "stock.value", "label", "from 5"),
    ({"label": [True, 33.9]}, "stock.value", "label", "True"),
    ({"label": [10 ** 400, 30]}, "stock.value", "label", "two numbers"),
    ({"grid": [3, 0]}, "stock.value", "grid", "whole numbers"),
    ({"grid": [3.0, 8]}, "stock.value", "grid", "whole numbers"),
    ({"grid": [True, 8]}, "stock.value", "grid", "whole numbers"),
    ({"grid": [100000, 8]}, "stock.value", "grid", "1 to 200"),
    ({"origin": [-1, 12.9]}, "stock.value", "origin", "-1"),
    ({"corner": -1}, "stock.value", "corner", "from 0"),
    ({"corner": "2"}, "stock.value", "corner", "from 0"),
    ({"safe": float("nan")}, "stock.value", "safe", "nan"),
    ({"pitch": [66.0, 33.0]}, "stock.overlap", "pitch", "overlap down by 0.9 mm"),
    ({"pitch": [60, 33.9]}, "stock.overlap", "pitch", "overlap across by 3.5 mm"),
    ({"origin": [20, 12.9]}, "stock.off-page", "grid", "215.5 mm across, 5.5 mm past the page of 210 mm"),
    ({"grid": [3, 9]}, "stock.off-page", "grid", "318 mm down, 21 mm past the page of 297 mm"),
    ({"safe": 17}, "stock.safe", "safe", "29.5 x 0 mm"),
    ({"shape": "round", "corner": 0}, "stock.shape", "shape", "round label of 63.5 x 33.9"),
    ({"shape": "oval"}, "stock.shape", "corner", "corner 1.5 mm"),
    ({"corner": 17.5}, "stock.shape", "corner", "up to 16.95 mm"),
])
def test_fault_is_named_with_its_key_and_numbers(change, rule, key, words):
    stock, findings = parse_stock("a4", SHEET | change)
    assert stock is None
    assert [(item.rule, item.where.key) for item in findings] == [(rule, key)]
    item = findings.items[0]
    assert words in " ".join(filter(None, (item.text, item.limit, item.do)))
    assert item.where.file == "a4.toml" and item.level == "error"


@pytest.mark.parametrize("key", ["kind", "page", "label", "origin", "pitch"])
def test_missing_key_is_named(key):
    stock, findings = parse_stock("a4", without(key))
    assert stock is None
    assert ("stock.missing", key) in [(item.rule, item.where.key) for item in findings]


@pytest.mark.parametrize("change, key", [
    ({"page": [57, 32]}, "page"), ({"grid": [1, 2]}, "grid"), ({"origin": [0, 1]}, "origin"), ({"gap": -1}, "gap"),
    ({"grid": [2, 1]}, "pitch"), ({"grid": [2, 1], "pitch": 50}, "pitch"), ({"label": [3, 32]}, "label"),
])
def test_fault_of_a_roll_is_named(change, key):
    stock, findings = parse_stock("roll", ROLL | change)
    assert stock is None
    assert [item.where.key for item in findings] == [key]


def test_all_faults_are_found_at_once():
    table = SHEET | {"colour": 1, "dpi": 0, "face": 3, "pitch": [66, 30], "grid": [4, 8]}
    _, findings = parse_stock("a4", table)
    assert {item.where.key for item in findings} == {"colour", "face", "dpi", "grid", "pitch"}


def test_colour_of_the_face_is_kept_in_small_letters():
    assert parse_stock("a4", SHEET | {"face": "#C8A165"})[0].face == "#c8a165"


def test_touching_labels_and_a_full_page_are_fine():
    table = {"kind": "sheet", "page": [100, 90], "label": [33.3333, 30], "grid": [3, 3], "pitch": [33.3333, 30],
             "origin": [0, 0]}
    assert not parse_stock("full", table)[1]


ODD = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=5),
                st.lists(st.one_of(st.integers(), st.floats(), st.text(max_size=3), st.booleans()), max_size=3))


@given(st.dictionaries(st.sampled_from([*SHEET, "gap", "grib"]), ODD, max_size=6), st.sampled_from([SHEET, ROLL, {}]))
def test_any_table_gives_a_stock_or_findings_and_never_an_exception(change, base):
    stock, findings = parse_stock("odd", {**base, **change})
    assert (stock is None) == bool(findings.errors)
    if stock is not None:
        right = stock.origin_mm[0] + (stock.columns - 1) * stock.pitch_mm[0] + stock.label_mm[0]
        assert right <= stock.page_mm[0] + 0.01
