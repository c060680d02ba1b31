"""What a stock's medium and face mean for the label on it, told when it is printed."""

from __future__ import annotations

import re
from collections.abc import Iterator

from labeltool.finding import Finding
from labeltool.stock.contrast import contrast, red_contrast
from labeltool.stock.model import Stock

INK, WHITE, KRAFT = "#000000", "#ffffff", "#c8a165"  # kraft: a colour like that of brown paper
WISHED, LEAST = 4.5, 3.0
COLOUR = re.compile("#[0-9a-fA-F]{6}")
PATCH = ("printers print no white ink: choose a stock with a light patch under the symbol, or give the symbol a white "
         "label of its own")


def surface(
    stock: Stock, symbol: bool, behind: str | None = None, labels: int | None = None,
) -> tuple[Finding, ...]:
    """Cautions about medium and face. `symbol`: the label has one; `behind`: "#rrggbb" of what clear stock lies on.

    `labels`: how many are printed, so that clear labels to go over them can be counted. An error only where a symbol
    has too little contrast to be scanned.
    """
    return (*_medium(stock, over(stock, labels)), *_face(stock, symbol, behind))


def over(stock: Stock, labels: int | None) -> str:
    """The clear labels that would go over these, in words: "24 clear labels, one over each, …"."""
    width, height = stock.label_mm
    size = f"of {width:g} × {height:g} mm or a little more"
    if labels is None or labels == 1:
        return f"a clear label {size} over {'it' if labels else 'each'}"
    return f"{labels} clear labels {size}, one over each of this print"


def _medium(stock: Stock, clear: str) -> Iterator[Finding]:
    if stock.medium == "direct-thermal":
        yield note("medium.fades", "direct thermal print fades with heat, light, oil and alcohol",
                    f"for a product that stands long, or holds oil: thermal transfer, or {clear}")
    if stock.medium == "inkjet":
        yield note("medium.runs", "most inkjet print runs in water", "rub a wet finger over a printed label; where it "
                    f"runs, take pigment ink and film made for it, or {clear}")
    if stock.medium == "laser" and stock.face == "clear":
        yield note("medium.scuffs", "toner on film scuffs", f"put {clear}")


def _face(stock: Stock, symbol: bool, behind: str | None) -> Iterator[Finding]:
    if behind is not None and stock.face != "clear":
        yield note("face.behind", f"what lies behind {stock.name} does not show: its face is {stock.face}",
                    "leave --behind out")
    if stock.face == "clear" and behind is None:
        patch = f"; {PATCH}" if symbol else ""
        yield note("face.clear", "on clear stock the colour of product or container decides whether text and symbol "
                    "can be read: it is not known here",
                    f'say it: colour = "{KRAFT}" under [container], or --behind "{KRAFT}"{patch}')
        return
    colour = {"clear": behind, "kraft": KRAFT, "white": WHITE}.get(stock.face, stock.face)
    if colour is not None:
        yield from _contrasts(_called(stock, colour), colour, symbol)


def _called(stock: Stock, colour: str) -> str:
    return {"clear": f"what lies behind, {colour}", "kraft": f"kraft, taken as {colour}"}.get(stock.face, colour)


def _contrasts(name: str, colour: str, symbol: bool) -> Iterator[Finding]:
    seen, scanned = contrast(INK, colour), red_contrast(INK, colour)
    if seen < WISHED:
        yield Finding("face.contrast", "warning", f"black on {name} has a contrast of {seen:.1f}:1",
                      limit=f"{WISHED}:1 or more", source="WCAG 2.2, 1.4.3", confidence="practice",
                      do="choose a lighter stock; small type needs it most")
    if symbol and scanned < WISHED:
        text = f"scanners look with red light, in which black on {name} has a contrast of about {scanned:.1f}:1"
        yield Finding("face.symbol", "error" if scanned < LEAST else "warning", text,
                      limit=f"{LEAST:g}:1 at least, {WISHED}:1 or more to be sure", confidence="practice", do=PATCH)


def note(rule: str, text: str, do: str) -> Finding:
    """A note of practice."""
    return Finding(rule, "note", text, confidence="practice", do=do)
