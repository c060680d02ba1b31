import re
from pathlib import Path

from labeltool.stock.parse import KEYS, parse_stock
from labeltool.workflow.layouts import stocks

PAGE = (Path(__file__).parents[2] / "docs" / "stocks.md").read_text(encoding="utf-8")


def rows(heading):
    """The cells of the table under a heading."""
    part = PAGE.split(f"## {heading}\n")[1].split("\n## ")[0]
    lines = [line for line in part.splitlines() if line.startswith("| `")]
    return [[cell.strip() for cell in line.strip("|").split(" | ")] for line in lines]


def test_page_tells_every_key_and_no_other():
    assert [row[0].strip("` |") for row in rows("Keys")] == list(KEYS)


def test_page_lists_every_built_in_stock_with_its_measures():
    listed = {row[0].strip("` |"): row for row in rows("Built-in stocks")}
    assert set(listed) == set(stocks(None))
    for name, item in stocks(None).items():
        assert listed[name][1] == f"{item.label_mm[0]:g} × {item.label_mm[1]:g}"
        assert listed[name][2] == item.shape
        assert listed[name][3] == (str(item.per_page) if item.kind == "sheet" else "-")
        assert listed[name][4] == f"{item.medium}, {item.dpi} dpi"


def test_page_says_what_keys_are_when_left_out():
    sheet = parse_stock("x", {"kind": "sheet", "page": [100, 100], "label": [50, 50], "origin": [0, 0]})[0]
    told = {row[0].strip("` |"): row[2] for row in rows("Keys")}
    assert told["safe"].startswith(f"{sheet.safe_mm:g}")
    assert sheet.medium in told["print"] and str(sheet.dpi) in told["dpi"]
    assert re.search(rf"\b{sheet.corner_mm:g}\b", told["corner"])
