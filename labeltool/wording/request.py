"""What the words of a label are made from, and which languages each market wants them in."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from labeltool.coding.dates import PrintedDate, Shown, durability, printed
from labeltool.compose.model import MarketDeclaration
from labeltool.formula.model import Container, Party, Product, ProductText, Workshop
from labeltool.rules.model import WarningAdvice

EU_COUNTRIES = frozenset((
    "AT", "BE", "BG", "HR", "CY", "CZ", "DK", "EE", "FI", "FR", "DE", "GR", "HU", "IE",
    "IT", "LV", "LT", "LU", "MT", "NL", "PL", "PT", "RO", "SK", "SI", "ES", "SE",
))


@dataclass(frozen=True, slots=True)
class WordingRequest:
    """One label's facts. `declaration` is the joint one; `groups` the display groups of the code; `best_before` the
    computed day. `languages` stands in for the workshop's. `mark`: words on every label of the pack ("Tester. Not for
    sale."). `elsewhere`: list or precautions stand on the outer alone, so the hand on a book leads there."""

    product: Product
    container: Container | None
    workshop: Workshop
    markets: tuple[str, ...]
    declaration: MarketDeclaration
    warnings: tuple[WarningAdvice, ...]
    code: str
    groups: tuple[str, ...]
    made: dt.date
    best_before: dt.date | None
    payload: str
    languages: tuple[str, ...] | None = None
    pack: str = ""
    mark: str | None = None
    elsewhere: bool = False

    @property
    def spoken(self) -> tuple[str, ...]:
        """The label's languages, English where none is named."""
        return tuple(dict.fromkeys(self.languages or self.workshop.languages)) or ("en",)

    @property
    def home(self) -> str | None:
        """The market the maker's country belongs to, or None."""
        return home_market(self.workshop.maker.country)

    @property
    def imported(self) -> tuple[str, ...]:
        """The markets into which the product is imported; () where the maker's country is not known."""
        if self.workshop.maker.country is None:
            return ()
        return tuple(market for market in self.markets if market != self.home)

    @property
    def shown(self) -> Shown:
        """What the label shows of durability."""
        product = self.product
        return durability(self.made, self.best_before, product.period_after_opening, product.no_opening_period)

    @property
    def printed_date(self) -> PrintedDate | None:
        """The best-before date as it is printed, where one is shown."""
        if self.best_before is None or self.shown not in ("date", "both"):
            return None
        return printed(self.best_before, self.made)

    def words_in(self, lang: str) -> ProductText:
        """The product's own words in one language; English ones stand at the top of [product]."""
        found = next((text for tag, text in self.product.texts if tag == lang), ProductText())
        if lang != "en":
            return found
        product = self.product
        return ProductText(found.name or product.name, found.function or product.function,
                           found.directions or product.directions, found.warnings or product.warnings)


def home_market(country: str | None) -> str | None:
    """The market of a country by its ISO 3166-1 code: UK, EU, US, CA, or None."""
    if country in EU_COUNTRIES:
        return "EU"
    return {"GB": "UK", "US": "US", "CA": "CA"}.get(country or "")


def party_of(request: WordingRequest, market: str) -> tuple[Party | None, bool]:
    """Who answers for the product in a market, and whether that is the maker; None where nobody is named."""
    named = next((party for tag, party in request.workshop.responsible if tag == market), None)
    if named is not None:
        return named, False
    maker = request.workshop.maker
    return (Party(maker.name, maker.address), True) if maker.name else (None, True)


def languages_of(market: str, languages: Sequence[str]) -> tuple[str, ...]:
    """The languages in which one market wants required words: the law's, or in the EU all of the label's."""
    if market == "CA":
        return ("en", "fr")
    return tuple(languages) if market == "EU" else ("en",)
