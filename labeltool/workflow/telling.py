"""What a batch tells everybody: the lists and allergens by market, kept with each print, and the page made of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from labeltool import tables
from labeltool.codec import to_plain
from labeltool.formula.model import MARKETS
from labeltool.pages.model import Inside, Listed, PublicPage, Said
from labeltool.records.model import Batch
from labeltool.wording.build import THIN_SPACE
from labeltool.wording.model import LabelText
from labeltool.workflow.prepare import Prepared

TAKEN_BACK = ("withdrawn", "recalled")
_MONTH_LENGTH = len("10/2027")

Told = Mapping[str, Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class Telling:
    """What one print tells: its words (a LabelText as plain JSON), what was kept for the pages, and its pack."""

    text: Mapping[str, Any]
    told: Told
    pack: str = ""


def told(prepared: Prepared, full: LabelText | None = None) -> dict[str, Any]:
    """Each market's list as its label has it, and the fragrance allergens that the market wants named in it.

    `full`: all words, where some of them stand in a leaflet and not on the label.
    """
    allergens: dict[str, list[str]] = {}
    for item in prepared.advice.extras:
        allergens.setdefault(item.market, []).append(item.name)
    lists = {item.market: item.text for item in prepared.declaration.markets if item.text}
    return {"lists": lists, "allergens": allergens} | ({"text": to_plain(full)} if full else {})


def lists_of(told: Told) -> tuple[Listed, ...]:
    """Each list with the markets that share it."""
    return _grouped(told["lists"])


def public_page(batch: Batch, tellings: Sequence[Telling], inside: Sequence[Inside] = ()) -> PublicPage:
    """The public page of a batch from the words of its labels, the newest first. `inside`: of a gift set."""
    texts = [item.text for item in tellings]
    blocks, kept = _Blocks(texts), [item.told for item in tellings] if not inside else []
    taken = batch.state in TAKEN_BACK
    date, opening = ("", "") if inside else (blocks.first("date"), blocks.first("opening"))
    return PublicPage(
        code=batch.code, groups=tuple(blocks.first("code").split(THIN_SPACE)) if texts else (batch.code,),
        product=batch.product, languages=tuple(dict.fromkeys(tag for text in texts for tag in text["languages"])),
        made=batch.made, state=batch.state if taken else "", since=batch.since[:10] if taken else "",
        brand=blocks.first("brand"), names=blocks.said("name"), functions=blocks.said("function"),
        net=tuple(dict.fromkeys(text for item in tellings if (text := _net(item)))), best_before=date,
        with_day=len(date) > _MONTH_LENGTH, opening=int(opening[:-1]) if opening else None,
        lists=() if inside else _lists(blocks, kept), allergens=_allergens(kept),
        warnings=tuple(_warning(item) for item in blocks.said("warnings", heading=True)),
        directions=blocks.said("directions"), contact=blocks.first("contact"),
        responsible=blocks.said("responsible", heading=True), origin=blocks.said("origin"), inside=tuple(inside),
        parts=_parts(blocks) if inside else (),
    )


def _net(item: Telling) -> str:
    """The content of a print's pack, the pack's name before it where that says more."""
    net = _Blocks([item.text]).first("net")
    squashed = "".join(net.split()).casefold()
    more = item.pack and "".join(item.pack.split()).casefold() != squashed
    return f"{item.pack}: {net}" if more and net else net


def _parts(blocks: _Blocks) -> tuple[Said, ...]:
    """The lists and dates of a set's products; the set's own code stands above them."""
    return blocks.said("ingredients", heading=True) + blocks.said("date", heading=True)


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
