"""A formula's rows as the file gives them, before they are weighed against one another."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from labeltool.finding import Where
from labeltool.formula.components import purpose
from labeltool.formula.model import INLINE
from labeltool.formula.quantities import NUMBER, parse_mass, parse_percent, parse_tolerance, plain, shown, tidy
from labeltool.formula.schema import check_keys
from labeltool.formula.table import Table
from labeltool.formula.values import read_number

Unit = Literal["percent", "grams"]

MOST: dict[Unit, Decimal] = {"percent": Decimal(100), "grams": Decimal(10**9)}
_QS = re.compile(r"q\.? ?s\.?", re.IGNORECASE)
_TO_PH = re.compile(rf"to[ -]?ph(?:[ ,:(]*(?:up[ -]to )?({NUMBER}) ?%? ?\)?)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Amount:
    """How much of a row: `value` percent or grams; "qs" and "to-ph" have none, `up_to` is percent."""

    kind: Literal["amount", "qs", "to-ph"]
    value: Decimal = Decimal(0)
    up_to: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Draft:
    """One row as written, `line` counting from 1. Without an amount it is faulty, and that is reported.

    Exactly one of material and inci is given where the row is sound.
    """

    line: int
    where: Where
    amount: Amount | None
    unit: Unit
    material: str | None = None
    inci: str | None = None
    phase: str = ""
    tolerance: str | None = None
    purpose: str | None = None


def read_amount(value: object, unit: Unit) -> Amount | str:
    """An amount from a number or from "5,32", "qs", "to pH"; a str says what is wrong."""
    if isinstance(value, str):
        text = tidy(value)
        if _QS.fullmatch(text):
            return Amount("qs") if unit == "percent" else "qs fills up percents, not grams"
        to_ph = _TO_PH.fullmatch(text)
        if to_ph:
            return Amount("to-ph", up_to=Decimal(to_ph.group(1).replace(",", ".")) if to_ph.group(1) else None)
    found = read_number(value, parse_percent if unit == "percent" else _grams)
    if isinstance(found, str):
        return f'{found}, nor "qs" or "to pH"' if isinstance(value, str) and unit == "percent" else found
    if not 0 < found <= MOST[unit]:
        return f"{plain(found)} is not more than 0 and at most {MOST[unit]}"
    return Amount("amount", found)


def _grams(text: str) -> Decimal | str:
    return parse_mass(text, bare=True)


def drafts_of(top: Table) -> tuple[Draft, ...]:
    """The rows of [[ingredient]]."""
    return tuple(_draft(table, line) for line, table in enumerate(top.tables("ingredient"), 1))


def _draft(table: Table, line: int) -> Draft:
    count = table.report.count
    check_keys(table, "a formula file", "[[ingredient]]")
    material, inci = _substance(table)
    unit = _unit(table)
    amount = _amount(table, unit) if unit else None
    tolerance = table.text("tolerance") if table.parsed("tolerance", parse_tolerance, "value.tolerance") else None
    phase, why = table.text("phase") or "", purpose(table)
    sound = amount if not table.report.failed_since(count) else None
    return Draft(line, table.where(), sound, unit or "percent", material, inci, phase, tolerance, why)


def _substance(table: Table) -> tuple[str | None, str | None]:
    if table.has("material") and table.has("inci"):
        table.report.error("row.both", "the row gives material and inci", table.where("inci"), limit="one of them")
        return None, None
    if not table.has("material") and not table.has("inci"):
        table.report.error("row.nothing", "the row names neither material nor inci", table.where(),
                           do="name a key of materials.toml, or an INCI name")
        return None, None
    if table.has("inci"):
        return None, table.need("inci")
    key = table.need("material")
    if key and key.startswith(INLINE):
        table.report.error("row.nothing", f"{shown(key)} is no material's key", table.where("material"),
                           do=f'write inci = "{key[len(INLINE):][:40]}"')
    return key, None


def _unit(table: Table) -> Unit | None:
    if table.has("percent") and table.has("grams"):
        table.report.error("formula.mixed", "the row gives percent and grams", table.where("grams"),
                           limit="one of them, the same in all rows")
        return None
    if table.has("percent"):
        return "percent"
    if table.has("grams"):
        return "grams"
    table.report.error("row.amount", "the row says no amount", table.where(),
                       limit='percent (a number, "qs", "to pH"), or grams')
    return None


def _amount(table: Table, unit: Unit) -> Amount | None:
    found = read_amount(table.values[unit], unit)
    if isinstance(found, str):
        table.report.error("row.amount", f"{unit}: {found}", table.where(unit),
                           limit='a number, "qs" or "to pH"' if unit == "percent" else "grams")
        return None
    if table.has("up-to") and found.kind != "to-ph":
        table.report.error("row.up-to", 'up-to belongs to a row whose percent is "to pH"', table.where("up-to"))
        return found
    up_to = table.number("up-to", least=Decimal(0), most=Decimal(100), above=True, parse=parse_percent)
    return with_up_to(found, up_to, table) if not (table.has("up-to") and up_to is None) else None


def with_up_to(found: Amount, up_to: Decimal | None, table: Table) -> Amount | None:
    """A "to pH" row knows how much it may be at most, or the fault is reported."""
    most = up_to if up_to is not None else found.up_to
    if found.kind != "to-ph":
        return found
    if most is None or not 0 < most <= 100:
        table.report.error("row.up-to", 'a "to pH" row does not say up to how much', table.where(),
                           limit="more than 0, at most 100 %", do="write up-to = 0.3")
        return None
    return Amount("to-ph", up_to=most)
