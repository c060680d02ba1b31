"""What a batch tells everybody: the lists and allergens by market, kept with each print, and the page made of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from typing import Any

from labeltool import tables
from labeltool.formula.model import MARKETS
from labeltool.pages.model import Listed, PublicPage, Said
from labeltool.records.model import Batch
from labeltool.wording.build import THIN_SPACE
from labeltool.workflow.prepare import Prepared

TAKEN_BACK = ("withdrawn", "recalled")
_MONTH_LENGTH = len("10/2027")

Told = Mapping[str, Mapping[str, Any]]


def told(prepared: Prepared) -> dict[str, Any]:
    """Each market's list as its label has it, and the fragrance allergens that the market wants named in it."""
    allergens: dict[str, list[str]] = {}
    for item in prepared.advice.extras:
        allergens.setdefault(item.market, []).append(item.name)
    return {"lists": {item.market: item.text for item in prepared.declaration.markets}, "allergens": allergens}


def lists_of(told: Told) -> tuple[Listed, ...]:
    """Each list with the markets that share it."""
    return _grouped(told["lists"])


def public_page(batch: Batch, texts: Sequence[Mapping[str, Any]], told: Sequence[Told],
                packs: Sequence[str] = ()) -> PublicPage:
    """The public page of a batch from the words of its labels (LabelTexts as plain JSON), the newest first."""
    blocks = _Blocks(texts)
    date, opening = blocks.first("date"), blocks.first("opening")
    taken = batch.state in TAKEN_BACK
    return PublicPage(
        code=batch.code, groups=tuple(blocks.first("code").split(THIN_SPACE)) if texts else (batch.code,),
        product=batch.product, languages=tuple(dict.fromkeys(tag for text in texts for tag in text["languages"])),
        made=batch.made, state=batch.state if taken else "", since=batch.since[:10] if taken else "",
        brand=blocks.first("brand"), names=blocks.said("name"), functions=blocks.said("function"),
        net=tuple(item.text for item in blocks.said("net")), best_before=date,
        with_day=len(date) > _MONTH_LENGTH, opening=int(opening[:-1]) if opening else None,
        lists=_lists(blocks, told), allergens=_allergens(told),
        warnings=tuple(_warning(item) for item in blocks.said("warnings", heading=True)),
        directions=blocks.said("directions"), contact=blocks.first("contact"),
        responsible=blocks.said("responsible", heading=True), origin=blocks.said("origin"), packs=tuple(packs),
    )


class _Blocks:
    """The blocks of several labels of one batch, by name."""

    def __init__(self, texts: Iterable[Mapping[str, Any]]) -> None:
        self.by_name: dict[str, list[Mapping[str, Any]]] = {}
        for text in texts:
            for block in text["blocks"]:
                self.by_name.setdefault(block["name"], []).append(block)

    def named(self, name: str) -> Sequence[Mapping[str, Any]]:
        return self.by_name.get(name, ())

    def first(self, name: str) -> str:
        return next((str(block["text"]) for block in self.named(name)), "")

    def said(self, name: str, *, heading: bool = False) -> tuple[Said, ...]:
        """The blocks of a name, each once."""
        return tuple(dict.fromkeys(
            Said(block["text"], block["lang"], block["heading"] if heading else "") for block in self.named(name)
        ))


def _lists(blocks: _Blocks, told: Sequence[Told]) -> tuple[Listed, ...]:
    """The lists by market; of prints that did not keep them, the one on the label, for all its markets."""
    found = _by_market(told, "lists", str)
    for block in blocks.named("ingredients"):
        for market in block["required_by"]:
            found.setdefault(market, str(block["text"]))
    return _grouped(found)


def _allergens(told: Sequence[Told]) -> tuple[Listed, ...]:
    return _grouped(_by_market(told, "allergens", ", ".join))


def _by_market(told: Sequence[Told], key: str, shown: Callable[[Any], str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for one in told:
        for market, value in one.get(key, {}).items():
            found.setdefault(market, shown(value))
    return found


def _grouped(found: Mapping[str, str]) -> tuple[Listed, ...]:
    markets: dict[str, list[str]] = {}
    for market in (item for item in MARKETS if item in found):
        markets.setdefault(found[market], []).append(market)
    return tuple(Listed(text, tuple(names)) for text, names in markets.items())


def _warning(item: Said) -> Said:
    """A warning without the heading "Caution:", which the page has above all of them; a signal word stays."""
    plain = item.heading.rstrip(":\u00a0") in _cautions() and item.text
    return Said(item.text, item.lang) if plain else item


@cache
def _cautions() -> frozenset[str]:
    return frozenset(row["text"] for row in tables.toml("data", "words")["word"] if row["key"] == "caution")
