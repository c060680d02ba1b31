"""The audit over a set of labels: where each element must stand, by the law of each market."""

from __future__ import annotations

from itertools import product

import pytest

from labeltool.rules.model import Element
from labeltool.wording.audit import Standing, left_to, over_set

# (element, block, market, needed on the container where there is an outer, needed on the outer), by the texts named
LAW = [
    ("responsible person", "responsible", "EU", True, True),  # Art. 19(1): container and packaging, (a)
    ("net content", "net", "EU", True, True),  # (b)
    ("durability", "date", "EU", True, True),  # (c)
    ("precautions", "warnings", "EU", True, True),  # (d)
    ("function", "function", "EU", True, True),  # (f)
    ("ingredients", "ingredients", "EU", False, True),  # (g): on the packaging alone
    ("ingredients", "ingredients", "UK", False, True),
    ("net quantity", "net", "US", True, True),
    ("ingredients", "ingredients", "CA", False, True),  # C.R.C., c. 869, s. 21.2(1): the outer label
    ("net quantity", "net", "CA", False, True),  # R.S.C. 1985, c. C-38, s. 4: of the package sold
    ("contact", "contact", "CA", True, False),  # C.R.C., c. 869, s. 20(a): the inner label
    ("identity", "function", "CA", True, True),  # s. 20(b); R.S.C. 1985, c. C-38, s. 10(b)
]


def row(element: str, block: str | None, market: str = "EU", state: str = "present") -> Element:
    return Element(element, market, state, "words", "the law", block)  # type: ignore[arg-type]


def label(name: str, on: str, carries: set[str], *rows: Element) -> Standing:
    return Standing(name, on, frozenset(carries), rows)  # type: ignore[arg-type]


def states(rows: tuple[Element, ...]) -> dict[str | None, str]:
    return {item.on: item.state for item in rows}


@pytest.mark.parametrize(("element", "block", "market", "inner", "outer"), LAW)
def test_each_surface_needs_what_its_law_asks(element, block, market, inner, outer):
    one = row(element, block, market)
    for on_container, on_outer in product((True, False), repeat=2):
        labels = [label("front", "container", {block} if on_container else set(), one),
                  label("box", "outer", {block} if on_outer else set(), one)]
        found = states(over_set(labels, ("container", "outer")))
        assert found["container"] == ("present" if on_container else "missing" if inner or not on_outer
                                      else "not-needed")
        assert found["outer"] == ("present" if on_outer else "missing" if outer or not on_container else "not-needed")


def test_without_an_outer_the_container_bears_everything():
    for element, block, market, _, _ in LAW:
        (missing,) = over_set([label("front", "container", set(), row(element, block, market))], ("container",))
        assert (missing.state, missing.labels) == ("missing", ())
        assert missing.do


def test_an_element_stands_where_any_label_of_the_surface_carries_it():
    one = row("net content", "net")
    labels = [label("front", "container", {"net"}, one), label("back", "container", {"net"}, one),
              label("dot", "container", {"code"}, one)]
    (found,) = over_set(labels, ("container",), "30ml")
    assert (found.state, found.labels, found.on, found.pack) == ("present", ("front", "back"), "container", "30ml")


def test_what_the_product_lacks_is_missing_on_the_label_that_would_carry_it():
    lacks = row("function", "function", state="missing")
    labels = [label("front", "container", {"function"}, lacks), label("back", "container", set(), lacks)]
    (found,) = over_set(labels, ("container",))
    assert found.state == "missing" and found.text == "words"


def test_a_batch_number_on_the_outer_alone_is_the_makers_to_judge():
    """Art. 19(1)(e): only on the packaging where the container is too small for it."""
    one = row("batch code", "code")
    labels = [label("front", "container", set(), one), label("box", "outer", {"code"}, one)]
    found = {item.on: item for item in over_set(labels, ("container", "outer"))}
    assert found["container"].state == "maker" and "box" in found["container"].text
    labels = [label("front", "container", {"code"}, one), label("box", "outer", set(), one)]
    assert states(over_set(labels, ("container", "outer"))) == {"container": "present", "outer": "missing"}


def test_precautions_leave_the_container_only_where_the_hand_on_a_book_leads():
    """Art. 19(2)."""
    one = row("precautions", "warnings")
    for carries, state in (({"leaflet"}, "maker"), (set(), "missing")):
        labels = [label("front", "container", carries, one), label("box", "outer", {"warnings", "leaflet"}, one)]
        assert states(over_set(labels, ("container", "outer"))) == {"container": state, "outer": "present"}


def test_an_outer_without_a_label_of_ours_is_asked_about():
    rows = over_set([label("front", "container", {"net"}, row("net content", "net"))], ("container", "outer"))
    assert states(rows) == {"container": "present", "outer": "maker"}


def test_markets_are_looked_at_apart():
    uk, eu = row("net content", "net", "UK"), row("net content", "net", "EU")
    labels = [label("front", "container", set(), uk, eu), label("back-uk", "container", {"net"}, uk)]
    assert {item.market: item.state for item in over_set(labels, ("container",))} == {"UK": "present", "EU": "missing"}


def test_rows_without_a_block_are_nobodys_to_carry():
    (found,) = over_set([label("front", "container", set(), row("language", None))], ("container",))
    assert (found.state, found.labels) == ("present", ())


def test_a_label_alone_is_told_what_the_others_carry():
    rows = over_set([
        label("front", "container", {"net", "function"}, row("net content", "net"), row("ingredients", "ingredients"),
              row("function", "function"), row("durability", "date")),
        label("back", "container", {"net", "ingredients"}, row("net content", "net"), row("ingredients", "ingredients"),
              row("function", "function"), row("durability", "date")),
    ], ("container",))
    assert dict(left_to(rows, ["front"])) == {"back": ("ingredients",), "": ("durability",)}
    assert dict(left_to(rows, ["back"])) == {"front": ("function",), "": ("durability",)}
    assert dict(left_to(rows, ["front", "back"])) == {"": ("durability",)}
