"""GS1 Digital Links against the examples and build vectors of the GS1 syntax engine's own tests."""

import datetime as dt

import pytest

from labeltool.coding.payload import CSET_82, digital_link, payload
from labeltool.formula.model import RecordLinks

# Examples "from the DL specification" in the tests of the GS1 syntax engine that hold what these links hold.
EXAMPLES = [
    ("https://id.gs1.org", [("01", "09520123456788")], "https://id.gs1.org/01/09520123456788"),
    ("https://id.gs1.org", [("01", "09520123456788"), ("22", "2A")], "https://id.gs1.org/01/09520123456788/22/2A"),
    ("https://id.gs1.org", [("10", "ABC123"), ("01", "09520123456788")],
     "https://id.gs1.org/01/09520123456788/10/ABC123"),
    ("https://id.gs1.org", [("01", "09520123456788"), ("21", "12345")], "https://id.gs1.org/01/09520123456788/21/12345"),
    ("https://id.gs1.org", [("01", "09520123456788"), ("10", "ABC1"), ("21", "12345"), ("17", "180426")],
     "https://id.gs1.org/01/09520123456788/10/ABC1/21/12345?17=180426"),
    ("https://id.gs1.org", [("01", "09520123456788"), ("3103", "000195")],
     "https://id.gs1.org/01/09520123456788?3103=000195"),
    ("https://example.com", [("01", "09520123456788"), ("3103", "000195"), ("3922", "0299"), ("17", "201225")],
     "https://example.com/01/09520123456788?3103=000195&3922=0299&17=201225"),
]
# Build vectors of the same tests: unordered input, signs to escape, a stem with a slash at its end.
BUILDS = [
    ("https://example.com", [("21", "XYZ"), ("01", "12312312312333"), ("10", "ABC123"), ("99", "XYZ")],
     "https://example.com/01/12312312312333/10/ABC123/21/XYZ?99=XYZ"),
    ("https://example.com", [("01", "12312312312333"), ("10", "ABC+123"), ("99", "XYZ+QWERTY")],
     "https://example.com/01/12312312312333/10/ABC%2B123?99=XYZ%2BQWERTY"),
    ("https://example.com/", [("01", "12312312312326")], "https://example.com/01/12312312312326"),
    ("https://example.com",
     [("01", "12312312312326"), ("22", "ABC"), ("10", "DEF"), ("21", "GHI"), ("95", "INT")],
     "https://example.com/01/12312312312326/22/ABC/10/DEF/21/GHI?95=INT"),
]
# The character set 82 of the GS1 General Specifications, as the grammar of GS1 Digital Link lists it.
PUBLISHED_82 = "!\"%&'()*+,-./0123456789:;<=>?ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz"


@pytest.mark.parametrize(("stem", "elements", "link"), [*EXAMPLES, *BUILDS])
def test_links_are_built_as_published(stem: str, elements: list[tuple[str, str]], link: str) -> None:
    assert digital_link(stem, elements) == link


def test_a_batch_with_dates_is_the_published_example() -> None:
    """The example with 17=180426: the same GTIN and lot, built from a workshop's settings."""
    links = RecordLinks(gtin_link="https://id.gs1.org", gtin_dates=("17",))
    text, findings = payload(
        links, "ABC1", "", "9520123456788", made=dt.date(2016, 4, 26), best_before=dt.date(2018, 4, 26)
    )
    assert text == "https://id.gs1.org/01/09520123456788/10/ABC1?17=180426"
    assert not len(findings)


def test_the_82_characters_are_the_published_ones() -> None:
    assert frozenset(PUBLISHED_82) == CSET_82


@pytest.mark.parametrize("sign", " #$@[\\]^`{|}~")
def test_signs_that_a_lot_cannot_hold(sign: str) -> None:
    assert sign not in CSET_82
