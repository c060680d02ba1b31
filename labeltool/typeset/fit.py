"""One label set: the best arrangement of an artwork for a text on a stock, as a Frame, or why there is none."""

from __future__ import annotations

from labeltool.finding import Finding
from labeltool.stock.model import Stock
from labeltool.symbol.model import QrMatrix
from labeltool.typeset.artmodel import Artwork, blocks_of
from labeltool.typeset.frame import Frame
from labeltool.typeset.metrics import FontSet, missing_glyphs
from labeltool.typeset.misfit import Misfit, misfit, refused
from labeltool.typeset.place import frame
from labeltool.typeset.printed import printed_text, words_of
from labeltool.typeset.search import Fit, Trial
from labeltool.wording.model import LabelText

__all__ = ["Misfit", "typeset"]

LATER = 1.08  # how much larger the type of a later arrangement must be
MARGIN_WORTH = 0.03  # what the full margin is worth, as a share of the type size


def typeset(
    text: LabelText, artwork: Artwork, stock: Stock, qr: QrMatrix | None, fonts: FontSet, *,
    container_circumference_mm: float | None = None, widest_symbol_mm: float | None = None,
) -> Frame | Misfit:
    """The Frame of a label, its running text as large as fits (x-height down to 0.01 mm, 2.2 mm at most).

    Blocks that the artwork has no place for are left out; blocks the text lacks leave no gap. A Misfit says by how
    much the label is too small and what would help; it never comes with text left out, letters narrowed or a minimum
    broken. `widest_symbol_mm`: what phones read on the container; a symbol that cannot be so small is set all the same.
    """
    names = blocks_of(artwork.variants[0])
    printed = [block for block in text.blocks if block.name in names and block.symbol != "e-mark"]
    faults = missing_glyphs([(block.name, printed_text(block)) for block in printed], fonts)
    if faults:
        return refused(faults)
    width, height = stock.label_mm
    variants = [item for item in artwork.variants if item.when.holds(stock.shape, width, height)]
    if not variants:
        return refused((_no_arrangement(artwork, stock),))
    ends = wrap_ends(artwork, stock, container_circumference_mm)
    if isinstance(ends, Finding):
        return refused((ends,))
    symbol = qr if "qr" in names else None
    trials = [Trial(text, artwork, variant, stock, symbol, fonts, ends, 0.0, widest_symbol_mm) for variant in variants]
    best = _best(trials)
    if best is None:
        return misfit(trials)
    trial, fit = best
    found = trial.set(fit.step, fit.terms, fit.body, fit.leading, earnest=True)
    assert found is not None, "what fits in a draft fits in earnest"
    return frame(found, artwork.name, stock, symbol, words_of(text, names, fit.body, fonts))


def _best(trials: list[Trial]) -> tuple[Trial, Fit] | None:
    """The first arrangement that reaches its comfortable size, else a later one only where its type is much larger."""
    found: list[tuple[Trial, Fit]] = []
    for trial in trials:
        fit = trial.best()
        if fit is not None and fit.x_mm >= trial.variant.comfort_mm - 1e-9:
            return trial, fit
        if fit is not None:
            found.append((trial, fit))
    best: tuple[Trial, Fit] | None = None
    for pair in found:
        if best is None or _worth(pair[1]) > LATER * _worth(best[1]):
            best = pair
    return best


def _worth(fit: Fit) -> float:
    return fit.step * (1 + MARGIN_WORTH * fit.terms.margin)


def wrap_ends(artwork: Artwork, stock: Stock, circumference_mm: float | None) -> tuple[float, float] | Finding:
    """What is kept clear at the left and right end, mm: where the label meets itself on the container.

    Either end may lie on top, so both stay clear by the overlap. With the container unknown, the artwork's own figure
    is kept at the right.
    """
    width = stock.label_mm[0]
    if circumference_mm is None or stock.shape != "rectangle":
        return (0.0, artwork.overlap_mm if stock.shape == "rectangle" else 0.0)
    over = width - circumference_mm
    if over <= 0:
        return (0.0, 0.0)
    if over > width / 4:
        return Finding(
            "typeset.circumference", "error",
            f"the label is {width:g} mm long and the container {circumference_mm:.1f} mm round: "
            f"{over:.1f} mm would be covered",
            limit=f"an overlap of at most a quarter of the label, {width / 4:.1f} mm",
            do="choose a shorter label for this container",
        )
    return (over, over)


def _no_arrangement(artwork: Artwork, stock: Stock) -> Finding:
    shapes = sorted({shape for variant in artwork.variants for shape in variant.when.shapes})
    width, height = stock.label_mm
    return Finding(
        "typeset.arrangement", "error",
        f"the artwork {artwork.name} has no arrangement for a {stock.shape} label of {width:g} × {height:g} mm",
        limit=f"shapes: {', '.join(shapes)}", do="choose another artwork or another stock",
    )
