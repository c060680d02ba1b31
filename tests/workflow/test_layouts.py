import re

import pytest

from labeltool.errors import InputError
from labeltool.workflow.layouts import artwork_names, artwork_table, artwork_tables, stock, stocks

BUILT_IN = stocks(None)
MINE = 'kind = "roll"\nlabel = [50, 25]\n'


def margins(item):
    right = item.page_mm[0] - item.origin_mm[0] - (item.columns - 1) * item.pitch_mm[0] - item.label_mm[0]
    foot = item.page_mm[1] - item.origin_mm[1] - (item.rows - 1) * item.pitch_mm[1] - item.label_mm[1]
    return item.origin_mm[0], right, item.origin_mm[1], foot


@pytest.mark.parametrize("name", BUILT_IN)
def test_built_in_labels_are_centred_on_their_page(name):
    left, right, top, foot = margins(BUILT_IN[name])
    assert left == pytest.approx(right, abs=0.101)  # edges are stated to a tenth of a millimetre
    assert top == pytest.approx(foot, abs=0.101)
    if BUILT_IN[name].kind == "sheet":
        assert min(left, top) + BUILT_IN[name].safe_mm >= 6  # no ink where office printers cannot print


@pytest.mark.parametrize("name", BUILT_IN)
def test_built_in_name_says_the_measures(name):
    item = BUILT_IN[name]
    assert item.safe_mm >= 1.5
    width, height = (f"{side:g}" for side in item.label_mm)
    size = f"round-{width}" if item.shape == "round" else f"{width}x{height}"
    assert size in name.replace("oval-", "")
    if item.kind == "sheet":
        paper = {"a4": (210, 297), "letter": (215.9, 279.4)}[name.split("-")[0]]
        assert item.page_mm == paper
        assert f"-{item.columns}x{item.rows}-" in name
    else:
        assert name.endswith(f"-{item.dpi}dpi")
    assert all(word in item.title for word in (width, height))


def test_assortment_serves_small_and_large_containers():
    sheets = [item for item in BUILT_IN.values() if item.kind == "sheet"]
    rolls = [item for item in BUILT_IN.values() if item.kind == "roll"]
    assert len(sheets) >= 10 and len(rolls) >= 6
    assert {item.shape for item in sheets} == {"rectangle", "round", "oval"}
    assert {item.face for item in sheets} == {"white", "clear", "kraft"}
    assert {item.dpi for item in rolls} == {203, 300}
    for name in ("a4-3x8-63.5x33.9", "letter-3x10-66.7x25.4", "roll-57x32-203dpi"):
        assert name in BUILT_IN


def test_names_hold_measures_and_nothing_else():
    shape = r"(?:round-[0-9.]+|(?:oval-)?[0-9.]+x[0-9.]+)"
    pattern = re.compile(rf"(?:(?:a4|letter)-\d+x\d+-{shape}(?:-clear|-kraft)?|roll-(?:\dx-)?{shape}-\d+dpi)")
    assert [name for name in BUILT_IN if not pattern.fullmatch(name)] == []


def workshop(tmp_path, **files):
    folder = tmp_path / "layouts" / "stocks"
    folder.mkdir(parents=True)
    for name, text in files.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return tmp_path


def test_the_makers_own_stock_comes_before_a_built_in_one(tmp_path):
    folder = workshop(tmp_path, **{"mine": MINE, "roll-57x32-203dpi": MINE})
    assert stock("mine", folder).label_mm == (50, 25)
    assert stock("roll-57x32-203dpi", folder).label_mm == (50, 25)
    assert stock("roll-57x32-203dpi", None).label_mm == (57, 32)
    assert set(stocks(folder)) == {"mine", *BUILT_IN}


def test_faulty_file_of_the_maker_is_told_with_its_line(tmp_path):
    folder = workshop(tmp_path, one=MINE + "dpj = 203\n", two='kind = "roll"\nlabel = [50, 25', three=MINE)
    with pytest.raises(InputError) as caught:
        stocks(folder)
    places = {(item.where.file.rsplit("/", 1)[-1], item.where.line) for item in caught.value.findings}
    assert places == {("one.toml", 3), ("two.toml", 2)}
    assert stock("three", folder).label_mm == (50, 25)


@pytest.mark.parametrize("name", ["a4-3x8-63x34", "A4-3X8-63.5X33.9 ", "../stocks/a4-3x8-63.5x33.9", "", "x" * 5000])
def test_unknown_name_is_answered_with_the_nearest(name):
    with pytest.raises(InputError) as caught:
        stock(name, None)
    item = caught.value.findings[0]
    assert item.rule == "stock.unknown"
    if name.startswith("a4"):
        assert "a4-3x8-63.5x33.9" in item.do


def test_artworks_are_found_the_same_way(tmp_path):
    folder = tmp_path / "layouts" / "artwork"
    folder.mkdir(parents=True)
    (folder / "mine.toml").write_text('title = "Mine"\nmodule = 0.4\n', encoding="utf-8")
    assert artwork_table("mine", tmp_path) == {"title": "Mine", "module": 0.4}
    assert "mine" in artwork_names(tmp_path) and "mine" not in artwork_names(None)
    assert artwork_tables(tmp_path)["mine"]["module"] == 0.4
    with pytest.raises(InputError) as caught:
        artwork_table("nine", tmp_path)
    assert "mine" in caught.value.findings[0].do
