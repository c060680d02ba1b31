"""The audit of label elements: one test for each state an element can have."""

import datetime as dt
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest

from labeltool import tables
from labeltool.formula.model import NetQuantity, Party, Period, ProductText
from labeltool.rules.model import Element, WarningAdvice
from labeltool.wording.build import WordingRequest, label_text
from labeltool.wording.elements import elements

Make = Callable[..., WordingRequest]
BERLIN = Party("Example GmbH", ("Musterweg 1", "10115 Berlin"))
YORK = Party("Example Inc.", ("1 Example St.",), "distributed by")
LONG = dt.date(2029, 5, 3)
EU_PERSON = {"responsible": (("EU", BERLIN),)}
US_PERSON = {"responsible": (("US", YORK),)}
FRENCH = (("fr", ProductText("Lotion", "Lotion pour les mains", "Appliquer.", ("Ne pas avaler.",))),)


@pytest.fixture
def audit(make: Make) -> Callable[..., list[Element]]:
    def run(**changes: Any) -> list[Element]:
        request = make(**changes)
        return list(elements(request, label_text(request, tables.toml("data", "words"))[0]))

    return run


Audit = Callable[..., list[Element]]


def states(rows: list[Element], element: str, market: str) -> list[str]:
    return [row.state for row in rows if row.element == element and row.market == market]


def test_every_row_has_source_text_and_a_block_of_the_label(audit: Audit) -> None:
    rows = audit(markets=("UK", "EU", "US", "CA"), workshop={"languages": ("en", "fr")})
    assert all(row.source and row.text for row in rows)
    assert {row.market for row in rows} == {"UK", "EU", "US", "CA"}
    assert all(row.do for row in rows if row.state == "missing")


def test_a_complete_british_label_misses_nothing(audit: Audit) -> None:
    rows = audit()
    assert {row.state for row in rows} == {"present", "not-needed"}
    assert [row.element for row in rows] == [
        "responsible person", "country of origin", "net content", "height of the net figures", "e-mark", "durability",
        "precautions", "batch code", "function", "ingredients", "language",
    ]


def test_the_batch_code_row_is_the_documented_one(audit: Audit) -> None:
    row = next(row for row in audit(markets=("EU",)) if row.element == "batch code")
    assert (row.state, row.text, row.source) == (
        "present", "260503A31", "Regulation (EC) No 1223/2009, Art. 19(1)(e)",
    )


CASES: list[tuple[str, str, dict[str, Any], str]] = [
    # Art. 19(1)(a): the address lies in the market; in Great Britain an EU one serves to the end of 2027
    ("responsible person", "UK", {}, "present"),
    ("responsible person", "UK", {"maker": {"name": None}}, "missing"),
    ("responsible person", "UK", {"maker": {"address": ()}}, "missing"),
    ("responsible person", "UK", {"maker": {"address": ("P.O. Box 7", "Ottersholt")}}, "missing"),
    ("responsible person", "UK", {"maker": {"country": None}}, "maker"),
    ("responsible person", "UK", {"maker": {"country": "US"}}, "missing"),
    ("responsible person", "UK", {"maker": {"country": "DE"}}, "present"),
    ("responsible person", "UK", {"maker": {"country": "DE"}, "made": dt.date(2027, 12, 31)}, "present"),
    ("responsible person", "UK", {"maker": {"country": "DE"}, "made": dt.date(2028, 1, 1)}, "missing"),
    ("responsible person", "UK", {"maker": {"country": "US"}, "workshop": EU_PERSON}, "missing"),
    ("responsible person", "EU", {}, "missing"),
    ("responsible person", "EU", {"workshop": EU_PERSON}, "present"),
    ("responsible person", "EU", {"workshop": {"responsible": (("EU", Party("Example GmbH")),)}}, "missing"),
    ("responsible person", "EU", {"maker": {"country": "IE"}}, "present"),
    # Art. 19(1)(a): country of origin of imports only
    ("country of origin", "UK", {}, "not-needed"),
    ("country of origin", "EU", {}, "present"),
    ("country of origin", "UK", {"maker": {"country": "FR"}}, "present"),
    ("country of origin", "EU", {"maker": {"country": "FR"}}, "not-needed"),
    ("country of origin", "EU", {"maker": {"country": None}}, "maker"),
    ("country of origin", "EU", {"maker": {"country": "XX"}}, "missing"),
    # Art. 19(1)(b): not below 5 g or 5 ml; 5 exactly must be marked
    ("net content", "EU", {"product": {"net": None}}, "missing"),
    ("net content", "EU", {"product": {"net": NetQuantity(Decimal("4.99"), "ml")}}, "not-needed"),
    ("net content", "EU", {"product": {"net": NetQuantity(Decimal(5), "ml")}}, "present"),
    ("net content", "EU", {"product": {"net": NetQuantity(Decimal(3), "pieces")}}, "present"),
    ("height of the net figures", "EU", {"product": {"net": NetQuantity(Decimal(3), "pieces")}}, "not-needed"),
    ("e-mark", "UK", {"workshop": {"e_mark": True}}, "present"),
    # Art. 19(1)(c): 30 months exactly need a date; more need the open jar or a reason
    ("durability", "EU", {"best_before": None}, "missing"),
    ("durability", "EU", {"best_before": None, "product": {"period_after_opening": Period(12)}}, "maker"),
    ("durability", "EU", {"best_before": dt.date(2028, 11, 3)}, "present"),
    ("durability", "EU", {"best_before": dt.date(2028, 11, 4)}, "missing"),
    ("durability", "EU", {"best_before": LONG, "product": {"period_after_opening": Period(12)}}, "present"),
    ("durability", "EU", {"best_before": LONG, "product": {"period_after_opening": Period(0, 9)}}, "missing"),
    ("durability", "EU", {"best_before": LONG, "product": {"no_opening_period": "spray"}}, "not-needed"),
    # Art. 19(1)(f): unless it is clear from the presentation
    ("function", "EU", {"product": {"function": None}}, "maker"),
    ("ingredients", "EU", {"declaration": None}, "missing"),
    # Art. 19(5)
    ("language", "UK", {"workshop": {"languages": ("de",)}}, "missing"),
    ("language", "EU", {}, "maker"),
    # United States
    ("statement of identity", "US", {"product": {"function": None}}, "present"),
    ("name and place of business", "US", {}, "present"),
    ("name and place of business", "US", {"maker": {"address": ()}}, "missing"),
    ("name and place of business", "US", {"workshop": US_PERSON}, "present"),
    ("net quantity", "US", {"product": {"net": NetQuantity(Decimal(3), "g")}}, "present"),
    ("net quantity", "US", {"product": {"net": None}}, "missing"),
    ("warnings", "US", {}, "not-needed"),
    ("contact for reports", "US", {}, "present"),
    ("contact for reports", "US", {"maker": {"contact": None}}, "missing"),
    ("contact for reports", "US", {"maker": {"contact": "+44 20 7946 0000"}}, "maker"),
    ("contact for reports", "US", {"maker": {"contact": None, "country": "US"}}, "present"),
    ("contact for reports", "US", {"maker": {"contact": None}, "workshop": US_PERSON}, "present"),
    ("country of origin", "US", {}, "present"),
    ("country of origin", "US", {"maker": {"country": "US"}}, "not-needed"),
    ("country of origin", "US", {"maker": {"country": None}}, "maker"),
    ("professional use", "US", {"product": {"professional": True}}, "maker"),
    # Canada
    ("net quantity", "CA", {}, "present"),
    ("dealer name and place of business", "CA", {"maker": {"name": None}}, "missing"),
    ("imported by", "CA", {}, "not-needed"),
    ("imported by", "CA", {"maker": {"country": "CA"}}, "not-needed"),
    ("imported by", "CA", {"maker": {"country": None}}, "maker"),
    ("imported by", "CA", {"maker": {"country": "XX"}}, "missing"),
    ("imported by", "CA", {"maker": {"country": "XX"}, "workshop": {
        "responsible": (("CA", Party("Example Ltd.", ("1 Example Ave.",), "imported by")),)}}, "present"),
    ("imported by", "CA", {"maker": {"country": "XX"}, "workshop": {
        "responsible": (("CA", Party("Example Ltd.", ("1 Example Ave.",), "distributed by")),)}}, "missing"),
    ("contact", "CA", {"maker": {"contact": None}}, "present"),
    ("contact", "CA", {"maker": {"contact": None, "address": ()}}, "missing"),
    ("language", "CA", {}, "missing"),
    ("language", "CA", {"workshop": {"languages": ("fr", "en")}}, "present"),
]


@pytest.mark.parametrize(("element", "market", "changes", "state"), CASES)
def test_states(element: str, market: str, changes: dict[str, Any], state: str, audit: Audit, make: Make) -> None:
    if "declaration" in changes:
        changes = {"declaration": make().declaration.__class__("EU", (), "")}
    assert states(audit(markets=(market,), **changes), element, market) == [state]


def test_an_eu_person_on_the_label_serves_great_britain_too_until_2028(audit: Audit) -> None:
    rows = audit(markets=("UK", "EU"), maker={"country": "US"}, workshop=EU_PERSON)
    assert states(rows, "responsible person", "UK") == ["present"]
    assert "31 December 2027" in next(row.text for row in rows if row.market == "UK")


class TestWarnings:
    english = WarningAdvice("Contains ammonia", "EU", "Annex III/4", "Ammonia", "law")
    american = WarningAdvice("Warning—Avoid spraying in eyes.", "US", "21 CFR 740.11", "aerosol", "law")
    unknown = WarningAdvice(
        "Warning—The safety of this product has not been determined.", "US", "21 CFR 740.10", "x", "law"
    )

    def test_a_text_without_a_translation_is_missing_in_that_language(self, audit: Audit) -> None:
        rows = audit(markets=("EU",), workshop={"languages": ("en", "de")}, warnings=(self.english,))
        assert states(rows, "precautions", "EU") == ["present", "missing"]
        row = next(row for row in rows if row.element == "precautions" and row.state == "missing")
        assert (row.text, row.source, row.block) == ("in de: Contains ammonia", "Annex III/4", "warnings")

    def test_the_makers_words_in_that_language_may_say_it(self, audit: Audit) -> None:
        rows = audit(markets=("EU",), workshop={"languages": ("en", "fr")}, warnings=(self.english,),
                     product={"texts": FRENCH, "warnings": ("Do not swallow.",)})
        assert states(rows, "precautions", "EU") == ["present", "maker"]

    def test_the_makers_own_warnings_want_every_language(self, audit: Audit) -> None:
        rows = audit(markets=("EU",), workshop={"languages": ("en", "fr")}, product={"warnings": ("Do not swallow.",)})
        assert states(rows, "precautions", "EU") == ["present", "missing"]

    def test_nothing_printed_is_a_question(self, audit: Audit) -> None:
        rows = audit(markets=("EU",), workshop={"languages": ("fr",)})
        assert states(rows, "precautions", "EU") == ["maker"]

    def test_us_warnings_are_rows_of_their_own(self, audit: Audit) -> None:
        rows = audit(markets=("US",), warnings=(self.american, self.unknown))
        assert states(rows, "warnings", "US") == ["present", "maker"]
        foreign = audit(markets=("US",), warnings=(self.american,), workshop={"languages": ("es",)})
        assert states(foreign, "warnings", "US") == ["missing"]

    def test_a_us_text_is_no_precaution_of_great_britain(self, audit: Audit) -> None:
        rows = audit(markets=("UK", "US"), warnings=(self.american,))
        assert "spraying" not in next(row.text for row in rows if row.element == "precautions")


class TestLanguages:
    def test_function_is_wanted_in_every_language_of_the_eu_label(self, audit: Audit) -> None:
        rows = audit(markets=("EU",), workshop={"languages": ("en", "fr", "de")}, product={"texts": FRENCH})
        assert states(rows, "function", "EU") == ["present", "missing"]
        assert "the function in de" in [row.text for row in rows]

    def test_canada_wants_english_and_french(self, audit: Audit) -> None:
        both = {"languages": ("en", "fr")}
        assert states(audit(markets=("CA",), workshop=both), "identity", "CA") == ["present", "missing"]
        done = audit(markets=("CA",), workshop=both, product={"texts": FRENCH})
        assert states(done, "identity", "CA") == ["present"]

    def test_a_second_language_in_the_us_wants_all_words_in_it(self, audit: Audit) -> None:
        """21 CFR 701.2(b)(2): a foreign-language representation calls for all required words in that language."""
        rows = audit(markets=("US",), workshop={"languages": ("en", "fr")})
        assert states(rows, "language", "US") == ["present", "maker"]
        assert states(audit(markets=("US",), workshop={"languages": ("fr",)}), "language", "US") == ["missing"]
