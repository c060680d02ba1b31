"""From the blocks of a label to paragraphs and signs ready for setting; no size is known yet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from labeltool.typeset.breaks import breaks
from labeltool.typeset.frame import Weight
from labeltool.typeset.linebreak import Breakable, breakable
from labeltool.typeset.metrics import FontSet
from labeltool.wording.model import Block, LabelText

Role = Literal["name", "running", "net"]
TRACKING = 0.04  # ems, between capitals of a block that has nothing else
FIGURES = ("code", "date")  # blocks whose figures are tabular and heavier than their heading
BIG = ("name", "brand")
SIGNS_ONLY = ("℮", "e")


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of one weight."""

    text: str
    weight: Weight
    tabular: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Para:
    """One paragraph. `reach`: how far its ink rises above and falls below the baseline, ems."""

    block: str
    pieces: tuple[Piece, ...]
    text: str
    role: Role
    body: Breakable
    reach: tuple[float, float]
    spacing: float = 0.0

    @property
    def width(self) -> float:
        """Its width on one line, ems."""
        return self.body.ends[-1]


@dataclass(frozen=True, slots=True, eq=False)
class Sign:
    """A drawn symbol with the words that stand in it or beside it."""

    block: str
    symbol: str
    words: Para | None
    least_mm: float = 0.0


Item = Para | Sign


def printed_text(block: Block) -> str:
    """A block's words as they are set: heading first, the lines of an address joined by commas."""
    lines = [line.strip() for line in block.text.split("\n") if line.strip()]
    text = ""
    for line in lines:
        text += (" " if text.endswith(",") else ", ") + line if text else line
    return f"{block.heading.strip()} {text}".strip()


def words_of(text: LabelText, names: frozenset[str]) -> tuple[tuple[str, str], ...]:
    """(block, words) of all blocks that an artwork prints, in the order of the label text."""
    return tuple((block.name, printed_text(block)) for block in text.blocks if block.name in names)


def compile_blocks(
    text: LabelText, names: frozenset[str], fonts: FontSet, body: Weight, semibold: tuple[str, ...],
) -> Mapping[str, tuple[Item, ...]]:
    """The items of every carried block by name, the running text in the weight `body`."""
    found: dict[str, list[Item]] = {}
    for block in text.blocks:
        if block.name in names:
            found.setdefault(block.name, []).append(_item(block, fonts, body, semibold))
    return {name: tuple(items) for name, items in found.items()}


def _item(block: Block, fonts: FontSet, body: Weight, semibold: tuple[str, ...]) -> Item:
    words = printed_text(block)
    if block.symbol is None:
        return _para(block, fonts, _pieces(block, words, body, semibold), words)
    least = max((item.height_mm for item in block.minimums), default=0.0) if block.name == "e-mark" else 0.0
    bare = words in SIGNS_ONLY or not words
    inner = None if bare else _para(block, fonts, (Piece(words, "semibold", block.name in FIGURES),), words)
    return Sign(block.name, block.symbol, inner, least)


def _pieces(block: Block, words: str, body: Weight, semibold: tuple[str, ...]) -> tuple[Piece, ...]:
    heading = block.heading.strip()
    if block.name in semibold or not heading:
        heavy = block.name in semibold or block.name in FIGURES
        return (Piece(words, "semibold" if heavy else body, block.name in FIGURES),)
    lead, rest = words[:len(heading) + 1], words[len(heading) + 1:]
    if block.name in FIGURES:
        return (Piece(lead, body), Piece(rest, "semibold", tabular=True))
    return (Piece(lead, "semibold"), Piece(rest, body))


def _para(block: Block, fonts: FontSet, pieces: tuple[Piece, ...], words: str) -> Para:
    spacing = TRACKING if block.name in BIG and words.upper() == words and words.lower() != words else 0.0
    chars = [(fonts.of(piece.weight), char, piece.tabular) for piece in pieces for char in piece.text]
    steps = [font.advance(char, tabular) + spacing for font, char, tabular in chars]
    over = [0.0 if tabular else font.overhang(char) for font, char, tabular in chars]
    names_from = len(words) - len(pieces[-1].text) if block.name == "ingredients" else None
    reaches = [fonts.of(piece.weight).reach(piece.text) for piece in pieces]
    role: Role = "name" if block.name == "name" else "net" if block.name == "net" else "running"
    return Para(
        block.name, pieces, words, role, breakable(steps, breaks(words, names_from), over),
        (max(top for top, _ in reaches), max(bottom for _, bottom in reaches)), spacing,
    )
