"""From raw materials to what the product is made of: lines, substances, and the proof of the order."""

from __future__ import annotations

from collections.abc import Sequence

from labeltool.compose.colours import ColourTable
from labeltool.compose.identity import Book
from labeltool.compose.lines import drafts, lines, may_contain_lines
from labeltool.compose.model import Composition
from labeltool.compose.names import NameTable
from labeltool.compose.order import doubts
from labeltool.compose.parts import Part
from labeltool.compose.substances import substances
from labeltool.formula.model import MayContain


def compose(
    parts: Sequence[Part],
    may_contain: Sequence[MayContain],
    names: NameTable,
    colours: ColourTable,
) -> Composition:
    """What the parts make: declared lines in the EU/UK order, all substances, and the doubts of the order.

    Percents are of the formula's 100. What is declared as made replaces what was added in the lines; the substances
    keep both (see `substances`). Raises InputError for a material whose ranges cannot sum to 100 %.
    """
    book = Book(names, colours)
    found = drafts(parts, book)
    return Composition(
        lines=lines(found) + may_contain_lines(may_contain, book),
        substances=substances(parts, book),
        doubts=doubts(found),
    )
