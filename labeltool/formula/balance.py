"""A formula's rows weighed against one another: percents that sum to exactly 100."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, localcontext

from labeltool.finding import Where
from labeltool.formula.drafts import Draft
from labeltool.formula.model import INLINE, Row
from labeltool.formula.quantities import plain
from labeltool.formula.report import Report

HUNDRED = Decimal(100)
SLACK = Decimal("0.01")
STEP = Decimal("1e-20")


@dataclass(frozen=True, slots=True)
class Balanced:
    """Rows in the file's order, and the grams that they sum to where the file gives grams."""

    rows: tuple[Row, ...]
    total_grams: Decimal | None = None


def balance(given: Sequence[Draft | None], where: Where, report: Report) -> Balanced | None:
    """The rows in percent, or None with the faults reported (None among `given`: a row already reported)."""
    drafts = [item for item in given if item is not None]
    count = report.count
    units = {item.unit for item in drafts if item.amount.kind != "to-ph"}
    if len(units) > 1:
        _report_mixed(drafts, report)
    fillers = [item for item in drafts if item.amount.kind == "qs"]
    for item in fillers[1:]:
        report.error("formula.qs", f"a second row is qs; the first is row {fillers[0].line}", item.where,
                     limit="one row", do="give all but one a number")
    if not given or report.failed_since(count) or len(drafts) < len(given):
        return None
    with localcontext(prec=90):
        shares = _shares(drafts, "grams" in units, where, report)
    if shares is None:
        return None
    rows = tuple(_row(item, share) for item, share in zip(drafts, shares, strict=True))
    total = sum((row.grams for row in rows if row.grams is not None), Decimal(0)) if "grams" in units else None
    return Balanced(rows, total)


def _report_mixed(drafts: Sequence[Draft], report: Report) -> None:
    grams = [item for item in drafts if item.unit == "grams" and item.amount.kind != "to-ph"]
    percents = [item for item in drafts if item.unit == "percent" and item.amount.kind != "to-ph"]
    fewer = min(grams, percents, key=len)
    other = "percent" if fewer is grams else "grams"
    report.error("formula.mixed", f"this row gives {fewer[0].unit}, other rows give {other}", fewer[0].where,
                 limit="percent in all rows, or grams in all rows")


def _shares(drafts: Sequence[Draft], grams: bool, where: Where, report: Report) -> list[Decimal] | None:
    amounts = [item.amount.value for item in drafts]
    total = sum(amounts, Decimal(0))
    filler = next((at for at, item in enumerate(drafts) if item.amount.kind == "qs"), None)
    if filler is not None:
        amounts[filler] = HUNDRED - total
        return amounts if _rest_is_there(HUNDRED - total, drafts[filler].where, report) else None
    if total == 0:
        report.error("formula.rows", 'every row is "to pH": nothing is there to adjust', where)
        return None
    if grams:
        return exact_shares(amounts)
    if abs(total - HUNDRED) > SLACK:
        _report_sum(total, where, report)
        return None
    if total == HUNDRED:
        return amounts
    text = f"the percents sum to {plain(total)}: every row is multiplied by 100/{plain(total)}"
    report.note("formula.normalised", text, where, limit="100 ± 0.01")
    return exact_shares(amounts)


def _rest_is_there(rest: Decimal, where: Where, report: Report) -> bool:
    if rest < 0:
        report.error("formula.rest", f"the other rows sum to {plain(HUNDRED - rest)} %: nothing is left for qs", where,
                     limit="100 %", do="lower the other rows")
    elif rest == 0:
        report.warning("formula.rest", "the other rows sum to 100 %: the qs row is 0 %, and is declared all the same",
                       where, do="leave the row out, or lower the others")
    return rest >= 0


def _report_sum(total: Decimal, where: Where, report: Report) -> None:
    off = plain(abs(total - HUNDRED))
    do = f"{off} % too much" if total > HUNDRED else f'{off} % are missing; or let one row say "qs"'
    report.error("formula.sum", f"the percents sum to {plain(total)}", where, limit="100 ± 0.01", do=do)


def exact_shares(amounts: Sequence[Decimal]) -> list[Decimal]:
    """Each amount's percent of the whole to 20 decimals, summing to exactly 100.

    What rounding leaves over goes to the largest share that had to be rounded.
    """
    with localcontext(prec=90):
        total = sum(amounts, Decimal(0))
        shares = [(amount * HUNDRED / total).quantize(STEP) for amount in amounts]
        rest = HUNDRED - sum(shares, Decimal(0))
        if rest:
            rounded = [at for at, share in enumerate(shares) if share * total != amounts[at] * HUNDRED]
            largest = max(rounded, key=lambda at: shares[at])
            shares[largest] += rest
    return [plain(share) for share in shares]


def _row(item: Draft, share: Decimal) -> Row:
    return Row(
        line=item.line,
        material=item.material if item.material is not None else INLINE + (item.inci or ""),
        kind=item.amount.kind,
        percent=share,
        grams=item.amount.value if item.unit == "grams" and item.amount.kind == "amount" else None,
        up_to=item.amount.up_to or Decimal(0),
        phase=item.phase,
        tolerance=item.tolerance,
        purpose=item.purpose,
        where=item.where,
    )
