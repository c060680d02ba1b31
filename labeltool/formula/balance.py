"""A formula's rows weighed against one another: percents that sum to exactly 100."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, localcontext

from labeltool.finding import Where
from labeltool.formula.drafts import Amount, Draft
from labeltool.formula.model import INLINE, Row
from labeltool.formula.quantities import plain
from labeltool.formula.report import Report

HUNDRED = Decimal(100)
SLACK = Decimal("0.01")
STEP = Decimal("1e-20")

Pair = tuple[Draft, Amount]


@dataclass(frozen=True, slots=True)
class Balanced:
    """Rows in the file's order, and the grams that they sum to where the file gives grams.

    Not `whole`: the rows have faults, and their percents say nothing.
    """

    rows: tuple[Row, ...]
    total_grams: Decimal | None = None
    whole: bool = True


def balance(drafts: Sequence[Draft], where: Where, report: Report) -> Balanced:
    """The rows in percent; faults go to the report."""
    pairs = [(item, item.amount) for item in drafts if item.amount is not None]
    amounts = [pair for pair in pairs if pair[1].kind != "to-ph"]
    count = report.count
    _one_unit([item for item, _ in amounts], report)
    _one_filler([item for item, amount in amounts if amount.kind == "qs"], report)
    if not drafts or len(pairs) < len(drafts) or report.failed_since(count):
        return _broken(drafts)
    grams = any(item.unit == "grams" for item, _ in amounts)
    with localcontext(prec=90):
        shares = _shares(pairs, grams, where, report)
    if shares is None:
        return _broken(drafts)
    rows = tuple(_row(item, amount, share) for (item, amount), share in zip(pairs, shares, strict=True))
    return Balanced(rows, sum((amount.value for _, amount in amounts), Decimal(0)) if grams else None)


def _broken(drafts: Sequence[Draft]) -> Balanced:
    named = [item for item in drafts if item.material or item.inci]
    return Balanced(tuple(_row(item, Amount("amount"), Decimal(0)) for item in named), whole=False)


def _one_unit(drafts: Sequence[Draft], report: Report) -> None:
    grams = [item for item in drafts if item.unit == "grams"]
    percents = [item for item in drafts if item.unit == "percent"]
    if grams and percents:
        fewer = min(grams, percents, key=len)[0]
        other = "percent" if fewer.unit == "grams" else "grams"
        report.error("formula.mixed", f"this row gives {fewer.unit}, other rows give {other}", fewer.where,
                     limit="percent in all rows, or grams in all rows")


def _one_filler(fillers: Sequence[Draft], report: Report) -> None:
    for item in fillers[1:]:
        report.error("formula.qs", f"a second row is qs; the first is row {fillers[0].line}", item.where,
                     limit="one row", do="give all but one a number")


def _shares(pairs: Sequence[Pair], grams: bool, where: Where, report: Report) -> list[Decimal] | None:
    amounts = [amount.value for _, amount in pairs]
    total = sum(amounts, Decimal(0))
    filler = next((at for at, (_, amount) in enumerate(pairs) if amount.kind == "qs"), None)
    if filler is not None:
        amounts[filler] = HUNDRED - total
        return amounts if _rest_is_there(HUNDRED - total, pairs[filler][0].where, report) else None
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


def _row(item: Draft, amount: Amount, share: Decimal) -> Row:
    return Row(
        line=item.line,
        material=item.material if item.material is not None else f"{INLINE}{item.inci}",
        kind=amount.kind,
        percent=share,
        grams=amount.value if item.unit == "grams" and amount.kind == "amount" else None,
        up_to=amount.up_to or Decimal(0),
        phase=item.phase,
        tolerance=item.tolerance,
        purpose=item.purpose,
        where=item.where,
    )
