"""All that the rules say of one product in its markets on one day."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from labeltool.compose.model import Composition
from labeltool.finding import Finding
from labeltool.formula.model import Product
from labeltool.rules.allergens import advise_allergens, allergen_findings, found_allergens, silent_sources
from labeltool.rules.amounts import amounts_of
from labeltool.rules.case import NOTHING, Case, Outcome, together
from labeltool.rules.entry import at
from labeltool.rules.model import Advice
from labeltool.rules.prohibited import judge_bans
from labeltool.rules.releasers import judge_release
from labeltool.rules.restricted import judge
from labeltool.rules.rulebook import Reader, RuleBook, rule_book
from labeltool.rules.scope import facts_of

ANNEXES = ("EU", "UK")


def advise(
    product: Product, composition: Composition, markets: Sequence[str], on: dt.date, tables: Reader,
    languages: Sequence[str] | None = None,
) -> Advice:
    """Allergens, limits, warnings and claims by the law of day `on` (placing on the market).

    `tables("rules", name)` gives the parsed rule tables. `languages`: of the label; without them English, and those
    for which the product has words. Texts come in English and in every such language that has a row.
    """
    book = rule_book(tables)
    case = _case(product, composition, markets, on, book)
    found = found_allergens(book.allergens, case.amounts, composition)
    allergens, extras = advise_allergens(book.allergens, found, markets, on, product.use)
    outcome = together(_market(market, case, book) for market in markets)
    spoken = tuple(languages) if languages is not None else tuple(lang for lang, _ in product.texts)
    return Advice(
        allergens=allergens,
        extras=extras,
        warnings=book.wordings.told(outcome.dues, spoken),
        limits=outcome.limits,
        findings=_once((
            *outcome.findings,
            *allergen_findings(book.allergens, found, markets, on, product.use),
            *silent_sources(book.allergens, composition, markets),
        )),
    )


def _case(product: Product, composition: Composition, markets: Sequence[str], on: dt.date, book: RuleBook) -> Case:
    entries = (*book.annex3, *book.annex5, *book.annex6)
    rows = {(entry.market, entry.ref): entry for entry in entries if entry.market in markets and entry.term.covers(on)}
    return Case(facts_of(product, book.kinds), amounts_of(composition.substances), book.molar, on, rows)


def _market(market: str, case: Case, book: RuleBook) -> Outcome:
    if market in ANNEXES:
        return _annexes(market, case, book)
    return NOTHING


def _annexes(market: str, case: Case, book: RuleBook) -> Outcome:
    entries = (*at(book.annex3, market, case.on), *at(book.annex5, market, case.on))
    return (
        judge_bans(book.bans, market, case)
        + together(judge(entry, case) for entry in entries)
        + judge_release(book.releases, book.annex5, market, case)
    )


def _once(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    return tuple(dict.fromkeys(findings))
