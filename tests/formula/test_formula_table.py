from __future__ import annotations

import tomllib
from decimal import Decimal
from typing import Any

import pytest

from labeltool.formula.document import Document, dotted
from labeltool.formula.model import Span
from labeltool.formula.quantities import parse_period, shown
from labeltool.formula.report import NEAREST_ASKED, Report
from labeltool.formula.table import Table
from labeltool.formula.tomllines import toml_lines
from labeltool.formula.values import fold, kind, read_number


def table(text: str) -> Table:
    return Table(tomllib.loads(text, parse_float=Decimal), Document("f.toml", toml_lines(text)), Report())


def told(found: Table) -> list[tuple[str, str, int | None]]:
    return [(item.level, item.rule, item.where.line) for item in found.report.findings()]


def test_text_is_folded_and_composed() -> None:
    assert table('a = "  Cafe\\u0301\\n  au\\tlait "').text("a") == "Café au lait"
    assert table('a = """\nfirst\nsecond\n"""').text("a") == "first second"


def test_empty_text_is_noted_as_not_given() -> None:
    found = table('\na = " "')
    assert found.text("a") is None
    assert told(found) == [("note", "value.empty", 2)]


@pytest.mark.parametrize(("text", "getter", "args"), [
    ("a = 1", "text", {}), ("a = [1]", "texts", {}), ('a = "x"', "texts", {}), ("a = 1", "flag", {"default": False}),
    ("a = 1", "table", {}), ('a = "x"', "tables", {}), ("a = [1]", "tables", {}),
])
def test_a_wrong_type_is_one_error(text: str, getter: str, args: dict[str, Any]) -> None:
    found = table(text)
    getattr(found, getter)("a", **args)
    assert told(found) == [("error", "value.type", 1)]


@pytest.mark.parametrize("getter", ["text", "texts", "table", "tables", "date"])
def test_an_absent_key_is_no_fault(getter: str) -> None:
    found = table("b = 1")
    assert not getattr(found, getter)("a")
    assert told(found) == []


def test_words_name_what_is_allowed() -> None:
    found = table('a = ["hands", "feets"]')
    assert found.words("a", ("hands", "feet")) == ("hands",)
    (finding,) = found.report.findings()
    assert (finding.limit, finding.do) == ("hands, feet", "did you mean feet?")


def test_numbers_and_their_bounds() -> None:
    found = table("a = 5\nb = 0\nc = 11\nd = '2,5'\ne = true\nf = 1e400\n")
    bound: dict[str, Any] = {"least": Decimal(0), "most": Decimal(10), "above": True}
    assert [found.number(key, **bound) for key in "abcdef"] == [5, None, None, Decimal("2.5"), None, None]
    assert [line for _, _, line in told(found)] == [2, 3, 5, 6]


def test_spans() -> None:
    found = table("a = [1, 2]\nb = 3\nc = [2, 1]\nd = [1]\ne = [1, true]\nf = []\n")
    bound = {"least": Decimal(0), "most": Decimal(10)}
    assert found.span("a", **bound) == Span(Decimal(1), Decimal(2))
    assert found.span("b", **bound) == Span(Decimal(3), Decimal(3))
    assert found.span("b", single=False, **bound) is None
    assert [found.span(key, **bound) for key in "cdef"] == [None] * 4
    assert [line for _, _, line in told(found)] == [2, 3, 4, 5, 6]


def test_dates_in_toml_or_text() -> None:
    found = table('a = 2026-05-03\nb = "2026-05-03"\nc = 2026-05-03T10:00:00\nd = "3.5.26"\ne = 5')
    assert [str(found.date(key)) for key in "abcde"] == ["2026-05-03"] * 3 + ["None"] * 2
    assert told(found) == [("error", "value.date", 4), ("error", "value.type", 5)]


def test_the_parser_says_what_is_wrong() -> None:
    found = table('a = "18 moons"')
    assert found.parsed("a", parse_period, "value.period") is None
    assert "'18 moons' is no period" in found.report.findings().items[0].text


def test_places_count_from_one() -> None:
    assert dotted(("ingredient", 2, "percent")) == "ingredient[3].percent"
    assert dotted(()) == ""


def test_the_nearest_word_is_asked_for_a_bounded_number_of_times() -> None:
    report = Report()
    answers = [report.did_you_mean(f"wat{at}er", ["water"]) for at in range(NEAREST_ASKED + 5)]
    assert answers == ["did you mean water?"] * NEAREST_ASKED + [None] * 5


@pytest.mark.parametrize("value", [
    Decimal("nan"), Decimal("inf"), Decimal("1e999999999"), Decimal("1e-999999999"), 10**5000, True, None, [], {},
    Decimal("1" * 21), "1e5",
], ids=shown)
def test_numbers_that_are_none(value: object) -> None:
    assert isinstance(read_number(value), str)


def test_a_zero_of_any_exponent_is_zero() -> None:
    assert str(read_number(Decimal("0e999999999"))) == "0"


def test_kinds_in_words() -> None:
    assert [kind(item) for item in (True, 1, "x", [], {}, None)] == [
        "true or false", "a number", "text", "a list", "a table", "another kind of value",
    ]
    assert fold("\u00a0a\u2003b ") == "a b"
