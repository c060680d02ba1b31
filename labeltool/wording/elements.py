"""The audit: every element that each market wants on a label, present or missing, with its source."""

from __future__ import annotations

from labeltool.rules.model import Element
from labeltool.wording.elements_america import canada_rows, us_rows
from labeltool.wording.elements_europe import europe_rows
from labeltool.wording.model import LabelText
from labeltool.wording.request import WordingRequest


def elements(request: WordingRequest, text: LabelText) -> tuple[Element, ...]:
    """One row for every element and market, in the order of the label's markets.

    `state`: present; missing (the law wants it and it is not there); not-needed (`text` says why); maker (only the
    maker can tell; `text` says what to look at). `block` names the label block that carries it.
    """
    rows: list[Element] = []
    for market in request.markets:
        if market in ("UK", "EU"):
            rows += europe_rows(request, text, market)
        elif market == "US":
            rows += us_rows(request, text)
        else:
            rows += canada_rows(request, text)
    return tuple(rows)
