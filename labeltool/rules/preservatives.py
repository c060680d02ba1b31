"""What Annex V says of preservatives beyond single rows: the two that exclude each other."""

from __future__ import annotations

from fractions import Fraction

from labeltool.finding import Finding
from labeltool.rules.amounts import total
from labeltool.rules.case import NOTHING, Case, Outcome
from labeltool.rules.entry import Entry

MIXTURE, SINGLE = "V/39", "V/57"
MIXED = Fraction(3)  # the mixture of V/39 is 3 : 1
LEEWAY = Fraction(11, 10)


def judge_pair(market: str, case: Case) -> Outcome:
    """Methylisothiazolinone beyond what the 3:1 mixture brings: V/39 and V/57 exclude each other."""
    rows = [case.rows.get((market, ref)) for ref in (MIXTURE, SINGLE)]
    if None in rows:
        return NOTHING
    mixture, single = (case.amounts.of(row.names) for row in rows if row)
    if not mixture or not single:
        return NOTHING
    most = total(mixture).high / MIXED * LEEWAY
    if total(single).low <= most:
        return NOTHING
    return Outcome(findings=(_told(rows[0], market),))


def _told(row: Entry | None, market: str) -> Finding:
    source = row.source if row else ""
    return Finding(
        "preservative.exclusive", "warning",
        "there is more Methylisothiazolinone than a 3:1 mixture with Methylchloroisothiazolinone brings", market=market,
        limit="the mixture (V/39) or Methylisothiazolinone alone (V/57), not both", source=source, confidence="law",
        do="use one of the two",
    )
