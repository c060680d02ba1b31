"""The words of a gift set's outer: the set's own, and each product's name, list, code and date."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from labeltool.formula.model import NetQuantity
from labeltool.rules.model import Element
from labeltool.wording.model import Block, LabelText

OWN = ("brand", "name", "function", "directions", "claims", "net", "code", "mark", "responsible", "origin", "contact")
JOINED = " + "
HEIGHT = "height of the net figures"


@dataclass(frozen=True, slots=True)
class Inside:
    """A product of the set: how many of it, its words as its own label has them, and their audit."""

    name: str
    count: int
    net: NetQuantity | None
    text: LabelText
    elements: tuple[Element, ...]

    @property
    def said_name(self) -> str:
        """Its name in every language of the label, the same text once."""
        names = dict.fromkeys(block.text for block in self.text.blocks if block.name == "name")
        return " / ".join(names) or self.name

    def name_in(self, lang: str) -> str:
        """Its name in one language; the first where it has none in that."""
        names = {block.lang: block.text for block in reversed(self.text.blocks) if block.name == "name"}
        return names.get(lang) or next(reversed(names.values()), self.name)

    @property
    def called(self) -> str:
        """Its name with how many there are."""
        return f"{self.count} × {self.said_name}" if self.count > 1 else self.said_name


def net_of(inside: Sequence[Inside]) -> NetQuantity | None:
    """The set's content where all its products have the same: "3 x 30 ml". None where they differ."""
    kinds = {(item.net.amount, item.net.unit, item.net.packs) for item in inside if item.net}
    if len(kinds) != 1 or any(item.net is None for item in inside):
        return None
    amount, unit, packs = kinds.pop()
    return NetQuantity(amount, unit, packs * sum(item.count for item in inside))


def set_text(own: LabelText, inside: Sequence[Inside]) -> LabelText:
    """The set's label: what it says itself, then the products one after the other.

    `own` are the words of the set without any product; of its warnings only the products' stand.
    """
    blocks = [block for block in own.blocks if block.name in OWN]
    if not any(block.name == "net" for block in blocks):
        blocks += _contents(inside)
    blocks += _warnings(inside)
    for item in inside:
        blocks += _listed(item)
    for item in inside:
        blocks += _dated(item)
    return replace(own, blocks=tuple(_in_order((*blocks, *_openings(inside)))))


ORDER = ("brand", "name", "function", "net", "directions", "warnings", "ingredients", "code", "date", "opening",
         "responsible", "origin", "contact", "mark")


def _in_order(blocks: Iterable[Block]) -> list[Block]:
    return sorted(blocks, key=lambda block: ORDER.index(block.name) if block.name in ORDER else len(ORDER))


def _said(item: Inside, name: str) -> list[Block]:
    return [block for block in item.text.blocks if block.name == name]


def _contents(inside: Sequence[Inside]) -> Iterator[Block]:
    """Products of different content: each said with its number, in the largest figures that any of them needs."""
    nets = [(item, block) for item in inside for block in _said(item, "net")]
    if nets:
        words = JOINED.join(f"{item.count} × {block.text}" if item.count > 1 else block.text for item, block in nets)
        minimums = tuple(dict.fromkeys(least for _, block in nets for least in block.minimums))
        yield replace(nets[0][1], text=words, minimums=minimums)


def _listed(item: Inside) -> Iterator[Block]:
    """The list under the product's name, function and content."""
    facts = [block.text for name in ("function", "net") for block in _said(item, name)]
    names = [block.text.casefold() for block in _said(item, "name")]
    told = [fact for fact in dict.fromkeys(facts) if not any(name.endswith(fact.casefold()) for name in names)]
    for block in _said(item, "ingredients"):
        yield replace(block, heading=f"{', '.join((item.called, *told))}. {block.heading}")


def _dated(item: Inside) -> Iterator[Block]:
    """Code and date of a product on one line; the code alone where the product has no date."""
    (code,) = _said(item, "code")
    lead = f"{item.said_name}: {code.heading}"
    dates = _said(item, "date")
    for date in dates:
        heading = f"{lead} {code.text}" + (f". {date.heading}" if date.heading else ",")
        yield replace(date, heading=heading)
    if not dates:
        yield replace(code, heading=lead)


def _openings(inside: Sequence[Inside]) -> Iterator[Block]:
    """Open jars that the law asks for: one where all are alike, else one a product."""
    asked = [(item, block) for item in inside for block in _said(item, "opening") if block.required_by]
    alike = len({block.text for _, block in asked}) == 1 and len(asked) == len(inside)
    for item, block in asked[:1] if alike else asked:
        yield block if alike else replace(block, text=f"{block.text} {item.said_name}")


def _warnings(inside: Sequence[Inside]) -> Iterator[Block]:
    """What all products say stands once; what only some say stands under their names."""
    holders: dict[tuple[str, str, str], list[Inside]] = {}
    kept: dict[tuple[str, str, str], Block] = {}
    for item in inside:
        for block in _said(item, "warnings"):
            key = (block.lang, block.heading, block.text)
            holders.setdefault(key, []).append(item)
            kept.setdefault(key, block)
    for key, block in kept.items():
        of = holders[key]
        names = "" if len(of) == len(inside) else f"{', '.join(item.name_in(block.lang) for item in of)}. "
        yield replace(block, heading=f"{names}{block.heading}")


def set_rows(own: Sequence[Element], inside: Sequence[Inside], text: LabelText) -> tuple[Element, ...]:
    """The audit: what the set itself needs, then each product's rows, which say of which product they are."""
    of_products = ("ingredients", "date", "opening", "warnings", "function", None)
    mine = [_stated(row, text) for row in own if row.block not in of_products]
    shared = ("responsible", "origin", "contact", "net", "e-mark", None)
    theirs = [replace(row, text=f"{item.name}: {row.text}") for item in inside for row in item.elements
              if row.block not in shared]
    return (*mine, *theirs)


def _stated(row: Element, text: LabelText) -> Element:
    """A row of the content that the set's words have from its products."""
    said = text.block("net")
    if row.block != "net" or said is None:
        return row
    if row.element == HEIGHT and row.state == "not-needed":
        high = [item.height_mm for item in said.minimums if item.source == row.source]
        return replace(row, state="present", text=f"{max(high):g} mm or more") if high else row
    return replace(row, state="present", text=said.text, do=None) if row.state == "missing" else row
