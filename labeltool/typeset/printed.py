"""A block's words as they are printed: heading first, lines joined, headings in capitals on heavy text."""

from __future__ import annotations

import unicodedata

from labeltool.typeset.frame import Weight
from labeltool.typeset.metrics import FontSet
from labeltool.wording.model import Block, LabelText

LISTED = ("claims",)  # blocks whose lines stay paragraphs of their own
FIGURES = ("code", "date")  # blocks whose heading is lighter than what it leads to
ACUTE = "\u0301"


def lines_of(block: Block, heading: str) -> tuple[str, ...]:
    """The paragraphs of a block under this heading: the lines of an address are one, joined by commas."""
    lines = [line.strip() for line in block.text.split("\n") if line.strip()]
    if block.name in LISTED and len(lines) > 1:
        return (f"{heading} {lines[0]}".strip(), *lines[1:])
    text = ""
    for line in lines:
        text += (" " if text.endswith(",") else ", ") + line if text else line
    return (f"{heading} {text}".strip(),)


def printed_text(block: Block, heading: str | None = None) -> str:
    """A block's words as they are set, a line a paragraph; `heading` instead of its own where given."""
    return "\n".join(lines_of(block, block.heading.strip() if heading is None else heading))


def printed_heading(block: Block, body: Weight, fonts: FontSet) -> str:
    """The heading as it is set: in capitals where the running text is nearly as heavy as a heading.

    Thermal stock at 203 dpi needs heavy running text, and a label has two weights at most.
    """
    heading = block.heading.strip()
    if body == "regular" or block.name in FIGURES or block.symbol is not None:
        return heading
    large = capitals(heading)
    return large if all(fonts.semibold.has(char) for char in large) else heading


def capitals(text: str) -> str:
    """A text in capitals. Greek capitals bear no accent."""
    found = text.upper()
    if not any("GREEK" in unicodedata.name(char, "") for char in found):
        return found
    return unicodedata.normalize("NFC", unicodedata.normalize("NFD", found).replace(ACUTE, ""))


def words_of(
    text: LabelText, names: frozenset[str], body: Weight, fonts: FontSet,
) -> tuple[tuple[str, str], ...]:
    """(block, words) of all blocks that an artwork prints, in the order of the label text."""
    return tuple((block.name, printed_text(block, printed_heading(block, body, fonts)))
                 for block in text.blocks if block.name in names)
