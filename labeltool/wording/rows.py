"""Rows of the audit, built from the label's blocks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from labeltool.rules.model import Element
from labeltool.wording.cautions import lacking
from labeltool.wording.model import Block, LabelText
from labeltool.wording.request import WordingRequest, languages_of

State = Literal["present", "missing", "not-needed", "maker"]


@dataclass(frozen=True, slots=True)
class Rows:
    """Makes the rows of one market from one label's words."""

    market: str
    request: WordingRequest
    text: LabelText

    def row(self, element: str, state: State, text: str, source: str, block: str | None = None,
            do: str | None = None) -> Element:
        """One row."""
        return Element(element, self.market, state, text, source, block, do)

    def carried(self, element: str, block: str, source: str, lacks: str, do: str | None) -> Element:
        """A row that is present where the block is, and missing where it is not."""
        said = shown(self.blocks(block))
        return self.row(element, "present" if said else "missing", said or lacks, source, block, None if said else do)

    def blocks(self, name: str) -> tuple[Block, ...]:
        """The label's blocks of that name."""
        return tuple(block for block in self.text.blocks if block.name == name)

    def languages(self) -> tuple[str, ...]:
        """The languages this market wants, in the label's order where it speaks them."""
        return languages_of(self.market, self.request.spoken)

    def absent(self, key: Literal["function", "warnings"]) -> tuple[str, ...]:
        """The wanted languages that lack the maker's words of that key, though English or another has them."""
        said = {lang for lang in self.request.spoken if getattr(self.request.words_in(lang), key)}
        there = said or getattr(self.request.product, key)
        return tuple(lang for lang in self.languages() if lang not in said) if there else ()

    def precautions(self, source: str, none: str, *, makers: bool) -> list[Element]:
        """The warnings as they are printed, and a row for each that lacks a language this market wants.

        `makers`: the law wants the maker's own precautions translated too.
        """
        printed = shown(block for block in self.blocks("warnings") if self.market in block.required_by)
        rows = [self.row("precautions", "present" if printed else "maker", printed or none, source, "warnings")]
        for item, lang in lacking(self.request):
            if item.market == self.market:
                own = bool(self.request.words_in(lang).warnings)
                said = f"in {lang}: {item.text}"
                rows.append(self.row("precautions", "maker" if own else "missing", said, item.source, "warnings",
                                     f"write it in {lang} into the warnings of [product.text.{lang}]"))
        for lang in self.absent("warnings") if makers else ():
            rows.append(self.row("precautions", "missing", f"the maker's own warnings, in {lang}", source, "warnings",
                                 f"write warnings under [product.text.{lang}]"))
        return rows


def shown(blocks: Iterable[Block]) -> str:
    """The words of blocks as one line."""
    lines = (" ".join(part for part in (block.heading, block.text.replace("\n", ", ")) if part) for block in blocks)
    return " / ".join(line for line in lines if line)
