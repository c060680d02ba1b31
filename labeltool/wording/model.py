"""LabelText: what a label says, before anything is placed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

BlockName = Literal[
    "brand", "name", "function", "net", "directions", "warnings", "ingredients",
    "code", "date", "opening", "responsible", "origin", "contact", "claims", "qr", "leaflet", "e-mark", "mark",
]
SymbolName = Literal["open-jar", "hourglass", "hand-on-book", "e-mark"]


@dataclass(frozen=True, slots=True)
class Minimum:
    """The smallest height a block's letters may have, mm.

    `measure`: "x" flat x-height of the text; "figure" height of the digits. `borrowed` where no law gives a number.
    """

    height_mm: float
    measure: Literal["x", "figure"]
    source: str
    borrowed: bool = False


@dataclass(frozen=True, slots=True)
class Block:
    """One block of words.

    `heading` runs in before the text in the heavier weight ("Ingredients:"). `symbol` stands before or above the
    text (open jar with its months, hourglass with its date). `minimums`: all that apply; every one must be met.
    Newlines in `text` part an address or a list: a narrow block may set one part a line, a running one joins them
    with ", ".
    """

    name: BlockName
    text: str
    heading: str = ""
    symbol: SymbolName | None = None
    minimums: tuple[Minimum, ...] = ()
    lang: str = "en"
    required_by: tuple[str, ...] = ()  # markets whose law asks for it; empty: the maker's wish


@dataclass(frozen=True, slots=True)
class QrContent:
    """What the QR holds: the exact payload; the symbol is made from it in `symbol`."""

    payload: str


@dataclass(frozen=True, slots=True)
class LabelText:
    """All blocks a label can carry, in reading order, and the QR payload. Artworks choose among them."""

    product: str
    code: str
    blocks: tuple[Block, ...]
    qr: QrContent
    markets: tuple[str, ...]
    languages: tuple[str, ...] = ("en",)

    def block(self, name: str) -> Block | None:
        """The first block of that name, or None."""
        return next((item for item in self.blocks if item.name == name), None)
