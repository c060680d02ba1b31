"""A stock's table as a value, or every fault of it: docs/stocks.md tells the keys."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Literal, cast

from labeltool.finding import Findings
from labeltool.stock.geometry import faults
from labeltool.stock.model import Medium, Shape, Stock
from labeltool.stock.reading import Reader

KEYS = ("title", "kind", "page", "label", "shape", "corner", "grid", "origin", "pitch", "gap", "safe", "face",
        "print", "dpi", "marks", "overlap")
GEOMETRY = {"kind", "page", "label", "shape", "corner", "grid", "origin", "pitch", "gap", "safe"}
KINDS = ("sheet", "roll")
SHAPES = ("rectangle", "round", "oval")
MEDIA = ("laser", "inkjet", "thermal-transfer", "direct-thermal")
MARKS = ("none", "cut")
FACES = ("white", "clear", "kraft")
LEAST_LABEL_MM = 5.0
MOST_LABELS_A_SIDE = 200
_COLOUR = re.compile("#[0-9a-fA-F]{6}")


def parse_stock(name: str, table: Mapping[str, Any]) -> tuple[Stock | None, Findings]:
    """The stock that a TOML table describes (lengths in mm), or None; with all findings of the table at once.

    Left out: title is the name; shape rectangle, corner 0, grid [1, 1], safe 1.5, face white; print laser on sheets and
    direct-thermal on rolls; dpi 600, on thermal stock 203; gap of a roll 3; origin of a roll [0, 0].
    """
    reader = Reader(name, table)
    reader.known(KEYS)
    kind = reader.word("kind", KINDS, "sheet")
    stock = _sheet(reader, name) if kind == "sheet" else _roll(reader, name)
    if not {item.where.key for item in reader.findings} & GEOMETRY:
        for key, rule, text, limit in faults(stock):
            reader.complain(key, text, rule=rule, limit=limit)
    return (None if reader.findings else stock), Findings(tuple(reader.findings))


def _sheet(reader: Reader, name: str) -> Stock:
    reader.needed(("kind", "page", "label", "origin"))
    _not_here(reader, "gap", "rolls")
    columns, rows = reader.counts("grid", (1, 1), MOST_LABELS_A_SIDE)
    label = _label(reader)
    if (columns, rows) != (1, 1):
        reader.needed(("pitch",))
    pitch = reader.pair("pitch", label, least=0.1) if "pitch" in reader.table else label
    return _stock(
        reader, name, "sheet", page=_given(reader, "page", (210.0, 297.0), 20.0), label=label, grid=(columns, rows),
        origin=_given(reader, "origin", (0.0, 0.0), 0.0), pitch=pitch, gap=0.0,
    )


def _roll(reader: Reader, name: str) -> Stock:
    reader.needed(("label",))
    _not_here(reader, "page", "sheets")
    columns, rows = reader.counts("grid", (1, 1), MOST_LABELS_A_SIDE)
    if rows != 1:
        reader.complain("grid", f"grid is [{columns}, {rows}]", limit="[across, 1] on a roll: a page is one row across")
    label = _label(reader)
    gap = reader.length("gap", 3.0)
    left, top = reader.pair("origin", (0.0, 0.0))
    if top:
        reader.complain("origin", f"origin is [{left:g}, {top:g}]",
                        limit="[left, 0] on a roll: a page begins with its label")
    across = _across(reader, columns, label[0])
    return _stock(
        reader, name, "roll", page=(round(2 * left + (columns - 1) * across + label[0], 6), label[1]), label=label,
        grid=(columns, 1), origin=(left, 0.0), pitch=(across, label[1] + gap), gap=gap,
    )


def _stock(
    reader: Reader, name: str, kind: Literal["sheet", "roll"], *, page: tuple[float, float], label: tuple[float, float],
    grid: tuple[int, int], origin: tuple[float, float], pitch: tuple[float, float], gap: float,
) -> Stock:
    marks = reader.word("marks", MARKS, "none")
    if "overlap" in reader.table and marks != "cut":
        reader.complain("overlap", "overlap is of labels that are cut", rule="stock.key", do='say marks = "cut"')
    if marks == "cut" and reader.table.get("shape", "rectangle") != "rectangle":
        reader.complain("marks", "only rectangles are cut along marks", rule="stock.key", do="leave shape out")
    medium = reader.word("print", MEDIA, "laser" if kind == "sheet" else "direct-thermal")
    return Stock(
        name=name, title=reader.text("title", name), kind=kind, page_mm=page, label_mm=label,
        shape=cast(Shape, reader.word("shape", SHAPES, "rectangle")), corner_mm=reader.length("corner", 0.0),
        columns=grid[0], rows=grid[1], origin_mm=origin, pitch_mm=pitch, gap_mm=gap,
        safe_mm=reader.length("safe", 1.5), face=_face(reader), medium=cast(Medium, medium),
        dpi=reader.whole("dpi", 203 if "thermal" in medium else 600, 100, 4800),
        marks=cast(Literal["none", "cut"], marks), overlap_mm=reader.length("overlap", 0.0),
    )


def _label(reader: Reader) -> tuple[float, float]:
    return _given(reader, "label", (50.0, 50.0), LEAST_LABEL_MM)


def _given(reader: Reader, key: str, fallback: tuple[float, float], least: float) -> tuple[float, float]:
    return reader.pair(key, fallback, least=least) if key in reader.table else fallback


def _across(reader: Reader, columns: int, width: float) -> float:
    """A roll's pitch: one number, or a pair whose second is not needed."""
    if columns > 1:
        reader.needed(("pitch",))
    if "pitch" not in reader.table:
        return width
    if isinstance(reader.table["pitch"], list | tuple):
        return reader.pair("pitch", (width, 0.0))[0]
    return reader.length("pitch", width, least=0.1)


def _face(reader: Reader) -> str:
    value = reader.table.get("face", "white")
    if isinstance(value, str) and _COLOUR.fullmatch(value):
        return value.lower()
    if isinstance(value, str) and value in FACES:
        return value
    return reader.word("face", (*FACES, "#rrggbb"), "white")


def _not_here(reader: Reader, key: str, kind: str) -> None:
    if key in reader.table:
        reader.complain(key, f"{key} stands on {kind} only", rule="stock.key",
                        do=f"delete {key}, or say kind = \"{kind[:-1]}\"")
