"""LabelText from one label's facts: every block of words, in reading order, with its minimum heights."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from labeltool.finding import Finding, Findings
from labeltool.formula.model import Period, ProductText
from labeltool.wording.cautions import heading_of, warning_blocks, warning_findings
from labeltool.wording.minimums import E_MARK, Heights, heights, measure_findings
from labeltool.wording.model import Block, BlockName, LabelText, Minimum, QrContent
from labeltool.wording.net import base_amount, net_findings, net_text
from labeltool.wording.parties import contact_block, origin_block, party_blocks, party_findings
from labeltool.wording.request import WordingRequest, languages_of
from labeltool.wording.words import Words, words_of

__all__ = ["WordingRequest", "label_text"]

THIN_SPACE = "\u2009"
EUROPE = ("UK", "EU")
HEADINGS = ("batch", "directions", "caution", "country-of-origin")
E_MARK_FROM, E_MARK_TO = 5, 10_000  # g or ml, Directive 76/211/EEC, Art. 1


def label_text(request: WordingRequest, table: Mapping[str, Any]) -> tuple[LabelText, Findings]:
    """All blocks a label of this product can carry, and what is missing, unchecked or worth a look.

    `table` holds `word` and `country` rows (the data table of words). What a market asks for and is not there is not
    said here: the audit of elements has a row for it.
    """
    words = words_of(table).with_own(request.workshop.words)
    high = heights(request.container, request.product.net, request.markets)
    blocks = (
        *_identity(request, high),
        *_net(request, words, high),
        *_directions(request, words, high),
        *warning_blocks(request, words, high),
        *_ingredients(request, words, high),
        *_code(request, words, high),
        *_durability(request, words, high),
        *party_blocks(request, words, high),
        *origin_block(request, words, high),
        *contact_block(request, high),
        *_e_mark(request),
        *_leaflet(request),
        *((Block("mark", request.mark, minimums=high.running, lang=request.spoken[0]),) if request.mark else ()),
    )
    qr = QrContent(request.payload)
    text = LabelText(request.product.name, request.code, blocks, qr, request.markets, request.spoken)
    return text, Findings((*_findings(request, words), *_language_findings(request), *_heading_findings(text, words)))


def _findings(request: WordingRequest, words: Words) -> tuple[Finding, ...]:
    product = request.product
    quantity = net_findings(product.net, product.form, request.markets) if product.net else ()
    return (
        *quantity,
        *measure_findings(request.container, request.markets),
        *party_findings(request, words),
        *warning_findings(request, words),
    )


def _among(request: WordingRequest, *markets: str) -> tuple[str, ...]:
    """Those of the markets that the label is for, in its order."""
    return tuple(market for market in request.markets if market in markets)


def _by_language(
    request: WordingRequest, name: BlockName, pick: Callable[[ProductText], str | None], minimums: tuple[Minimum, ...],
    asked: tuple[str, ...] = (), heading: Callable[[str], str] | None = None,
) -> tuple[Block, ...]:
    """One block for each language that has the words; the same words stand once."""
    found: dict[str, Block] = {}
    for lang in request.spoken:
        text = pick(request.words_in(lang))
        if text and text.strip():
            wants = tuple(market for market in asked if lang in languages_of(market, request.spoken))
            front = heading(lang) if heading else ""
            found.setdefault(text, Block(name, text, front, None, minimums, lang, wants))
    return tuple(found.values())


def _identity(request: WordingRequest, high: Heights) -> tuple[Block, ...]:
    """Brand, name, function, claims. The US and Canada want the identity on the front, Europe the function."""
    maker, claims = request.workshop.maker, request.product.claims
    brand = maker.brand or maker.name
    over = _by_language(request, "function", lambda text: text.function, high.identity, request.markets)
    named = _by_language(request, "name", lambda text: text.name, high.identity, _among(request, "US", "CA"))
    return (
        *((Block("brand", brand, minimums=high.running),) if brand else ()),
        *(named or (Block("name", request.product.name, minimums=high.identity),)),
        *over,
        *((Block("claims", "\n".join(claims), minimums=high.running),) if claims else ()),
    )


def _net(request: WordingRequest, words: Words, high: Heights) -> tuple[Block, ...]:
    net = request.product.net
    if net is None:
        return ()
    text = net_text(net, request.markets, request.spoken, words)
    return (Block("net", text, minimums=high.net, lang=request.spoken[0], required_by=request.markets),)


def _directions(request: WordingRequest, words: Words, high: Heights) -> tuple[Block, ...]:
    return _by_language(request, "directions", lambda text: text.directions, high.running,
                        heading=lambda lang: heading_of(words, "directions", lang))


def _ingredients(request: WordingRequest, words: Words, high: Heights) -> tuple[Block, ...]:
    """The list, under the one word that serves every language; Canada has it in English and French."""
    if not request.declaration.text:
        return ()
    both = "CA" in request.markets and "fr" in request.spoken
    heading = f"{words.joined('ingredients', ('en', 'fr') if both else ('en',), '{}')}:"
    return (Block("ingredients", request.declaration.text, heading, None, high.ingredients, request.spoken[0],
                  request.markets),)


def _code(request: WordingRequest, words: Words, high: Heights) -> tuple[Block, ...]:
    """The batch code in its display groups, headed in every language; "Lot" is good English and French, for both."""
    both = "CA" in request.markets or {"en", "fr"} <= set(request.spoken)
    languages = ("fr", *(lang for lang in request.spoken if lang != "en")) if both else request.spoken
    heading = words.joined("batch", languages, "{}")
    return (Block("code", THIN_SPACE.join(request.groups), heading, None, high.running, request.spoken[0],
                  _among(request, *EUROPE)),)


def _durability(request: WordingRequest, words: Words, high: Heights) -> tuple[Block, ...]:
    return (*_date(request, words, high), *_opening(request, high))


def _date(request: WordingRequest, words: Words, high: Heights) -> tuple[Block, ...]:
    """Best before: by the hourglass, which needs no words; in words on labels in one language that has settled ones of
    its own: English, and any for which the maker wrote them."""
    date, lang = request.printed_date, request.spoken[0]
    if date is None:
        return ()
    word = words.word("best-before-end", lang) if len(request.spoken) == 1 else None
    spelt = word is not None and word.confidence in ("practice", "maker")
    heading = word.text if word is not None and spelt else ""
    return (Block("date", date.text(lang), heading, None if spelt else "hourglass", high.running, lang,
                  _among(request, *EUROPE)),)


def _opening(request: WordingRequest, high: Heights) -> tuple[Block, ...]:
    """The open jar with its months."""
    opening = request.product.period_after_opening
    if opening is None or not opening_months(opening) or request.shown not in ("jar", "both"):
        return ()
    asked = _among(request, *EUROPE) if request.shown == "jar" else ()
    return (Block("opening", f"{opening_months(opening)}M", "", "open-jar", high.running, request.spoken[0], asked),)


def opening_months(period: Period) -> int:
    """Whole months of a period after opening: the jar has no smaller unit, and none is rounded up."""
    return period.months + period.days // 31


def _e_mark(request: WordingRequest) -> tuple[Block, ...]:
    net = request.product.net
    amount = base_amount(net) if net else None
    if not request.workshop.e_mark or amount is None or not E_MARK_FROM <= amount <= E_MARK_TO:
        return ()
    if not _among(request, *EUROPE):
        return ()
    return (Block("e-mark", "", symbol="e-mark", minimums=(E_MARK,)),)


def _leaflet(request: WordingRequest) -> tuple[Block, ...]:
    """The hand on a book (Art. 19(2), Annex VII point 1) where list or precautions stand elsewhere."""
    asked = _among(request, *EUROPE)
    return (Block("leaflet", "", symbol="hand-on-book", required_by=asked),) if request.elsewhere and asked else ()


def _language_findings(request: WordingRequest) -> list[Finding]:
    """Words of the product that stand in English and in no other language of the label."""
    english = request.words_in("en")
    found = []
    for lang in request.spoken:
        there = request.words_in(lang)
        lacks = [key for key in ("name", "function", "directions", "warnings")
                 if getattr(english, key) and not getattr(there, key)]
        if lacks:
            keys = ", ".join(lacks)
            found.append(Finding("wording.language", "warning", f"there is no {keys} in {lang}",
                                 do=f"write {keys} under [product.text.{lang}]"))
    opening = request.product.period_after_opening
    if opening is not None and not opening_months(opening):
        said = "a period after opening of less than a month cannot stand in the open jar"
        found.append(Finding("wording.opening", "warning", said, limit="whole months",
                             do="write period-after-opening in months, or no-opening-period with the reason"))
    return found


def _heading_findings(text: LabelText, words: Words) -> list[Finding]:
    """A note naming the headings in other languages that nobody checked."""
    printed = {part for block in text.blocks for part in block.heading.rstrip(":\u00a0").split(" / ")}
    origins = [block.text for block in text.blocks if block.name == "origin"]
    printed |= {part.split(":")[0] for origin in origins for part in origin.split(" / ")}
    known = [words.word(key, lang) for key in HEADINGS for lang in text.languages]
    unchecked = [f"{item.text} ({item.lang})" for item in known if item and not item.settled and item.text in printed]
    if not unchecked:
        return []
    said = f"headings from memory, not checked: {', '.join(dict.fromkeys(unchecked))}"
    do = "have a native reader look at them; [words.LANG] of workshop.toml says others, or the same"
    return [Finding("wording.headings", "note", said, confidence="memory", do=do)]
