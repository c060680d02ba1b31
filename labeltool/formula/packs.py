"""[[pack]] and [[contains]] of a formula file: the sizes of one batch with their labels, and what a gift set holds."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final, Literal, cast

from labeltool.finding import Where
from labeltool.formula import vocabulary
from labeltool.formula.container import container_of
from labeltool.formula.model import MARKETS, Contained, Market, Pack, PackLabel, Product
from labeltool.formula.product import parse_gtin
from labeltool.formula.quantities import parse_net, shown
from labeltool.formula.report import Report
from labeltool.formula.schema import CONTAINS, PACK, PACK_LABEL, check_keys
from labeltool.formula.table import Table

FILE: Final = "a formula file"
PLACES = ("container", "outer")
MOST_COUNT = 1000
NAMED = "a letter or digit first, then letters, digits, dots, dashes, pluses and underscores; at most 30"
_NAME = re.compile(r"[^\W_][\w.+-]{0,29}")


def packs_of(top: Table, product: Product | None) -> tuple[Pack, ...]:
    """The packs of a formula, each name once; () where it has one size alone."""
    if top.values.get("pack") == []:
        top.report.error("value.empty-list", "pack is an empty list", top.where("pack"), do="leave it out")
    found = tuple(_pack(table) for table in top.tables("pack"))
    _once(((item.name, item.where) for item in found if item.name), "a pack", top.report)
    _numbers_once(found, top.report)
    if product is not None and found:
        _above(found, product, top)
    return found


def _pack(table: Table) -> Pack:
    check_keys(table, FILE, PACK)
    outer = container_of(table, "outer")
    labels = tuple(_label(item) for item in table.tables("labels"))
    _once(((item.name, item.where) for item in labels if item.name), "a label of the pack", table.report)
    for item in labels:
        if item.on == "outer" and not table.has("outer"):
            table.report.error("pack.outer", f"label {item.name} is on the outer, and the pack has none", item.where,
                               do='write outer = { shape = "box", width = …, depth = …, height = … }')
    numbers = table.parsed("gtin", parse_gtin, "product.gtin")
    return Pack(_name(table) or "", table.parsed("net", parse_net, "value.net"), numbers[0] if numbers else None,
                table.text("mark"), container_of(table), outer, labels, table.where())


def _name(table: Table) -> str | None:
    """A name that stands on a command line after a code and a slash: CODE/30ml:12."""
    if table.need("name") is None:
        return None
    found = table.parsed("name", _fitting, "pack.name")
    return found[0] if found else None


def _fitting(text: str) -> tuple[str] | str:
    return (text,) if _NAME.fullmatch(text) else f"{shown(text)} cannot be typed after a code: {NAMED}"


def _label(table: Table) -> PackLabel:
    check_keys(table, FILE, PACK_LABEL)
    languages = table.words("languages", vocabulary.LANGUAGES, rule="value.language")
    return PackLabel(
        name=_name(table) or "",
        on=cast(Literal["container", "outer"], table.word("on", PLACES) or "container"),
        artwork=table.text("artwork"),
        stock=table.text("stock"),
        markets=cast(tuple[Market, ...], table.words("markets", MARKETS, rule="value.market")) or None,
        languages=languages or None,
        where=table.where(),
    )


def _once(named: Iterable[tuple[str, Where]], what: str, report: Report) -> None:
    seen: set[str] = set()
    for name, where in named:
        if name.casefold() in seen:
            report.error("pack.twice", f"{what} named {shown(name)} stands twice", where, do="give one another name")
        seen.add(name.casefold())


def _numbers_once(packs: Iterable[Pack], report: Report) -> None:
    seen: dict[str, str] = {}
    for item in packs:
        if item.gtin is not None and item.gtin in seen:
            report.error("pack.gtin", f"the packs {seen[item.gtin]} and {item.name} have the same gtin", item.where,
                         do="each size has a number of its own")
        if item.gtin is not None:
            seen.setdefault(item.gtin, item.name)


def _above(packs: tuple[Pack, ...], product: Product, top: Table) -> None:
    """What [product] and [container] say of one size, where every pack says its own, is not read: that is told."""
    unread = [key for key, used in (
        ("net", any(item.net is None for item in packs)), ("gtin", len(packs) == 1 and packs[0].gtin is None))
        if getattr(product, key) is not None and not used]
    if top.has("container") and all(item.container is not None for item in packs):
        unread.append("[container]")
    if unread:
        top.report.note("pack.above", f"{', '.join(unread)} above is no pack's: every pack says its own",
                        product.where, do="leave it out above")


def contains_of(top: Table) -> tuple[Contained, ...]:
    """The products of a gift set; () where the formula is none."""
    found = []
    if top.values.get("contains") == []:
        top.report.error("value.empty-list", "contains is an empty list", top.where("contains"), do="leave it out")
    for table in top.tables("contains"):
        check_keys(table, FILE, CONTAINS)
        found.append(Contained(table.need("formula") or "", table.text("pack") or "", _count(table), table.where()))
    if found and (top.has("ingredient") or top.has("may-contain")):
        top.report.error("set.ingredients", "a formula contains other products or ingredients, not both",
                         top.where("contains"), do="make two files: the product, and the set that holds it")
    seen: set[tuple[str, str]] = set()
    for item in found:
        if (item.formula, item.pack) in seen:
            top.report.error("set.twice", f"{item.formula} stands twice", item.where, do="write count = 2")
        seen.add((item.formula, item.pack))
    return tuple(found)


def _count(table: Table) -> int:
    value = table.values.get("count", 1)
    if isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= MOST_COUNT:
        return value
    table.wrong("count", value, f"a whole number from 1 to {MOST_COUNT}", rule="value.number")
    return 1
