"""Warnings of a label: the law's words first, then the maker's, then what good practice adds and nobody said yet."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from labeltool.finding import Finding
from labeltool.formula.model import Product
from labeltool.rules.model import WarningAdvice
from labeltool.wording.minimums import Heights
from labeltool.wording.model import Block
from labeltool.wording.request import WordingRequest, languages_of
from labeltool.wording.words import Words

# What counts as said already, in the languages of the table (word beginnings, any case)
SAID = {
    "external-use": r"external|äußerlich|usage externe|uso externo|uso esterno|uitwendig|zewnętrzn"
                    r"|εξωτερικ|not to be swallowed",
    "avoid-eyes": r"\beyes?\b|augen|yeux|ojos|occhi|ogen|\bocz|olhos|ögon|μάτι|ματι",
    "irritation": r"irritation|irritación|irritazione|irritatie|irritação|podrażn|ερεθισμ|stop us|discontinue"
                  r"|\brash|reizung",
    "children": r"reach of children|reichweite von kindern|portée des enfants|alcance de los niños|portata dei bambini"
                r"|bereik van kinderen|alcance das crianças|åtkomligt för barn|przed dziećmi|dla dzieci"
                r"|μακριά από (τα )?παιδιά",
}
SAID["rinse-eyes"] = SAID["avoid-eyes"]
SAID["professional"] = r"profession|profesional|profesjonal|gewerblich|beroepsmatig|επαγγελματ|yrkes|profissional"
SIGNALS = ("Warning—", "Caution—", "Sunburn Alert:")


@dataclass(frozen=True, slots=True)
class Spoken:
    """The warnings in one language: `own_signal` texts stand alone, each with its own signal word; the rest run on."""

    lang: str
    texts: tuple[str, ...]
    own_signal: tuple[WarningAdvice, ...]
    us_law: bool


def general(product: Product) -> tuple[str, ...]:
    """Keys of the cautions that good practice prints on such a product; law asks for none of them.

    Nothing about eyes on what goes round the eyes, nor on lip, mouth and nail products; "rinse" on what is rinsed off;
    "external use only" on what stays on the skin; "children" neither on children's products, nor on bars and lip balms.
    """
    areas = set(product.body_area)
    inner = bool(areas) and areas <= {"lips", "mouth"}
    keys = ["professional"] if product.professional else []
    if product.use != "rinse-off" and not areas & {"lips", "mouth", "eyes"}:
        keys.append("external-use")
    if "eyes" not in areas and not (areas and areas <= {"lips", "mouth", "nails"}):
        keys.append("rinse-eyes" if product.use == "rinse-off" else "avoid-eyes")
    keys.append("irritation")
    if not inner and product.form != "bar" and not {"children", "under-3"} & set(product.users):
        keys.append("children")
    return tuple(keys)


def spoken(request: WordingRequest, words: Words, lang: str) -> Spoken:
    """All warnings of the label in one language, none twice."""
    law = [item for item in request.warnings if _printed(item, request, lang)]
    own_signal = [item for item in law if item.text.startswith(SIGNALS)]
    texts = [item.text for item in law if item not in own_signal]
    texts += request.words_in(lang).warnings
    said = " ".join((*texts, *(item.text for item in own_signal)))
    texts += [words.text(key, lang) for key in _unsaid(request.product, said) if _settled(key, words, lang)]
    us_law = any(item.market == "US" for item in law if item not in own_signal)
    return Spoken(lang, _once(texts), _once_advice(own_signal), us_law)


def _printed(item: WarningAdvice, request: WordingRequest, lang: str) -> bool:
    return item.required and item.lang == lang and item.market in request.markets


def _unsaid(product: Product, said: str) -> tuple[str, ...]:
    return tuple(key for key in general(product) if not re.search(SAID[key], said, re.IGNORECASE))


def _settled(key: str, words: Words, lang: str) -> bool:
    """Whether a general caution can be printed in a language: a caution in one language beats one in none."""
    found = words.word(key, lang)
    return found is not None and found.settled


def _key(text: str) -> str:
    return " ".join(text.casefold().split()).rstrip(".!")


def _once(texts: Iterable[str]) -> tuple[str, ...]:
    found: dict[str, str] = {}
    for text in texts:
        if text.strip():
            found.setdefault(_key(text), text.strip())
    return tuple(found.values())


def _once_advice(items: Sequence[WarningAdvice]) -> tuple[WarningAdvice, ...]:
    found: dict[str, WarningAdvice] = {}
    for item in items:
        found.setdefault(_key(item.text), item)
    return tuple(found.values())


def sentences(texts: Iterable[str]) -> str:
    """Texts one after the other, each with a full stop where it has no end of its own."""
    return " ".join(text if text.endswith((".", "!", "?", ":")) else f"{text}." for text in texts)


def warning_blocks(request: WordingRequest, words: Words, high: Heights) -> tuple[Block, ...]:
    """The warnings in each language: one block that runs on, and one for each text with a signal word of its own."""
    blocks: list[Block] = []
    for lang in request.spoken:
        said = spoken(request, words, lang)
        blocks += [_signal_block(item, high) for item in said.own_signal]
        if said.texts:
            heading = heading_of(words, "caution", lang)
            minimums = high.us_warning if said.us_law else high.running
            asked = tuple(market for market in request.markets if lang in languages_of(market, request.spoken))
            blocks.append(Block("warnings", sentences(said.texts), heading=heading, minimums=minimums, lang=lang,
                                required_by=asked))
    return tuple(blocks)


def _signal_block(item: WarningAdvice, high: Heights) -> Block:
    """Texts of 21 CFR 740 are bold throughout (740.2(a)), so they are all heading; of the others the signal word is."""
    signal = next(signal for signal in SIGNALS if item.text.startswith(signal))
    heading, text = (signal, item.text[len(signal):].strip()) if signal.endswith(":") else (item.text, "")
    return Block("warnings", text, heading=heading, minimums=high.us_warning if item.market == "US" else high.running,
                 lang=item.lang, required_by=(item.market,))


def heading_of(words: Words, key: str, lang: str) -> str:
    """A heading with its colon; French puts a no-break space before it."""
    return f"{words.text(key, lang)}{chr(0xA0) if lang == 'fr' else ''}:"


def warning_findings(request: WordingRequest, words: Words) -> tuple[Finding, ...]:
    """Warnings proposed but not printed, and texts of law that no language of the label has."""
    return (*_proposed(request), *_untranslated(request), *_cautions_left(request, words))


def _proposed(request: WordingRequest) -> list[Finding]:
    """Texts from memory or practice: shown to the maker, printed once the maker has written them down."""
    return [
        Finding("warnings.proposed", "warning", f"proposed, not checked against the text of law: {item.text}",
                market=item.market, source=item.source, confidence=item.confidence,
                do=f"if it applies, write it into the warnings of [product] ({item.lang})")
        for item in request.warnings
        if not item.required and item.lang in request.spoken and not _adopted(item, request)
    ]


def lacking(request: WordingRequest) -> tuple[tuple[WarningAdvice, str], ...]:
    """Required warnings with a language that their market wants and that has no text.

    A text counts where it is checked, or proposed and taken over by the maker word for word.
    """
    groups: dict[tuple[str, str], list[WarningAdvice]] = {}
    for item in request.warnings:
        if item.market in request.markets and (item.required or _adopted(item, request)):
            groups.setdefault((item.market, item.because), []).append(item)
    return tuple(
        (item, lang)
        for (market, _), items in groups.items()
        for lang in languages_of(market, request.spoken)
        for item in _left(items, lang)
    )


def _adopted(item: WarningAdvice, request: WordingRequest) -> bool:
    """Whether the maker's own warnings hold the text."""
    return _key(item.text) in {_key(text) for text in request.words_in(item.lang).warnings}


def _left(items: Sequence[WarningAdvice], lang: str) -> Sequence[WarningAdvice]:
    """Those required texts of one cause, in the language that has most of them, which `lang` has no match for."""
    required = [item for item in items if item.required]
    tongues = dict.fromkeys(item.lang for item in required)
    fullest = max(([item for item in required if item.lang == tongue] for tongue in tongues), key=len, default=[])
    there = [item for item in items if item.lang == lang]
    unmatched = [item for item in fullest if item.source not in {found.source for found in there}]
    short = len(fullest) - len(there)
    return (unmatched if len(unmatched) >= short else fullest)[-short:] if short > 0 else ()


def _untranslated(request: WordingRequest) -> list[Finding]:
    found = []
    for item, lang in lacking(request):
        do = f"write it into the warnings of [product.text.{lang}]"
        if request.words_in(lang).warnings:
            do = f"make sure that your warnings in {lang} say it"
        text = f"no checked text in {lang} for the required warning: {item.text}"
        found.append(Finding("warnings.language", "warning", text, market=item.market, source=item.source, do=do))
    return found


def _cautions_left(request: WordingRequest, words: Words) -> list[Finding]:
    """General cautions that are not printed since a language of the label lacks a settled text."""
    found = []
    for lang in request.spoken:
        said = spoken(request, words, lang)
        everything = " ".join((*said.texts, *(item.text for item in said.own_signal)))
        left = [item for key in _unsaid(request.product, everything) if (item := words.word(key, lang))]
        if left and lang != "en":
            text = f"general cautions left out in {lang}, not checked: {' '.join(item.text for item in left)}"
            found.append(Finding("warnings.general", "note", text, confidence="memory",
                                 do=f"write those you want into [product.text.{lang}] warnings, or for every product "
                                    f"into [words.{lang}] of workshop.toml ({', '.join(item.key for item in left)})"))
    return found
