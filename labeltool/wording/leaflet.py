"""The leaflet of Regulation (EC) No 1223/2009, Art. 19(2): which words may leave the label.

Precautions (Art. 19(1)(d)) and the list of ingredients (19(1)(g)) may stand on an enclosed or attached leaflet where it
is impossible for practical reasons to label them; the symbol of Annex VII, point 1, then refers to it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeltool.finding import Finding
from labeltool.wording.model import Block, LabelText

MARKETS = ("UK", "EU")
STEPS: tuple[frozenset[str], ...] = (frozenset({"ingredients"}), frozenset({"ingredients", "warnings"}))
SOURCE = "Regulation (EC) No 1223/2009, Art. 19(2) and Annex VII, point 1"
CALLED = {"ingredients": "the list of ingredients", "warnings": "the warnings"}
OTHERS = {
    "US": ("21 CFR 701.3(b), (i)", "the list stands on the package; only small ones in display racks have it off it"),
    "CA": ("C.R.C., c. 869, ss. 21.2 to 21.5", "a tag, tape or card, or a website that it names, serves small ones"),
}

NEEDLESS = Finding(
    "leaflet.needless", "warning", "all of it fits on this label without a leaflet",
    limit="a leaflet only where it is impossible for practical reasons to label them", source=SOURCE,
    do="leave --leaflet out",
)


def refusals(markets: Sequence[str]) -> tuple[Finding, ...]:
    """An error for each market whose law does not take a leaflet in place of the label."""
    return tuple(
        Finding("leaflet.market", "error", f"no leaflet takes the list of ingredients off a label for {market}",
                market=market, limit=OTHERS[market][1], source=OTHERS[market][0],
                do=f"leave --leaflet out, or make a label of its own for {market}")
        for market in markets if market not in MARKETS
    )


def without(text: LabelText) -> tuple[LabelText, ...]:
    """The label's words with the list, then with the warnings too, in a leaflet: each with the symbol instead."""
    steps = [step for step in STEPS if any(text.block(name) for name in step)]
    return tuple(dict.fromkeys(_moved(text, step) for step in steps))


def _moved(text: LabelText, names: frozenset[str]) -> LabelText:
    sign = Block("leaflet", "", symbol="hand-on-book", lang=text.languages[0], required_by=text.markets)
    kept = tuple(block for block in text.blocks if block.name not in names)
    return replace(text, blocks=(*kept, sign))


def moved(full: LabelText, label: LabelText) -> tuple[Block, ...]:
    """The blocks that left the label for the leaflet, in reading order: warnings before the list."""
    return tuple(block for block in full.blocks if block.name in CALLED and block not in label.blocks)


def in_leaflet(full: LabelText, label: LabelText) -> str:
    """What left the label, in words: "the warnings and the list of ingredients"."""
    return " and ".join(CALLED[name] for name in dict.fromkeys(block.name for block in moved(full, label)))


def told(full: LabelText, label: LabelText) -> Finding:
    """The note that goes with every leaflet: what stands in it, and on which condition."""
    return Finding(
        "leaflet.reason", "note", f"in the leaflet instead of on the label: {in_leaflet(full, label)}",
        limit="only where it is impossible for practical reasons to label them", source=SOURCE,
        do="enclose or attach one with each, and keep the reason with the product's papers; where there is a box, the "
           "symbol for the list belongs on the box",
    )
