"""Artwork files: from a TOML table to an Artwork, with every fault named. The keys are told in docs/layouts.md."""

from __future__ import annotations

import math
import typing
from collections.abc import Mapping
from typing import Any, Literal

from labeltool.finding import Findings
from labeltool.typeset.artmodel import (
    Area,
    Artwork,
    Entry,
    Panel,
    Part,
    Range,
    Split,
    Variant,
    When,
    blocks_of,
    carries,
    panels,
)
from labeltool.typeset.artreader import Reader, key_path
from labeltool.typeset.paras import LOGO
from labeltool.wording.model import BlockName

__all__ = ["Artwork", "carries", "parse_artwork"]

BLOCKS = tuple(name for name in typing.get_args(BlockName) if name != "qr")
PLACED = (*BLOCKS, LOGO)
SHAPES = ("rectangle", "round", "oval")
TOP_KEYS = ("title", "module", "leading", "semibold", "overlap", "logo", "logo-height", "variant")
VARIANT_KEYS = ("for", "ratio", "comfort", "margin", "largest", "big")
WHEN_KEYS = ("shape", "width", "height", "area", "aspect")
GROUPS = ("top", "middle", "flow", "foot")
PANEL_KEYS = (*GROUPS, "align", "flow-columns", "qr", "air", "space", "arc")
SPLIT_KEYS = ("columns", "rows", "rule", "gap")
PART_KEYS = ("mm", "share", "symbol")
KINDS: tuple[Literal["row", "stack", "run"], ...] = ("row", "stack", "run")
ENTRY_KEYS = (*KINDS, "spread")
ARCS = ("name",)  # duty text never stands on a curve
DEEPEST = 6  # areas inside areas
HOMES = {
    **dict.fromkeys(ENTRY_KEYS, "an entry of a group"), **dict.fromkeys(PART_KEYS, "a part of columns or rows"),
    **dict.fromkeys(SPLIT_KEYS, "an area cut into columns or rows"), **dict.fromkeys(PANEL_KEYS, "a panel"),
    **dict.fromkeys(WHEN_KEYS, "for"), **dict.fromkeys(VARIANT_KEYS, "[[variant]]"),
    **dict.fromkeys(TOP_KEYS, "the top of the file"),
}


def parse_artwork(name: str, table: dict[str, Any]) -> tuple[Artwork | None, Findings]:
    """The artwork of a parsed file; None where there is an error. All faults are found at once."""
    reader = Reader(name, HOMES)
    reader.known("", table, TOP_KEYS)
    variants = _variants(reader, table.get("variant"))
    title = table.get("title", name)
    if not isinstance(title, str):
        reader.complain("title", f"{title!r} is no text", "a line of text")
    artwork = Artwork(
        name, str(title), variants,
        _pair(reader, table, "module", 0.25, 2.0, (0.33, 0.39)),
        _pair(reader, table, "leading", 1.0, 2.0, (1.15, 1.25)),
        reader.texts("semibold", table.get("semibold", ["brand", "name", "net", "mark"]), BLOCKS),
        reader.number("overlap", table.get("overlap", 0), 0, 30, 0),
        _logo_file(reader, table.get("logo")),
        reader.number("logo-height", table.get("logo-height", 8), 2, 100, 8),
    )
    _check_sets(reader, variants)
    if (LOGO in carries(artwork) if variants else False) != ("logo" in table):
        reader.complain("logo", "a logo without a place, or a place without a logo", "both or none",
                        'write logo = "FILE.svg", and "logo" into a group of every variant')
    found = Findings(tuple(reader.findings))
    return (None if found.errors else artwork), found


def _logo_file(reader: Reader, value: Any) -> str | None:
    if value is None:
        return None
    plain = isinstance(value, str) and value and not set(value) & set("/\\:") and value[0] != "."
    if not plain:
        reader.complain("logo", f"{value!r} is no file name", "the name of an SVG or PNG beside this file")
    return value if plain else None


def _pair(reader: Reader, table: Mapping[str, Any], key: str, low: float, high: float, default: Range) -> Range:
    first, last = reader.numbers(key, table.get(key, list(default)), 2, low, high, default)
    return first, last


def _variants(reader: Reader, value: Any) -> tuple[Variant, ...]:
    if not isinstance(value, list) or not value:
        reader.complain("variant", "no arrangement is given", "at least one [[variant]]", "add one with its groups")
        return ()
    return tuple(_variant(reader, f"variant[{index}]", item) for index, item in enumerate(value, 1))


def _variant(reader: Reader, place: str, value: Any) -> Variant:
    table = reader.table(place, value)
    area = _area(reader, place, {key: item for key, item in table.items() if key not in VARIANT_KEYS}, VARIANT_KEYS)
    ratio = reader.numbers(key_path(place, "ratio"), table.get("ratio", [1.8, 2.2, 3]), 3, 1.8, 3, (1.8, 2.2, 3.0))
    comfort = reader.number(key_path(place, "comfort"), table.get("comfort", 1.2), 0.5, 2.2, 1.2)
    margin = reader.number(key_path(place, "margin"), table.get("margin", 1), 0, 10, 1)
    when = _when(reader, key_path(place, "for"), table.get("for", {}))
    largest = reader.number(key_path(place, "largest"), table.get("largest", 2.2), 0.9, 2.2, 2.2)
    big = reader.texts(key_path(place, "big"), table.get("big", ["name"]), BLOCKS)
    return Variant(area, when, (ratio[0], ratio[1], ratio[2]), comfort, margin, largest, big)


def _when(reader: Reader, place: str, value: Any) -> When:
    table = reader.table(place, value)
    reader.known(place, table, WHEN_KEYS)
    shapes = reader.texts(key_path(place, "shape"), table.get("shape", list(SHAPES)), SHAPES)
    ranges = {}
    for key in WHEN_KEYS[1:]:
        if key in table:
            low, high = reader.numbers(key_path(place, key), table[key], 2, 0, 1e6, (0.0, math.inf))
            ranges[key] = (low, high)
    return When(shapes, **ranges)


def _area(reader: Reader, place: str, table: Mapping[str, Any], also: tuple[str, ...]) -> Area:
    """A split or a panel; `also`: keys that belong to the table around it."""
    if place.count("[") > DEEPEST:
        reader.complain(place, "too many areas inside each other", f"at most {DEEPEST}")
        return Panel()
    cut = [key for key in ("columns", "rows") if key in table]
    keys = SPLIT_KEYS if cut else PANEL_KEYS
    reader.known(place, table, keys + tuple(key for key in also if key not in keys))
    if len(cut) == 2:
        reader.complain(place, "columns and rows in one area", "one of them", "put the rows inside a column")
    return _split(reader, place, table, cut[0]) if cut else _panel(reader, place, table)


def _split(reader: Reader, place: str, table: Mapping[str, Any], direction: str) -> Split:
    value = table[direction]
    if not isinstance(value, list) or len(value) < 2:
        reader.complain(key_path(place, direction), f"{value!r} is not allowed", "a list of at least two areas")
        value = []
    parts = tuple(_part(reader, f"{key_path(place, direction)}[{index}]", item) for index, item in enumerate(value, 1))
    rule = reader.choice(key_path(place, "rule"), table.get("rule", False), (True, False), False)
    gap = reader.number(key_path(place, "gap"), table.get("gap", 3), 1, 20, 3)
    return Split("columns" if direction == "columns" else "rows", parts, rule, gap)


def _part(reader: Reader, place: str, value: Any) -> Part:
    table = reader.table(place, value)
    given = [key for key in PART_KEYS if key in table]
    if len(given) > 1:
        reader.complain(place, f"{' and '.join(given)} together", "one of mm, share, symbol")
    area = _area(reader, place, {key: item for key, item in table.items() if key not in PART_KEYS}, PART_KEYS)
    unit = given[0] if given else "share"
    if unit == "symbol":
        reader.choice(key_path(place, unit), table[unit], (True,), True)
        return Part(area, "symbol")
    size = reader.number(key_path(place, unit), table.get(unit, 1), 0.01, 1000, 1)
    return Part(area, "mm" if unit == "mm" else "share", size)


def _panel(reader: Reader, place: str, table: Mapping[str, Any]) -> Panel:
    groups = {key: _entries(reader, key_path(place, key), table.get(key, [])) for key in GROUPS}
    low, high = reader.numbers(key_path(place, "flow-columns"), table.get("flow-columns", [1, 1]), 2, 1, 6, (1, 1))
    corners = ("bottom-right", "bottom-left", "bottom-centre")
    return Panel(
        **groups,
        align=reader.choice(key_path(place, "align"), table.get("align", "left"), ("left", "centre"), "left"),
        columns=(int(low), int(high)),
        qr=reader.choice(key_path(place, "qr"), table["qr"], corners, None) if "qr" in table else None,
        air=reader.number(key_path(place, "air"), table.get("air", 0.5), 0.5, 10, 0.5),
        space=int(reader.number(key_path(place, "space"), table.get("space", 1), 1, 6, 1)),
        arc=reader.choice(key_path(place, "arc"), table["arc"], ARCS, None) if "arc" in table else None,
    )


def _entries(reader: Reader, place: str, value: Any) -> tuple[Entry, ...]:
    if not isinstance(value, list):
        reader.complain(place, f"{value!r} is no list", "a list of blocks, rows and stacks")
        return ()
    return tuple(_entry(reader, place, item) for item in value)


def _entry(reader: Reader, place: str, value: Any) -> Entry:
    if not isinstance(value, Mapping):
        return Entry((reader.choice(place, value, PLACED, BLOCKS[0]),))
    reader.known(place, value, ENTRY_KEYS)
    kinds = [kind for kind in KINDS if kind in value]
    if len(kinds) != 1:
        reader.complain(place, "which of row, stack and run it is does not show", "one of row, stack, run")
        return Entry(())
    kind = kinds[0]
    spread = reader.choice(key_path(place, "spread"), value.get("spread", False), (True, False), False)
    return Entry(reader.texts(key_path(place, kind), value[kind], PLACED), kind, spread)


def _check_sets(reader: Reader, variants: tuple[Variant, ...]) -> None:
    """Every variant carries the same blocks, each once, so that what an artwork prints does not depend on the label."""
    for index, variant in enumerate(variants, 1):
        place = f"variant[{index}]"
        names = [name for panel in panels(variant.area) for entry in panel.entries for name in entry.names]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            reader.complain(place, f"has a place twice for: {', '.join(twice)}", "each block once")
        odd = blocks_of(variant) ^ blocks_of(variants[0])
        if odd:
            reader.complain(place, f"not the blocks of the first variant: {', '.join(sorted(odd))}",
                            "the same blocks in every variant")
        if any(panel.middle and panel.flow for panel in panels(variant.area)):
            reader.complain(place, "a middle group and flowing text in one panel", "one of middle, flow")
        _check_arc(reader, place, variant)


def _check_arc(reader: Reader, place: str, variant: Variant) -> None:
    """A name on a circle needs a round label of its own, and only a middle group inside."""
    for panel in panels(variant.area):
        if panel.arc is None:
            continue
        if variant.when.shapes != ("round",) or panel is not variant.area:
            reader.complain(f"{place}.arc", "the label is not surely one round panel", 'for = { shape = ["round"] }',
                            "give round labels a variant of their own, without columns and rows")
        if panel.top or panel.flow or panel.foot or not panel.middle:
            reader.complain(f"{place}.arc", "inside an arc stands something else than a middle group", "middle alone")
