"""Percents that a spreadsheet keeps as fractions: 71.5 % shown, 0.715 in the cell."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from labeltool.finding import Where
from labeltool.formula.balance import HUNDRED, SLACK
from labeltool.formula.drafts import Draft
from labeltool.formula.grid import SheetRows
from labeltool.formula.quantities import plain
from labeltool.formula.report import Report

ONE = Decimal(1)
FRACTION_SLACK = Decimal("0.0001")


def scaled(sheet: SheetRows, where: Where, report: Report) -> tuple[Draft | None, ...]:
    """The drafts, fractions made percents with a note; an error asks where both readings are possible."""
    amounts = [
        (item, signed) for item, signed in zip(sheet.drafts, sheet.signed, strict=True)
        if item is not None and item.unit == "percent" and item.amount.kind == "amount"
    ]
    bare = sum((item.amount.value for item, signed in amounts if not signed), Decimal(0))
    written = sum((item.amount.value for item, signed in amounts if signed), Decimal(0))
    if not bare or bare > ONE + FRACTION_SLACK or None in sheet.drafts:
        return sheet.drafts
    if any(item is not None and item.amount.kind == "qs" for item in sheet.drafts):
        report.error("sheet.scale", f"the numbers sum to {plain(bare)} beside a qs row: percents, or fractions of 1?",
                     where, limit="percents", do='write them as text with their sign ("0.5 %"), or qs as a number')
        return sheet.drafts
    if abs(written + bare * HUNDRED - HUNDRED) > SLACK:
        return sheet.drafts
    report.note("sheet.hundred", f"the numbers sum to {plain(bare)}: read × 100, as percents", where)
    return tuple(_hundredfold(item, signed) for item, signed in zip(sheet.drafts, sheet.signed, strict=True))


def _hundredfold(item: Draft | None, signed: bool) -> Draft | None:
    if item is None or signed or item.amount.kind != "amount":
        return item
    return replace(item, amount=replace(item.amount, value=item.amount.value * HUNDRED))
