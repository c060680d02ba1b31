"""Words on a label that deserve a second look: medicines, drugs, biocides, and the common criteria for claims.

Words only prompt: what a product is depends on its whole presentation, so nothing here is a verdict.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from labeltool.finding import Finding
from labeltool.formula.model import Product, ProductText
from labeltool.rules.model import ClaimAdvice
from labeltool.rules.words import first, plain

Level = Literal["note", "warning", "error"]
CAUTIOUS = ("directions", "warnings")
REACH = 60


@dataclass(frozen=True, slots=True)
class ClaimWord:
    """A row of claims.toml. `kind`: disease, verb or phrase. `level`: of a phrase, or of a word alone (None: none)."""

    kind: str
    words: tuple[str, ...]
    soft: tuple[str, ...]
    unless: tuple[str, ...]
    level: Level | None
    reason: str
    instead: str
    markets: tuple[str, ...]
    if_holds: str | None
    unless_holds: str | None
    with_kind: str | None
    source: str


@dataclass(frozen=True, slots=True)
class ClaimTable:
    """All rows, and the words of cautions and disclaimers."""

    rows: tuple[ClaimWord, ...]
    cautions: tuple[str, ...]
    disclaimers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Holds:
    """What the product holds that claims speak of, and the kinds its words make it."""

    perfume: bool = False
    preservative: bool = False
    kinds: frozenset[str] = frozenset()


def claim_table(table: Mapping[str, Any]) -> ClaimTable:
    """The rows of a parsed claims.toml."""
    rows = tuple(_row(kind, row) for kind in ("disease", "verb", "phrase") for row in table[kind])
    return ClaimTable(rows, tuple(table["cautions"]), tuple(table["disclaimers"]))


def advise_claims(
    table: ClaimTable, product: Product, markets: Sequence[str], holds: Holds,
) -> tuple[ClaimAdvice, ...]:
    """The phrases worth a second look, place by place, each once."""
    rows = [row for row in table.rows if set(row.markets) & set(markets) and _applies(row, holds)]
    found = [advice for where, text in said(product) for advice in _sentences(where, text, rows, table)]
    return tuple(dict.fromkeys(found))


def claim_findings(advice: Iterable[ClaimAdvice]) -> Iterator[Finding]:
    """The warnings among them, as findings."""
    for item in advice:
        if item.level != "note":
            yield Finding(
                "claim.word", item.level, f'"{item.phrase}" in {item.where}: {item.reason}',
                limit="a cosmetic's claims", source=item.source, confidence="practice",
                do=f"look again; safer: {item.instead}",
            )


def unread_languages(product: Product, spoken: Iterable[str]) -> Iterator[Finding]:
    """A note that names the label's languages in which the product has words that no row was looked for in."""
    texts = {lang for lang, text in product.texts if text != ProductText()}
    unread = [lang for lang in dict.fromkeys(spoken) if lang != "en" and lang in texts]
    if unread:
        yield Finding(
            "claim.language", "note",
            f"claims are looked for in English only: the words in {', '.join(unread)} were not searched",
            do="have somebody who speaks it read them for words of medicine",
        )


def said(product: Product) -> Iterator[tuple[str, str]]:
    """The product's own English words, with the key they stand under."""
    owners: list[Product | ProductText] = [product, *(text for lang, text in product.texts if lang == "en")]
    for name in ("name", "function", "directions"):
        for owner in owners:
            text = getattr(owner, name)
            if text:
                yield name, text
    for owner in owners:
        yield from (("warnings", text) for text in owner.warnings)
    yield from (("claims", text) for text in product.claims)


def _applies(row: ClaimWord, holds: Holds) -> bool:
    there = {name for name in ("perfume", "preservative") if getattr(holds, name)}
    if row.if_holds and row.if_holds not in there:
        return False
    return not (row.unless_holds and row.unless_holds in there) and (not row.with_kind or row.with_kind in holds.kinds)


def _sentences(where: str, text: str, rows: Sequence[ClaimWord], table: ClaimTable) -> Iterator[ClaimAdvice]:
    for sentence in re.split(r"[.;!?\n]+", plain(text)):
        if where in CAUTIOUS and first(table.cautions, sentence):
            continue
        yield from _hits(where, sentence, rows, first(table.disclaimers, sentence) is not None)


def _hits(where: str, sentence: str, rows: Sequence[ClaimWord], disclaimed: bool) -> Iterator[ClaimAdvice]:
    diseases = [(row, found) for row in rows if row.kind == "disease" and (found := _disease(row, sentence))]
    verbs = [(row, found) for row in rows if row.kind == "verb" and (found := first(row.words, sentence, row.unless))]
    for row, found in diseases:
        yield _of_disease(where, sentence, row, found, verbs, disclaimed)
    for row, found in verbs:
        if row.level and not diseases:
            yield _advice(where, found.group(), row, row.level, disclaimed)
    for row in rows:
        hit = first(row.words, sentence, row.unless) if row.kind == "phrase" else None
        if hit and row.level:
            yield _advice(where, hit.group(), row, row.level, disclaimed)


def _disease(row: ClaimWord, sentence: str) -> re.Match[str] | None:
    return first(row.words, sentence, (*row.unless, *row.soft)) or first(row.soft, sentence)


def _of_disease(
    where: str, sentence: str, row: ClaimWord, found: re.Match[str], verbs: Sequence[tuple[ClaimWord, re.Match[str]]],
    disclaimed: bool,
) -> ClaimAdvice:
    near = [(verb, hit) for verb, hit in verbs if abs(hit.start() - found.start()) <= REACH]
    soft = first(row.soft, sentence)
    if soft and not first(row.words, sentence, (*row.unless, *row.soft)):
        return _advice(where, soft.group(), row, "note", disclaimed)
    if not near:
        return _advice(where, found.group(), row, row.level or "note", disclaimed)
    verb, hit = near[0]
    start, end = min(hit.start(), found.start()), max(hit.end(), found.end())
    reason = f"{hit.group()} … {found.group()}: what is presented as acting on a disease is a medicine, or a drug"
    level: Level = "note" if disclaimed else "warning"
    return ClaimAdvice(sentence[start:end], where, level, reason, row.instead, f"{row.source}; {verb.source}")


def _advice(where: str, phrase: str, row: ClaimWord, level: Level, disclaimed: bool) -> ClaimAdvice:
    reason = row.reason or "the name of a disease or complaint: a claim to act on it would make the product a medicine"
    return ClaimAdvice(phrase, where, "note" if disclaimed else level, reason, row.instead, row.source)


def _row(kind: str, row: Mapping[str, Any]) -> ClaimWord:
    return ClaimWord(
        kind, tuple(row["words"]), tuple(row.get("soft", ())), tuple(row.get("unless", ())),
        row.get("level", row.get("alone")), row.get("reason", ""), row["instead"], tuple(row["markets"]),
        row.get("if-holds"), row.get("unless-holds"), row.get("with-kind"), row["source"],
    )
