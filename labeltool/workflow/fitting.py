"""A label set on the stock and artworks that a call wants, with a leaflet where it asks for one, or told why not."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from labeltool.coding.pattern import Pattern
from labeltool.errors import InputError
from labeltool.finding import Finding
from labeltool.wording.leaflet import without
from labeltool.wording.model import LabelText
from labeltool.workflow.design import WHOLE, Design, choose, stocks_for
from labeltool.workflow.helping import Tight, with_help
from labeltool.workflow.leaflet import Leaflet, set_with_leaflet
from labeltool.workflow.prepare import Prepared
from labeltool.workflow.words import Worded


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a call, or the workshop where it said nothing, wants the label to be set with."""

    stock: str | None
    artworks: tuple[str, ...]
    leaflet: bool = False


@dataclass(frozen=True, slots=True)
class Fitted:
    """A label that is set. `worded.text` are its words; `full` those before some went into the leaflet."""

    design: Design
    worded: Worded
    leaflet: Leaflet | None = None
    full: LabelText | None = None
    findings: tuple[Finding, ...] = ()


def fit_label(prepared: Prepared, worded: Worded, wanted: Wanted, pattern: Pattern, folder: Path) -> Fitted:
    """The label set. Raises InputError with what hinders it and what would help."""
    letter = prepared.inputs.workshop.maker.country in ("US", "CA")

    def set_words(text: LabelText) -> Design:
        return choose(text, prepared.inputs.formula.container, folder, stock=wanted.stock, artworks=wanted.artworks,
                      letter=letter)

    try:
        if not wanted.leaflet:
            return Fitted(set_words(worded.text), worded)
        parted = set_with_leaflet(worded.text, set_words, letter=letter, fixed=wanted.stock is not None)
        return Fitted(parted.design, replace(worded, text=parted.label), parted.leaflet, worded.text, parted.notes)
    except InputError as error:
        tried = stocks_for(folder, stock=wanted.stock, artworks=wanted.artworks, letter=letter,
                           container=prepared.inputs.formula.container)[-1]
        least = (worded.text, *(without(worded.text) if wanted.leaflet else ()))[-1]
        tight = Tight(prepared, replace(worded, text=least), pattern, tried, wanted.artworks or WHOLE[:1], folder,
                      wanted.leaflet)
        raise InputError(with_help(error, tight)) from error
