"""All that the rules say of one product in its markets on one day."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace

from labeltool.coding.dates import best_before
from labeltool.compose.model import Composition
from labeltool.finding import Finding
from labeltool.formula.model import Product
from labeltool.rules.allergens import Found, advise_allergens, allergen_findings, found_allergens, silent_sources
from labeltool.rules.amounts import amounts_of
from labeltool.rules.canada import judge_canada
from labeltool.rules.case import NOTHING, Case, Outcome, together
from labeltool.rules.claims import Holds, advise_claims, claim_findings
from labeltool.rules.colours import judge_colours
from labeltool.rules.coming import coming
from labeltool.rules.entry import at
from labeltool.rules.filters import judge_filters
from labeltool.rules.keeping import judge_keeping
from labeltool.rules.limits import counts
from labeltool.rules.model import Advice
from labeltool.rules.preservatives import judge_pair
from labeltool.rules.prohibited import judge_bans
from labeltool.rules.releasers import judge_release
from labeltool.rules.restricted import judge
from labeltool.rules.rulebook import Reader, RuleBook, rule_book
from labeltool.rules.scope import facts_of
from labeltool.rules.triggers import pull
from labeltool.rules.us import judge_us

ANNEXES = ("EU", "UK")
CONDITION = "limit.condition"


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
    allergens, extras = advise_allergens(book.allergens, found, markets, on, case.facts.use)
    outcome = together(_market(market, product, composition, case, book) for market in markets)
    spoken = tuple(languages) if languages is not None else tuple(lang for lang, _ in product.texts)
    claims = advise_claims(book.claims, product, markets, _holds(composition, found, case, book))
    return Advice(
        allergens=allergens,
        extras=extras,
        warnings=book.wordings.told(outcome.dues, spoken),
        limits=outcome.limits,
        claims=claims,
        findings=_once((
            *outcome.findings,
            *allergen_findings(book.allergens, found, markets, on, case.facts.use),
            *silent_sources(book.allergens, composition, markets),
            *judge_keeping(product, case, book.annex5),
            *claim_findings(claims),
            *_coming(product, markets, case, book),
        )),
    )


def _case(product: Product, composition: Composition, markets: Sequence[str], on: dt.date, book: RuleBook) -> Case:
    entries = (*book.annex3, *book.annex5, *book.annex6, *book.canada.hotlist)
    rows = {(entry.market, entry.ref): entry for entry in entries if entry.market in markets and entry.term.covers(on)}
    return Case(facts_of(product, book.kinds), amounts_of(composition.substances), book.molar, on, rows)


def _market(market: str, product: Product, composition: Composition, case: Case, book: RuleBook) -> Outcome:
    own = NOTHING
    if market in ANNEXES:
        triggers = [row for row in book.europe if row.market == market]
        own = _annexes(market, case, book) + pull(triggers, product, case)
    elif market == "US":
        own = judge_us(book.us, product, case)
    elif market == "CA":
        own = judge_canada(book.canada, product, case)
    return (
        own
        + judge_filters(book.annex6, book.sun, product, market, case)
        + judge_colours(book.colours, composition, market, case)
    )


def _annexes(market: str, case: Case, book: RuleBook) -> Outcome:
    entries = (*at(book.annex3, market, case.on), *at(book.annex5, market, case.on))
    return (
        judge_bans(book.bans, market, case)
        + together(judge(entry, case) for entry in entries)
        + judge_pair(market, case)
        + judge_release(book.releases, book.annex5, market, case)
    )


def _holds(composition: Composition, found: Sequence[Found], case: Case, book: RuleBook) -> Holds:
    """Scent is a perfume, what oils contain, and any fragrance allergen that is no preservative."""
    preserves = {id(item) for row in book.annex5 for item in case.amounts.of(row.names)}
    named = any(id(item) not in preserves for entry in found for item in entry.substances)
    preserved = any(counts(row, item) for row in book.annex5 for item in case.amounts.of(row.names))
    return Holds(named or any(line.perfume for line in composition.lines), preserved, case.facts.said)


def _coming(product: Product, markets: Sequence[str], case: Case, book: RuleBook) -> Iterable[Finding]:
    """Law to come, as far as it binds EU and UK; the shelf life counts from the day judged."""
    last = best_before(case.on, product.shelf_life) if product.shelf_life else None
    entries = (*book.annex3, *book.annex5)
    for market in markets:
        if market in ANNEXES:
            yield from coming(entries, book.bans, market, case, book.wordings, last)


def _once(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Each finding once; a condition of raw materials that holds in several markets is told once for all of them."""
    conditions: dict[str, list[Finding]] = {}
    for item in findings:
        if item.rule == CONDITION:
            conditions.setdefault(item.text, []).append(item)
    found = [item if item.rule != CONDITION else _for_all(conditions[item.text]) for item in findings]
    return tuple(dict.fromkeys(found))


def _for_all(same: Sequence[Finding]) -> Finding:
    return same[0] if len({item.market for item in same}) == 1 else replace(same[0], market=None)
