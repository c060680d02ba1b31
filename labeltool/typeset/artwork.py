"""Artwork files: from a TOML table to an Artwork, with every fault named. The keys are told in docs/layouts.md."""

from __future__ import annotations

import difflib
import math
import typing
from collections.abc import Mapping
from typing import Any, Literal

from labeltool.finding import Finding, Findings, Where
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
)
from labeltool.wording.model import BlockName

__all__ = ["Artwork", "carries", "parse_artwork"]

BLOCKS = tuple(name for name in typing.get_args(BlockName) if name != "qr")
SHAPES = ("rectangle", "round", "oval")
TOP_KEYS = ("title", "module", "leading", "semibold", "overlap", "wrap", "variant")
VARIANT_KEYS = ("for", "ratio", "comfort", "margin", "largest")
WHEN_KEYS = ("shape", "width", "height", "area", "aspect")
PANEL_KEYS = ("top", "middle", "flow", "foot", "align", "flow-columns", "qr", "air", "space")
SPLIT_KEYS = ("columns", "rows", "rule", "gap")
PART_KEYS = ("mm", "share", "symbol")
KINDS: tuple[Literal["row", "stack", "run"], ...] = ("row", "stack", "run")
ENTRY_KEYS = (*KINDS, "spread")


class _Reader:
    """Reads tables and collects findings; every method gives a usable value even where it complains."""

    def __init__(self, name: str) -> None:
        self.file = f"{name}.toml"
        self.findings: list[Finding] = []

    def complain(self, key: str, text: str, limit: str, do: str | None = None) -> None:
        where = Where(self.file, key=key)
        self.findings.append(Finding("artwork.file", "error", f"{key}: {text}", where, limit=limit, do=do))

    def known(self, place: str, table: Mapping[str, Any], keys: tuple[str, ...]) -> None:
        for key in table:
            if key not in keys:
                near = difflib.get_close_matches(str(key), keys, 1, 0.5)
                hint = f"did you mean {near[0]}?" if near else "delete it"
                self.complain(_path(place, key), "unknown key", ", ".join(keys), hint)

    def table(self, place: str, value: Any) -> Mapping[str, Any]:
        if isinstance(value, Mapping):
            return value
        self.complain(place, f"{value!r} is no table", "a table of keys")
        return {}

    def number(self, place: str, value: Any, low: float, high: float, default: float) -> float:
        sound = isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)
        if sound and low <= value <= high:
            return float(value)
        self.complain(place, f"{value!r} is not allowed", f"a number from {low:g} to {high:g}")
        return default

    def numbers(
        self, place: str, value: Any, count: int, low: float, high: float, default: tuple[float, ...],
    ) -> tuple[float, ...]:
        if not isinstance(value, list) or len(value) != count:
            self.complain(place, f"{value!r} is not allowed", f"a list of {count} numbers")
            return default
        found = tuple(self.number(place, item, low, high, default[0]) for item in value)
        if list(found) != sorted(found):
            self.complain(place, f"{value!r} does not rise", "the lower figure first")
            return default
        return found

    def choice(self, place: str, value: Any, allowed: tuple[Any, ...], default: Any) -> Any:
        if isinstance(value, str | bool) and value in allowed:
            return value
        near = difflib.get_close_matches(str(value), [str(item) for item in allowed], 1, 0.5)
        limit = ", ".join(str(item).lower() if isinstance(item, bool) else str(item) for item in allowed)
        self.complain(place, f"{value!r} is not allowed", limit, f"did you mean {near[0]}?" if near else None)
        return default

    def texts(self, place: str, value: Any, allowed: tuple[str, ...]) -> tuple[str, ...]:
        if not isinstance(value, list):
            self.complain(place, f"{value!r} is no list", f"a list of: {', '.join(allowed)}")
            return ()
        return tuple(found for item in value if (found := self.choice(place, item, allowed, "")))


def _path(place: str, key: object) -> str:
    return f"{place}.{key}" if place else str(key)


def parse_artwork(name: str, table: dict[str, Any]) -> tuple[Artwork | None, Findings]:
    """The artwork of a parsed file; None where there is an error. All faults are found at once."""
    reader = _Reader(name)
    reader.known("", table, TOP_KEYS)
    variants = _variants(reader, table.get("variant"))
    artwork = Artwork(
        name, str(table.get("title", name)), variants,
        _pair(reader, table, "module", 0.25, 2.0, (0.33, 0.39)),
        _pair(reader, table, "leading", 1.0, 2.0, (1.15, 1.25)),
        reader.texts("semibold", table.get("semibold", ["brand", "name", "net"]), BLOCKS),
        reader.number("overlap", table.get("overlap", 0), 0, 30, 0),
        reader.choice("wrap", table.get("wrap", False), (True, False), False),
    )
    _check_sets(reader, variants)
    found = Findings(tuple(reader.findings))
    return (None if found.errors else artwork), found


def _pair(reader: _Reader, table: Mapping[str, Any], key: str, low: float, high: float, default: Range) -> Range:
    first, last = reader.numbers(key, table.get(key, list(default)), 2, low, high, default)
    return first, last


def _variants(reader: _Reader, value: Any) -> tuple[Variant, ...]:
    if not isinstance(value, list) or not value:
        reader.complain("variant", "no arrangement is given", "at least one [[variant]]", "add one with its groups")
        return ()
    return tuple(_variant(reader, f"variant[{index}]", item) for index, item in enumerate(value, 1))


def _variant(reader: _Reader, place: str, value: Any) -> Variant:
    table = reader.table(place, value)
    area = _area(reader, place, {key: item for key, item in table.items() if key not in VARIANT_KEYS}, VARIANT_KEYS)
    ratio = reader.numbers(_path(place, "ratio"), table.get("ratio", [1.8, 2.2, 3]), 3, 1.8, 3, (1.8, 2.2, 3.0))
    comfort = reader.number(_path(place, "comfort"), table.get("comfort", 1.2), 0.5, 2.2, 1.2)
    margin = reader.number(_path(place, "margin"), table.get("margin", 1), 0, 10, 1)
    when = _when(reader, _path(place, "for"), table.get("for", {}))
    largest = reader.number(_path(place, "largest"), table.get("largest", 2.2), 0.9, 2.2, 2.2)
    return Variant(area, when, (ratio[0], ratio[1], ratio[2]), comfort, margin, largest)


def _when(reader: _Reader, place: str, value: Any) -> When:
    table = reader.table(place, value)
    reader.known(place, table, WHEN_KEYS)
    shapes = reader.texts(_path(place, "shape"), table.get("shape", list(SHAPES)), SHAPES)
    ranges = {}
    for key in WHEN_KEYS[1:]:
        if key in table:
            low, high = reader.numbers(_path(place, key), table[key], 2, 0, 1e6, (0.0, math.inf))
            ranges[key] = (low, high)
    return When(shapes, **ranges)


def _area(reader: _Reader, place: str, table: Mapping[str, Any], also: tuple[str, ...]) -> Area:
    """A split or a panel; `also`: keys that belong to the table around it."""
    cut = [key for key in ("columns", "rows") if key in table]
    keys = SPLIT_KEYS if cut else PANEL_KEYS
    reader.known(place, table, keys + tuple(key for key in also if key not in keys))
    if len(cut) == 2:
        reader.complain(place, "columns and rows in one area", "one of them", "put the rows inside a column")
    return _split(reader, place, table, cut[0]) if cut else _panel(reader, place, table)


def _split(reader: _Reader, place: str, table: Mapping[str, Any], direction: str) -> Split:
    value = table[direction]
    if not isinstance(value, list) or len(value) < 2:
        reader.complain(_path(place, direction), f"{value!r} is not allowed", "a list of at least two areas")
        value = []
    parts = tuple(_part(reader, f"{_path(place, direction)}[{index}]", item) for index, item in enumerate(value, 1))
    rule = reader.choice(_path(place, "rule"), table.get("rule", False), (True, False), False)
    gap = reader.number(_path(place, "gap"), table.get("gap", 3), 1, 20, 3)
    return Split("columns" if direction == "columns" else "rows", parts, rule, gap)


def _part(reader: _Reader, place: str, value: Any) -> Part:
    table = reader.table(place, value)
    given = [key for key in PART_KEYS if key in table]
    if len(given) > 1:
        reader.complain(place, f"{' and '.join(given)} together", "one of mm, share, symbol")
    area = _area(reader, place, {key: item for key, item in table.items() if key not in PART_KEYS}, PART_KEYS)
    unit = given[0] if given else "share"
    if unit == "symbol":
        reader.choice(_path(place, unit), table[unit], (True,), True)
        return Part(area, "symbol")
    size = reader.number(_path(place, unit), table.get(unit, 1), 0.01, 1000, 1)
    return Part(area, "mm" if unit == "mm" else "share", size)


def _panel(reader: _Reader, place: str, table: Mapping[str, Any]) -> Panel:
    groups = {key: _entries(reader, _path(place, key), table.get(key, [])) for key in ("top", "middle", "flow", "foot")}
    low, high = reader.numbers(_path(place, "flow-columns"), table.get("flow-columns", [1, 1]), 2, 1, 6, (1, 1))
    corners = ("bottom-right", "bottom-left", "bottom-centre")
    return Panel(
        **groups,
        align=reader.choice(_path(place, "align"), table.get("align", "left"), ("left", "centre"), "left"),
        columns=(int(low), int(high)),
        qr=reader.choice(_path(place, "qr"), table["qr"], corners, None) if "qr" in table else None,
        air=reader.number(_path(place, "air"), table.get("air", 0.5), 0.5, 10, 0.5),
        space=int(reader.number(_path(place, "space"), table.get("space", 1), 1, 6, 1)),
    )


def _entries(reader: _Reader, place: str, value: Any) -> tuple[Entry, ...]:
    if not isinstance(value, list):
        reader.complain(place, f"{value!r} is no list", "a list of blocks, rows and stacks")
        return ()
    return tuple(_entry(reader, place, item) for item in value)


def _entry(reader: _Reader, place: str, value: Any) -> Entry:
    if not isinstance(value, Mapping):
        return Entry((reader.choice(place, value, BLOCKS, BLOCKS[0]),))
    reader.known(place, value, ENTRY_KEYS)
    kinds = [kind for kind in KINDS if kind in value]
    if len(kinds) != 1:
        reader.complain(place, "which of row, stack and run it is does not show", "one of row, stack, run")
        return Entry(())
    kind = kinds[0]
    spread = reader.choice(_path(place, "spread"), value.get("spread", False), (True, False), False)
    return Entry(reader.texts(_path(place, kind), value[kind], BLOCKS), kind, spread)


def _check_sets(reader: _Reader, variants: tuple[Variant, ...]) -> None:
    """Every variant carries the same blocks, each once, so that what an artwork prints does not depend on the label."""
    for index, variant in enumerate(variants[1:], 2):
        odd = blocks_of(variant) ^ blocks_of(variants[0])
        if odd:
            said = f"not the blocks of the first variant: {', '.join(sorted(odd))}"
            reader.complain(f"variant[{index}]", said, "the same blocks in every variant")
