"""From the blocks of a label to paragraphs and signs ready for setting; no size is known yet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from labeltool.symbol.logo import Logo
from labeltool.typeset.breaks import Break, address_breaks, breaks, led_breaks
from labeltool.typeset.frame import Weight
from labeltool.typeset.linebreak import Breakable, breakable
from labeltool.typeset.metrics import FontSet
from labeltool.typeset.printed import FIGURES, lines_of, printed_heading, printed_text
from labeltool.wording.model import Block, LabelText

Role = Literal["name", "running", "net"]
TRACKING = 0.04  # ems, between capitals of a block that has nothing else
BIG = ("name", "brand")
LOGO = "logo"
SIGNS_ONLY = ("℮", "e")


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of one weight."""

    text: str
    weight: Weight
    tabular: bool = False
    spacing: float = 0.0  # ems after each character


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
    """A drawn symbol with the words that stand in it or beside it, or the maker's logo."""

    block: str
    symbol: str
    words: Para | None
    least_mm: float = 0.0
    logo: Logo | None = None


Item = Para | Sign


def compile_blocks(
    text: LabelText, names: frozenset[str], fonts: FontSet, body: Weight, semibold: tuple[str, ...],
    big: tuple[str, ...] = ("name",),
) -> Mapping[str, tuple[Item, ...]]:
    """The items of every carried block by name: running text in the weight `body`, `big` blocks in the name's size."""
    found: dict[str, list[Item]] = {}
    for block in text.blocks:
        if block.name in names:
            found.setdefault(block.name, []).extend(_items(block, fonts, body, semibold, big))
    return {name: tuple(items) for name, items in found.items()}


def _items(
    block: Block, fonts: FontSet, body: Weight, semibold: tuple[str, ...], big: tuple[str, ...],
) -> tuple[Item, ...]:
    """A block as its paragraphs, most often one, or as its sign."""
    if block.symbol is None:
        heading = printed_heading(block, body, fonts)
        role: Role = "name" if block.name in big else "net" if block.name == "net" else "running"
        return tuple(_para(block, fonts, _pieces(block, heading, words, body, semibold), words, role)
                     for words in lines_of(block, heading))
    words = printed_text(block)
    least = max((item.height_mm for item in block.minimums), default=0.0) if block.name == "e-mark" else 0.0
    bare = words in SIGNS_ONLY or not words
    inner = None if bare else _para(block, fonts, (Piece(words, "semibold", block.name in FIGURES),), words)
    return (Sign(block.name, block.symbol, inner, least),)


def _pieces(
    block: Block, heading: str, words: str, body: Weight, semibold: tuple[str, ...],
) -> tuple[Piece, ...]:
    if block.name in semibold or not heading:
        heavy = block.name in semibold or block.name in FIGURES
        return (Piece(words, "semibold" if heavy else body, block.name in FIGURES),)
    lead, rest = words[:len(heading) + 1], words[len(heading) + 1:]
    if block.name in FIGURES:
        return (Piece(lead, body), Piece(rest, "semibold", tabular=True))
    capitals = heading != block.heading.strip()
    return (Piece(lead, "semibold", spacing=TRACKING if capitals else 0.0), Piece(rest, body))


def _para(block: Block, fonts: FontSet, pieces: tuple[Piece, ...], words: str, role: Role = "running") -> Para:
    spacing = TRACKING if block.name in BIG and words.upper() == words and words.lower() != words else 0.0
    chars = [(fonts.of(piece.weight), char, piece) for piece in pieces for char in piece.text]
    steps = [font.advance(char, piece.tabular) + spacing + piece.spacing for font, char, piece in chars]
    over = [0.0 if piece.tabular else font.overhang(char) for font, char, piece in chars]
    reaches = [fonts.of(piece.weight).reach(piece.text) for piece in pieces]
    return Para(
        block.name, pieces, words, role, breakable(steps, _breaks(block, pieces, words), over),
        (max(top for top, _ in reaches), max(bottom for _, bottom in reaches)), spacing,
    )


def _breaks(block: Block, pieces: tuple[Piece, ...], words: str) -> tuple[Break, ...]:
    """Where a block's lines may end: a list of names, an address and a dated heading have their own tastes."""
    if block.name == "ingredients":
        return breaks(words, len(words) - len(pieces[-1].text))
    if block.name == "responsible":
        return address_breaks(words)
    if block.name in FIGURES and len(pieces) > 1:
        return led_breaks(words, len(pieces[0].text))
    return breaks(words)
