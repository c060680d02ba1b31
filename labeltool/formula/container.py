"""[container] and [[may-contain]] of a formula file."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Literal, cast

from labeltool.formula import vocabulary
from labeltool.formula.components import market_names
from labeltool.formula.model import Container, MayContain
from labeltool.formula.quantities import parse_length, shown
from labeltool.formula.schema import check_keys
from labeltool.formula.table import Table

COLOUR = re.compile("#[0-9a-fA-F]{6}")
MOST_MM, MOST_MM2 = Decimal(5000), Decimal(10**7)

_MEASURES = {
    "cylinder": ("diameter", "height"), "box": ("width", "depth", "height"), "pouch": ("width", "height"),
    "other": ("area",),
}
_OPTIONAL = {"other": ("height", "straight"), "cylinder": ("straight",), "box": ("straight",), "pouch": ("straight",)}


def container_of(top: Table, key: str = "container") -> Container | None:
    """The shape and measures of a container or outer, each shape with its own."""
    table = top.table(key)
    if table is None:
        return None
    check_keys(table, "a formula file", "[container]")
    named = table.need("shape", f"one of {', '.join(vocabulary.SHAPES)}")
    shape = table.word("shape", vocabulary.SHAPES) if named else None
    found = {key: _measure(table, key) for key in ("diameter", "width", "depth", "height", "area", "straight")}
    colour = _colour(table)
    if shape is None:
        return None
    _fitting(table, shape)
    _straight(table, found["straight"], found["height"])
    return Container(cast(Literal["cylinder", "box", "pouch", "other"], shape), found["diameter"], found["width"],
                     found["depth"], found["height"], found["area"], found["straight"], colour)


def _measure(table: Table, key: str) -> Decimal | None:
    if key == "area":
        return table.number(key, least=Decimal(0), most=MOST_MM2, above=True)
    return table.number(key, least=Decimal(0), most=MOST_MM, above=True, parse=parse_length)


def _colour(table: Table) -> str | None:
    """The colour that shows through a clear label."""
    text = table.text("colour")
    if text is None or COLOUR.fullmatch(text):
        return text.lower() if text else None
    table.report.error("value.colour", f"colour is {shown(text)}", table.where("colour"),
                       limit='six hex digits, as "#c8a165"')
    return None


def _straight(table: Table, straight: Decimal | None, height: Decimal | None) -> None:
    if straight is not None and height is not None and straight > height:
        table.report.error("container.measure", f"the straight wall of {straight} mm is higher than the container",
                           table.where("straight"), limit=f"at most {height} mm")


def _fitting(table: Table, shape: str) -> None:
    needed = _MEASURES[shape]
    for key in needed:
        if not table.has(key):
            table.report.error("key.missing", f"a container of the shape {shape} needs {key}", table.where(),
                               limit=", ".join(needed), do=f"write {key} in mm" + ("²" if key == "area" else ""))
    for key in ("diameter", "width", "depth", "height", "area", "straight"):
        if table.has(key) and key not in (*needed, *_OPTIONAL.get(shape, ())):
            table.report.error("container.measure", f"a container of the shape {shape} has no {key}",
                               table.where(key), limit=", ".join(needed))


def may_contain_of(top: Table) -> tuple[MayContain, ...]:
    """The colorants that only some batches or shades hold, each once."""
    found: dict[tuple[str, bool], MayContain] = {}
    for table in top.tables("may-contain"):
        check_keys(table, "a formula file", "[[may-contain]]")
        inci, nano = table.need("inci"), table.flag("nano", False)
        if inci is None:
            continue
        key = (inci.casefold(), nano)
        if key in found:
            top.report.error("formula.may-contain", f"{inci} stands twice", table.where("inci"), do="keep one")
        found.setdefault(key, MayContain(inci, nano, market_names(table), table.where("inci")))
    return tuple(found.values())
