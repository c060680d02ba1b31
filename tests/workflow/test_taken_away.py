"""Any one element taken away from any label of the demo is found by the audit, or shown to stand on another label."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from cli_runs import Shop
from demo_labels import CODE, DAY, DEMO

from labeltool.formula.load import load
from labeltool.formula.model import Pack
from labeltool.formula.sizes import sizes
from labeltool.rules.model import Element
from labeltool.wording.audit import Standing, over_set
from labeltool.workflow.auditing import standings, surfaces_of
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.packs import set_of
from labeltool.workflow.planning import pattern_of
from labeltool.workflow.prepare import Judge
from labeltool.workflow.words import mark_batch

MARKETS = (("UK",), ("EU",), ("UK", "EU"), ("US",), ("CA",), ("UK", "EU", "US", "CA"))
Case = tuple[Pack, tuple[Standing, ...]]


def packs_of(path: Path, markets: tuple[str, ...]) -> Iterator[Case]:
    """The packs of a demo formula that have labels, with their labels as they stand for these markets."""
    loaded, _ = load(path, workshop=DEMO, env={}, cwd=DEMO)
    assert loaded is not None
    inputs = Inputs(loaded.workshop, loaded.formula, tuple(sorted(dict(loaded.materials).items())), loaded.made_here)
    languages = ("en", "fr") if "CA" in markets else ("en",)
    call = PrintCall(markets=markets, languages=languages)  # type: ignore[arg-type]
    for pack in sizes(loaded.formula):
        if pack.labels:
            aims = set_of(inputs, pack, call, DEMO)
            yield pack, standings(aims, Judge(DAY), lambda one: mark_batch(one, CODE, "K3", DAY)[0],
                                  pattern_of(inputs), DEMO)


def without(labels: tuple[Standing, ...], name: str, block: str) -> tuple[Standing, ...]:
    return tuple(replace(item, carries=item.carries - {block}) if item.name == name else item for item in labels)


def key(row: Element) -> tuple[str, str, str | None, str]:
    return row.element, row.market, row.on, row.source.replace("(2)", "(1)(d)")


def told(row: Element, name: str, others: set[str]) -> bool:
    """Whether a row says what became of an element that a label lost."""
    if row.state in ("missing", "maker"):
        return True
    elsewhere = set(row.labels) - {name} or {other for other in others if f"({other}" in row.text}
    return bool(elsewhere)


CASES = [
    pytest.param(path, markets, id=f"{path.stem}-{'+'.join(markets)}")
    for path in sorted((DEMO / "formulas").glob("*.toml")) if "[[pack]]" in path.read_text(encoding="utf-8")
    for markets in MARKETS
]


@pytest.mark.parametrize(("path", "markets"), CASES)
def test_every_element_taken_from_any_label_is_found_or_stands_on_another(path, markets):
    taken = 0
    for pack, labels in packs_of(path, markets):
        surfaces = surfaces_of(pack)
        before = over_set(labels, surfaces)
        for item in labels:
            others = {other.name for other in labels} - {item.name}
            for block in sorted(item.carries):
                after = over_set(without(labels, item.name, block), surfaces)
                for old, new in zip(before, after, strict=True):
                    assert key(old) == key(new)
                    if old.block == block and item.name in old.labels:
                        taken += 1
                        assert item.name not in new.labels
                        assert told(new, item.name, others), (pack.name, item.name, block, new)
                    elif block != "leaflet":  # the symbol decides what precautions on the outer alone are
                        assert old == new or old.block == block
    assert taken >= 25


@pytest.mark.parametrize("path", sorted((DEMO / "formulas").glob("*.toml")), ids=lambda path: path.stem)
def test_no_pack_of_the_demo_lacks_anything_where_it_is_sold(path):
    for pack, labels in packs_of(path, ("UK",)):
        rows = over_set(labels, surfaces_of(pack))
        assert [row for row in rows if row.state == "missing"] == []


ARTWORK = """\
[[variant]]
align = "left"
flow = [{ row = ["name", "brand", "function", "net"] }, "mark", "directions", "warnings", "ingredients"]
foot = [{ run = ["responsible", "origin", "contact"] }, { stack = ["code", "date", "opening", "leaflet"] }]
flow-columns = [1, 3]
qr = "bottom-right"
"""


@pytest.mark.parametrize(("block", "element"), [
    ("warnings", "precautions"), ("ingredients", "ingredients"), ("code", "batch code"), ("date", "durability"),
    ("responsible", "responsible person"),
])
def test_check_itself_finds_what_an_artwork_lost(tmp_path, block, element):
    shop = Shop(tmp_path / "demo", dt.date(2026, 11, 20))
    for path in DEMO.rglob("*.toml"):
        shop.write(str(path.relative_to(DEMO)), path.read_bytes())
    shop.write("formulas/mint-shampoo-bar.csv", (DEMO / "formulas" / "mint-shampoo-bar.csv").read_bytes())
    shop.write("layouts/artwork/back.toml", ARTWORK.replace(f', "{block}"', "").replace(f'"{block}", ', ""))
    ran = shop.run("check", "lactic-night-serum", "--pack", "50ml", "--json")
    states = {row["element"]: row["state"] for row in ran.json["elements"]}
    assert ran.code == 1 and states[element] == "missing"
    assert [name for name, state in states.items() if state == "missing"] == [element]
