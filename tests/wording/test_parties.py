"""Names and addresses, roles, origin, contact."""

from collections.abc import Callable

import pytest

from labeltool.formula.model import Party
from labeltool.wording.build import WordingRequest
from labeltool.wording.model import Block, LabelText
from labeltool.wording.parties import party_findings
from labeltool.wording.words import Words

Label = Callable[..., LabelText]
BERLIN = Party("Example GmbH", ("Musterweg 1", "10115 Berlin"))
YORK = Party("Example Inc.", ("1 Example St.", "Example, NY 10001"), "distributed by")


def blocks(label: LabelText, name: str = "responsible") -> list[Block]:
    return [block for block in label.blocks if block.name == name]


def test_the_maker_alone_needs_no_mark(label: Label) -> None:
    found = blocks(label())
    assert [(block.heading, block.text) for block in found] == [
        ("", "Ottersholt Bodycare\n3 Example Yard\nOttersholt\nEX0 0EX")
    ]


def test_each_responsible_person_stands_once_with_its_market(label: Label) -> None:
    found = blocks(label(
        markets=("UK", "EU", "US"), workshop={"responsible": (("EU", BERLIN), ("US", YORK))}
    ))
    assert [(block.heading, block.text.split("\n")[0], block.required_by) for block in found] == [
        ("UK:", "Ottersholt Bodycare", ("UK",)), ("EU:", "Example GmbH", ("EU",)),
        ("", "Distributed by Example Inc.", ("US",)),
    ]


def test_one_person_for_two_markets_is_named_once(label: Label) -> None:
    found = blocks(label(markets=("UK", "EU"), workshop={"responsible": (("EU", BERLIN), ("UK", BERLIN))}))
    assert [(block.heading, block.required_by) for block in found] == [("", ("UK", "EU"))]


@pytest.mark.parametrize(("role", "markets", "languages", "line"), [
    ("distributed by", ("US",), ("en",), "Distributed by Example Inc."),
    ("made for", ("US",), ("en",), "Manufactured for Example Inc."),
    ("imported by", ("CA",), ("en", "fr"), "Imported by / Importé par Example Inc."),
    (None, ("US",), ("en",), "Distributed by Example Inc."),
    ("Packed for", ("US",), ("en",), "Packed for Example Inc."),
])
def test_roles_in_words(
    role: str | None, markets: tuple[str, ...], languages: tuple[str, ...], line: str, label: Label,
) -> None:
    """21 CFR 701.12(c): "Manufactured for", "Distributed by"; C.R.C., c. 417, s. 31(2): imported by, importé par."""
    party = Party("Example Inc.", ("1 Example St.",), role)
    made = label(markets=markets, workshop={"responsible": ((markets[0], party),), "languages": languages})
    assert blocks(made)[0].text.split("\n")[0] == line


def test_a_missing_role_is_said(make: Callable[..., WordingRequest], words: Words) -> None:
    nameless = make(markets=("US",), workshop={"responsible": (("US", Party("Example Inc.", ("x",))),)})
    assert [item.rule for item in party_findings(nameless, words)] == ["wording.role"]
    assert not party_findings(make(markets=("US",)), words)


def test_the_country_stands_under_an_address_that_goes_abroad(label: Label) -> None:
    assert blocks(label(markets=("US",)))[0].text.endswith("EX0 0EX\nUnited Kingdom")
    assert blocks(label(markets=("UK", "US")))[0].text.endswith("United Kingdom")
    said = label(markets=("US",), maker={"address": ("3 Example Yard", "EX0 0EX, United Kingdom")})
    assert blocks(said)[0].text.count("United Kingdom") == 1


def test_origin_stands_on_imports_only(label: Label) -> None:
    """Regulation (EC) No 1223/2009, Art. 19(1)(a); 19 U.S.C. 1304; C.R.C., c. 417, s. 31(2)."""
    assert not blocks(label(markets=("UK",)), "origin")
    assert not blocks(label(markets=("EU",), maker={"country": "DE"}), "origin")
    found = blocks(label(markets=("UK", "EU", "US")), "origin")
    assert [(block.text, block.required_by) for block in found] == [("Made in the United Kingdom", ("EU", "US"))]
    french = label(markets=("UK",), maker={"country": "FR"})
    assert [block.text for block in blocks(french, "origin")] == ["Made in France"]


def test_canada_reads_the_origin_in_both_languages(label: Label) -> None:
    found = blocks(label(markets=("CA",), workshop={"languages": ("en", "fr")}), "origin")
    assert [block.text for block in found] == ["Made in the United Kingdom / Fabriqué au Royaume-Uni"]


@pytest.mark.parametrize(("languages", "text"), [
    (("de",), "Ursprungsland: Vereinigtes Königreich"),
    (("pl",), "Kraj pochodzenia: Wielka Brytania"),
    (("el",), "Χώρα προέλευσης: Ηνωμένο Βασίλειο"),
    (("de", "fr", "nl"), "Ursprungsland: Vereinigtes Königreich / Fabriqué au Royaume-Uni / "
                         "Land van oorsprong: Verenigd Koninkrijk"),
    (("ga",), "Made in the United Kingdom"),
])
def test_the_origin_stands_in_the_label_s_languages(languages: tuple[str, ...], text: str, label: Label) -> None:
    found = blocks(label(markets=("EU",), workshop={"languages": languages}), "origin")
    assert [block.text for block in found] == [text]


def test_the_us_reads_the_origin_in_english_whatever_the_label_speaks(label: Label) -> None:
    """19 U.S.C. 1304."""
    found = blocks(label(markets=("US",), workshop={"languages": ("es",)}), "origin")
    assert [block.text for block in found] == ["Made in the United Kingdom / País de origen: Reino Unido"]


def test_a_country_without_a_name_is_said(make: Callable[..., WordingRequest], words: Words, label: Label) -> None:
    assert [item.rule for item in party_findings(make(maker={"country": "XX"}), words)] == ["wording.country"]
    assert not blocks(label(maker={"country": "XX"}), "origin")


def test_without_a_country_nothing_is_claimed(label: Label) -> None:
    assert not blocks(label(markets=("EU",), maker={"country": None}), "origin")


def test_contact(label: Label) -> None:
    found = blocks(label(markets=("UK", "US", "CA")), "contact")
    assert [(block.text, block.required_by) for block in found] == [("care@ottersholt.example", ("US", "CA"))]
    assert not blocks(label(maker={"contact": None}), "contact")


def test_nobody_named_is_nobody_printed(label: Label) -> None:
    assert not blocks(label(maker={"name": None}))
