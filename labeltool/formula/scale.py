"""Percents that a spreadsheet keeps as fractions: 71.5 % shown, 0.715 in the cell."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from labeltool.finding import Where
from labeltool.formula.balance import HUNDRED, SLACK
from labeltool.formula.drafts import Draft
from labeltool.formula.quantities import plain
from labeltool.formula.report import Report
from labeltool.formula.sheet_rows import SheetRows

ONE = Decimal(1)
FRACTION_SLACK = Decimal("0.0001")


def scaled(sheet: SheetRows, where: Where, report: Report) -> tuple[Draft, ...]:
    """The drafts, fractions made percents with a note; an error asks where both readings are possible."""
    rows = tuple(zip(sheet.drafts, sheet.signed, strict=True))
    bare = _sum(item for item, signed in rows if not signed)
    written = _sum(item for item, signed in rows if signed)
    if not bare or bare > ONE + FRACTION_SLACK or any(item.amount is None for item in sheet.drafts):
        return sheet.drafts
    if any(item.amount is not None and item.amount.kind == "qs" for item in sheet.drafts):
        report.error("sheet.scale", f"the numbers sum to {plain(bare)} beside a qs row: percents, or fractions of 1?",
                     where, limit="percents", do='write them as text with their sign ("0.5 %"), or qs as a number')
        return sheet.drafts
    if abs(written + bare * HUNDRED - HUNDRED) > SLACK:
        return sheet.drafts
    report.note("sheet.hundred", f"the numbers sum to {plain(bare)}: read × 100, as percents", where)
    return tuple(item if signed else _hundredfold(item) for item, signed in rows)


def _sum(drafts: Iterable[Draft]) -> Decimal:
    """What the percents of rows with a number sum to."""
    return sum((item.amount.value for item in drafts if item.amount and item.unit == "percent"), Decimal(0))


def _hundredfold(item: Draft) -> Draft:
    if item.amount is None:
        return item
    return replace(item, amount=replace(item.amount, value=item.amount.value * HUNDRED))
