"""The components of a material: what it is made of, what it is declared as, what it contains."""

from __future__ import annotations

from decimal import Decimal

from labeltool.finding import Where
from labeltool.formula import vocabulary
from labeltool.formula.model import MARKETS, Allergen, Component, Span
from labeltool.formula.quantities import parse_percent, plain, shown
from labeltool.formula.report import Report
from labeltool.formula.schema import COMPONENT, check_keys
from labeltool.formula.table import Table
from labeltool.formula.values import fold

ZERO, HUNDRED = Decimal(0), Decimal(100)
WHOLE = Span(HUNDRED, HUNDRED)


def components(material: Table, key: str) -> tuple[Component, ...]:
    """The components of `made-of` or `as-made`; they can sum to 100 %, or the fault is reported."""
    count = material.report.count
    tables = material.tables(key)
    if material.values.get(key) == []:
        material.report.error("material.empty", f"{key} is an empty list", material.where(key),
                              do="name its components")
    found = [item for table in tables if (item := _listed(table, alone=len(tables) == 1))]
    _once_each(material, found)
    if found and not material.report.failed_since(count):
        _can_be_whole(material, key, found)
    return tuple(found)


def only_component(material: Table) -> tuple[Component, ...]:
    """The one component of a material in the short form `inci = …`."""
    found = _component(material, WHOLE)
    return (found,) if found else ()


def _listed(table: Table, *, alone: bool) -> Component | None:
    check_keys(table, "materials.toml", COMPONENT)
    if not table.has("percent"):
        if not alone:
            table.report.error("material.percent", f"{shown(table.values.get('inci', ''))} has no percent",
                               table.where(), limit="a number, or [low, high]",
                               do="say how much of the material it is")
        return _component(table, WHOLE)
    span = table.span("percent", least=ZERO, most=HUNDRED, parse=parse_percent)
    if span is not None and span.high == 0:
        table.report.error("value.range", "percent is 0", table.where("percent"), do="leave the component out")
    return _component(table, span or WHOLE)


def _component(table: Table, percent: Span) -> Component | None:
    inci = table.need("inci")
    if inci is None:
        return None
    return Component(
        inci=inci,
        percent=percent,
        nano=table.flag("nano", False),
        names=market_names(table),
        colorant=_colorant(table),
        purpose=purpose(table),
        where=table.where("inci"),
    )


def market_names(table: Table) -> tuple[tuple[str, str], ...]:
    """A market's own names: { US = "Water" } as (market, name) pairs."""
    inner = table.table("names")
    if inner is None:
        return ()
    for key in inner.values:
        if key not in MARKETS:
            inner.report.error("key.unknown", f"{shown(key)} is no market", inner.where(key),
                               limit=", ".join(MARKETS), do=inner.report.did_you_mean(key, MARKETS))
    return tuple((key, name) for key in inner.values if key in MARKETS and (name := inner.text(key)))


def _colorant(table: Table) -> bool | tuple[str, ...] | None:
    value = table.values.get("colorant")
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, list):
        return table.words("colorant", MARKETS, rule="value.market")
    table.wrong("colorant", value, 'true, false, or a list of markets: ["US"]')
    return None


def purpose(table: Table) -> str | None:
    """A purpose; one that the rules do not know is said so, and kept."""
    word = table.text("purpose")
    return word if word is None else known_purpose(word, table.where("purpose"), table.report)


def known_purpose(word: str, where: Where, report: Report) -> str:
    """The purpose in the rules' spelling; a word they do not know warns where it is near one, else is noted."""
    folded = word.lower().replace(" ", "-")
    if folded in vocabulary.PURPOSES:
        return folded
    do = report.did_you_mean(word, vocabulary.PURPOSES)
    tell = report.warning if do else report.note
    tell("value.purpose", f"purpose {shown(word)} decides nothing: the rules do not know it", where,
         limit=", ".join(vocabulary.PURPOSES), do=do)
    return word


def _once_each(material: Table, found: list[Component]) -> None:
    seen: set[tuple[str, bool]] = set()
    for item in found:
        key = (item.inci.casefold(), item.nano)
        if key in seen:
            material.report.error("material.twice", f"{item.inci} stands twice in {material.path[-1]}", item.where,
                                  limit="each inci once", do="add the two up")
        seen.add(key)


def _can_be_whole(material: Table, key: str, found: list[Component]) -> None:
    lows = sum((item.percent.low for item in found), ZERO)
    highs = sum((item.percent.high for item in found), ZERO)
    if lows <= HUNDRED <= highs:
        return
    if lows == highs:
        text = f"{key} of {material.path[-1]} sums to {plain(lows)} %, not to 100 %"
    else:
        text = (f"{key} of {material.path[-1]} cannot sum to 100 %: the lows sum to {plain(lows)} %, "
                f"the highs to {plain(highs)} %")
    material.report.error("material.sum", text, material.where(key), limit="100 %",
                          do="correct the figures, or give ranges as the supplier does")


def allergens(material: Table) -> tuple[Allergen, ...]:
    """The allergens contained in a material, in percent of it."""
    table = material.table("allergens")
    if table is None:
        return ()
    found: dict[str, Allergen] = {}
    for key in table.values:
        span = table.span(key, least=ZERO, most=HUNDRED, parse=parse_percent)
        name = fold(key)
        if not name:
            table.report.error("material.allergen", "an allergen has no name", table.where(key))
        elif name.casefold() in found:
            table.report.error("material.allergen", f"{name} stands twice", table.where(key), do="keep one of them")
        elif span is not None:
            found[name.casefold()] = Allergen(name, span)
    return tuple(found.values())
