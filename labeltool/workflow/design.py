"""Words set on a stock with one or more artworks; and the choice of both where the maker named none."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from labeltool import tables
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.formula.model import Container
from labeltool.stock.band import CUT, banded, marks_of
from labeltool.stock.model import Stock
from labeltool.stock.onto import suits
from labeltool.symbol.logo import read_logo
from labeltool.symbol.model import QrMatrix
from labeltool.symbol.qr import matrix
from labeltool.typeset.artwork import Artwork, carries, parse_artwork
from labeltool.typeset.fit import Misfit, typeset
from labeltool.typeset.frame import Frame, Rule
from labeltool.wording.model import LabelText
from labeltool.workflow import layouts
from labeltool.workflow.curving import widest_symbol_mm

LEAST_LETTER_MM2 = 0.8  # 0.9 mm x-height set as close as it may be; about half of what words really take
WHOLE = ("back", "front-and-back", "wrap")  # artworks that carry a whole label alone


@dataclass(frozen=True, slots=True)
class Design:
    """A label's words set on one stock: one frame an artwork."""

    stock: Stock
    artworks: tuple[Artwork, ...]
    frames: tuple[Frame, ...]
    notes: tuple[Finding, ...] = ()

    @property
    def carried(self) -> frozenset[str]:
        """The blocks that the artworks have a place for."""
        return carried(self.artworks)


def carried(artworks: Sequence[Artwork]) -> frozenset[str]:
    """The blocks that any of the artworks has a place for."""
    return frozenset().union(*(carries(item) for item in artworks))


def find_artworks(names: Sequence[str], workshop: Path | None) -> tuple[Artwork, ...]:
    """The artworks of these names, the maker's own first. Raises InputError with every fault."""
    found, faults = [], []
    for name in names:
        artwork, findings = parse_artwork(name, layouts.artwork_table(name, workshop))
        faults += [item for item in findings if item.level == "error"]
        if artwork is not None and artwork.logo_file is not None:
            artwork = _with_logo(artwork, artwork.logo_file, workshop, faults)
        if artwork is not None:
            found.append(artwork)
    if faults:
        raise InputError(faults)
    return tuple(found)


def _with_logo(artwork: Artwork, file: str, workshop: Path | None, faults: list[Finding]) -> Artwork:
    """The artwork with its logo read; what is wrong with it is added to the faults."""
    try:
        logo = read_logo(file, layouts.logo_bytes(artwork.name, file, workshop), artwork.logo_mm)
        if isinstance(logo, Finding):
            faults.append(logo)
            return artwork
        if logo.data:
            from labeltool.output.images import in_greys

            in_greys(logo.data, file=file)
    except InputError as error:
        faults += error.findings
        return artwork
    return replace(artwork, logo=logo)


def pictures(artworks: Iterable[Artwork]) -> dict[str, bytes]:
    """The pictures that artworks are drawn with, by SHA-256."""
    return {item.logo.sha256: item.logo.data for item in artworks if item.logo is not None and item.logo.data}


def circumference_mm(container: Container | None) -> float | None:
    """The girth of a cylinder or box, mm; None where it is not known."""
    if container is None:
        return None
    if container.shape == "cylinder" and container.diameter_mm is not None:
        return math.pi * float(container.diameter_mm)
    if container.shape == "box" and container.width_mm is not None and container.depth_mm is not None:
        return 2 * float(container.width_mm + container.depth_mm)
    return None


def design(text: LabelText, stock: Stock, artworks: Sequence[Artwork], container: Container | None) -> Design:
    """The frames of one label. Raises InputError with what is too large, by how much, and what would help."""
    qr = matrix(text.qr.payload)
    stock = band_for(stock, container)
    _refuse_flood(text, stock, artworks)
    frames, faults = [], []
    for artwork in artworks:
        result = _set(text, artwork, stock, qr, container)
        if isinstance(result, Misfit):
            faults += list(result.findings)
        else:
            frames.append(_marked(result, stock))
    if faults:
        raise InputError(faults)
    return Design(stock, tuple(artworks), tuple(frames))


def band_for(stock: Stock, container: Container | None) -> Stock:
    """The stock with its labels as long as the container wants them. Raises InputError where the paper is too short."""
    found = banded(stock, circumference_mm(container))
    if isinstance(found, Finding):
        raise InputError((found,))
    return found


def _marked(frame: Frame, stock: Stock) -> Frame:
    """The frame with cut marks at its corners, where its label is cut out by hand."""
    if stock.marks != CUT:
        return frame
    rules = (Rule(*spot, block="cut") for spot in marks_of(frame.width_mm, frame.height_mm))
    return replace(frame, items=(*frame.items, *rules))


def _refuse_flood(text: LabelText, stock: Stock, artworks: Sequence[Artwork]) -> None:
    """Raise InputError for words that could not stand on the label if all of it were paper for the smallest type."""
    there = carried(artworks)
    letters = sum(len(block.heading) + len(block.text) for block in text.blocks if block.name in there)
    area = stock.label_mm[0] * stock.label_mm[1]
    if letters * LEAST_LETTER_MM2 > area:
        raise input_error("typeset.flood", f"{letters:,} letters on a label of {area:,.0f} mm²",
                          limit=f"about {area / LEAST_LETTER_MM2:,.0f} letters of the smallest type",
                          do="choose a larger stock, or say less")


def short_mm2(text: LabelText, stock: Stock, artworks: Sequence[Artwork], container: Container | None) -> float:
    """The area that the label which lacks most lacks, mm²; 0 where room is not the trouble."""
    qr, stock = matrix(text.qr.payload), band_for(stock, container)
    results = [_set(text, artwork, stock, qr, container) for artwork in artworks]
    return max((item.short_mm2 for item in results if isinstance(item, Misfit)), default=0.0)


def _set(
    text: LabelText, artwork: Artwork, stock: Stock, qr: QrMatrix, container: Container | None,
) -> Frame | Misfit:
    return typeset(
        text, artwork, stock, qr, tables.fonts(), container_circumference_mm=circumference_mm(container),
        widest_symbol_mm=widest_symbol_mm(container, stock, artwork.name, qr.version),
    )


def choose(
    text: LabelText, container: Container | None, workshop: Path | None, *, stock: str | None,
    artworks: Sequence[str], letter: bool,
) -> Design:
    """The smallest built-in sheet stock (Letter or A4) and the first artwork that hold the label at legal size.

    A stock or artwork the maker named is kept. Raises InputError with what hinders the first artwork on the largest
    stock tried.
    """
    stocks = stocks_for(workshop, stock=stock, artworks=artworks, letter=letter, container=container)
    sets = [tuple(artworks)] if artworks else [(name,) for name in WHOLE]
    faults: tuple[Finding, ...] = ()
    for candidate in stocks:
        for names in sets:
            try:
                return design(text, candidate, find_artworks(names, workshop), container)
            except InputError as error:
                faults = error.findings if names == sets[0] else faults
    raise InputError(faults)


def stocks_for(workshop: Path | None, *, stock: str | None, artworks: Sequence[str], letter: bool,
               container: Container | None = None) -> list[Stock]:
    """The stocks that `choose` tries, the smallest first: the one named, else the built-in sheets, those that go onto
    the container before those that are too high for it."""
    if stock is not None:
        return [layouts.stock(stock, workshop)]
    found = _sheets("letter" if letter else "a4", bool(artworks))
    return sorted(found, key=lambda item: not suits(item, container))


def _sheets(paper: str, any_shape: bool) -> list[Stock]:
    found = [item for item in layouts.stocks(None).values() if item.kind == "sheet" and item.name.startswith(paper)]
    fits = [item for item in found if item.face == "white" and (any_shape or item.shape == "rectangle")]
    return sorted(fits, key=lambda item: (item.label_mm[0] * item.label_mm[1], item.name))
