"""GS1 Digital Links against the examples and build vectors of the GS1 syntax engine's own tests."""

import datetime as dt
from collections.abc import Callable
from random import Random
from urllib.parse import parse_qsl, unquote, urlsplit

import pytest
from stdnum import ean, gs1_128
from stdnum.exceptions import ValidationError

from labeltool.coding.payload import CSET_82, digital_link, payload
from labeltool.formula.model import RecordLinks

# Examples "from the DL specification" in the tests of the GS1 syntax engine that hold what these links hold.
EXAMPLES = [
    ("https://id.gs1.org", [("01", "09520123456788")], "https://id.gs1.org/01/09520123456788"),
    ("https://id.gs1.org", [("01", "09520123456788"), ("22", "2A")], "https://id.gs1.org/01/09520123456788/22/2A"),
    ("https://id.gs1.org", [("10", "ABC123"), ("01", "09520123456788")],
     "https://id.gs1.org/01/09520123456788/10/ABC123"),
    ("https://id.gs1.org", [("01", "09520123456788"), ("21", "12345")],
        "https://id.gs1.org/01/09520123456788/21/12345"),
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


# ---- python-stdnum as the second reader: it knows each AI's format, the check digit of a GTIN and what a date may be

SEPARATOR = "\x1d"


def elements_of(link: str) -> dict[str, str]:
    """The element strings of a link, read with the standard library alone: AI and value by turns in the path from 01
    on, then the query."""
    parts = urlsplit(link)
    path = [unquote(item) for item in parts.path.split("/")]
    pairs = path[path.index("01"):]
    return dict(zip(pairs[::2], pairs[1::2], strict=True)) | dict(parse_qsl(parts.query,
        strict_parsing=bool(parts.query)))


def read_by_stdnum(link: str) -> dict[str, object]:
    """What stdnum reads of them, written as GS1-128 with a separator after each."""
    text = "".join(f"{ai}{value}{SEPARATOR}" for ai, value in elements_of(link).items())
    return dict(gs1_128.info(text, SEPARATOR))


@pytest.mark.parametrize("link", [link for _, _, link in EXAMPLES])
def test_stdnum_reads_the_published_examples_as_they_were_built(link: str) -> None:
    (elements,) = [dict(pairs) for _, pairs, built in EXAMPLES if built == link]
    read = read_by_stdnum(link)
    assert set(read) == set(elements)
    assert all(str(read[ai]) == value for ai, value in elements.items() if ai in ("01", "10", "21", "22"))


def test_stdnum_reads_every_batchs_link_back(samples: Callable[[int], int]) -> None:
    random = Random(7)
    for _ in range(samples(300)):
        made = dt.date(2000, 1, 1) + dt.timedelta(days=random.randrange(18_000))
        end = made + dt.timedelta(days=random.randrange(1, 1_500))
        size = random.choice((7, 11, 12, 13))
        body = "".join(random.choice("0123456789") for _ in range(size))
        code = "".join(random.choice("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-") for _ in range(random.randrange(1, 21)))
        links = RecordLinks(gtin_link="https://id.ottersholt.example/some/stem", gtin_dates=("17", "11", "15"))
        link, findings = payload(links, code, "", body + ean.calc_check_digit(body), made=made, best_before=end)
        assert not len(findings)
        assert read_by_stdnum(link) == {
            "01": (body + ean.calc_check_digit(body)).zfill(14), "10": code, "11": made, "15": end, "17": end}


@pytest.mark.parametrize("code", ['A!"%&\'*+,-./0', ":;<=>?_abcxyz", "A/B", "A+B C".replace(" ", "%")])
def test_signs_that_must_be_escaped_come_back(code: str) -> None:
    """Without parentheses, which stdnum takes for those around an AI."""
    link = digital_link("https://a.example", [("01", "09520123456788"), ("10", code)])
    assert elements_of(link) == {"01": "09520123456788", "10": code}
    assert str(read_by_stdnum(link)["10"]) == code


@pytest.mark.parametrize("elements", [
    {"01": "09520123456789", "10": "A"}, {"01": "09520123456788", "17": "181326"}, {"01": "09520123456788",
        "10": "A" * 21},
])
def test_stdnum_refuses_what_it_should(elements: dict[str, str]) -> None:
    with pytest.raises(ValidationError):
        gs1_128.validate("".join(f"{ai}{value}{SEPARATOR}" for ai, value in elements.items()), SEPARATOR)
