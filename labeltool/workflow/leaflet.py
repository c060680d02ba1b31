"""A label whose list, and where need be whose warnings, stand in a leaflet: set, made, written beside the labels."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from io import BytesIO
from pathlib import Path
from typing import Any

from labeltool import tables
from labeltool.codec import to_plain
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.output.documents import A4, A6, Block, Document, Heading, Paper, Words, document_pages
from labeltool.output.model import Placed, Sheet
from labeltool.output.pdf import write_pdf
from labeltool.records.printfiles import leaflet_name
from labeltool.typeset.frame import Frame, Rule
from labeltool.wording.leaflet import NEEDLESS, moved, refusals, told, without
from labeltool.wording.model import LabelText
from labeltool.workflow.design import Design
from labeltool.workflow.plain import stored
from labeltool.workflow.publish import beside, check_target, put

LETTER_MM = (215.9, 279.4)
MARK_MM, HAIR_MM = 4.0, 0.1


@dataclass(frozen=True, slots=True)
class Leaflet:
    """One leaflet: its pages, and the size of the sheet they are printed on, mm."""

    pages: tuple[Frame, ...]
    sheet_mm: tuple[float, float]

    @property
    def fonts(self) -> tuple[tuple[str, str], ...]:
        """(weight, SHA-256) of its fonts."""
        return self.pages[0].fonts

    def plain(self) -> dict[str, Any]:
        """What the record keeps, so that a reprint has the same leaflet."""
        return {"pages": [to_plain(page) for page in self.pages], "sheet": list(self.sheet_mm)}


@dataclass(frozen=True, slots=True)
class Parted:
    """A label set with some of its words in a leaflet; `label`: those that stay; `notes`: what is to be told."""

    design: Design
    label: LabelText
    leaflet: Leaflet
    notes: tuple[Finding, ...]


def set_with_leaflet(full: LabelText, set_words: Callable[[LabelText], Design], *, letter: bool,
                     fixed: bool) -> Parted:
    """The label with as little as possible in the leaflet. `fixed`: the maker named the stock.

    Raises InputError where a market takes no leaflet, where there is nothing to put into one, where the artworks have
    no place for its symbol, and where the label does not fit so either.
    """
    faults = refusals(full.markets)
    if faults:
        raise InputError(faults)
    steps = without(full)
    if not steps:
        raise input_error("leaflet.empty", "there is neither a list nor a warning to put into a leaflet",
                          do="leave --leaflet out")
    needless = (NEEDLESS,) if fixed and _fits(full, set_words) else ()
    for label in steps:
        try:
            design = set_words(label)
        except InputError:
            if label is steps[-1]:
                raise
            continue
        notes = (told(full, label), *needless)
        return Parted(_checked(design), label, leaflet_of(full, label, letter=letter), notes)
    raise AssertionError


def _fits(full: LabelText, set_words: Callable[[LabelText], Design]) -> bool:
    try:
        set_words(full)
    except InputError:
        return False
    return True


def _checked(design: Design) -> Design:
    if "leaflet" not in design.carried:
        names = ", ".join(item.name for item in design.artworks)
        raise input_error("leaflet.symbol", f"artwork {names} has no place for the symbol that refers to the leaflet",
                          do="add an artwork that has one: --artwork back")
    return design


def leaflet_of(full: LabelText, label: LabelText, *, letter: bool) -> Leaflet:
    """The leaflet of what left the label: a quarter of a sheet where it fits, else whole pages."""
    sheet = LETTER_MM if letter else (A4.width_mm, A4.height_mm)
    small = replace(A6, width_mm=sheet[0] / 2, height_mm=sheet[1] / 2)
    whole = replace(A4, width_mm=sheet[0], height_mm=sheet[1])
    pages = _pages(full, label, small)
    if len(pages) > 1:
        pages = _pages(full, label, whole)
    return Leaflet(pages, sheet)


def _pages(full: LabelText, label: LabelText, paper: Paper) -> tuple[Frame, ...]:
    pages = document_pages(_document(full, label), tables.fonts(), paper)
    return tuple(replace(page, items=(*page.items, *_marks(paper))) for page in pages)


def _document(full: LabelText, label: LabelText) -> Document:
    """Name, batch, the blocks that left the label, and who answers for it."""
    code = full.block("code")
    names = [block.text for block in full.blocks if block.name == "name"]
    batch = f"{code.heading} {code.text}" if code else full.code
    brand = full.block("brand")
    parts: list[Block] = []
    for block in moved(full, label):
        parts += [Heading(block.heading.rstrip(":\u00a0"))] if block.text else []
        parts.append(Words(block.text or block.heading))
    parts.append(Heading(""))
    parts += [Words(f"{block.heading} {block.text}".strip().replace("\n", ", "))
              for block in full.blocks if block.name in ("responsible", "contact")]
    return Document(" / ".join(names), ". ".join((*((brand.text,) if brand else ()), batch)), tuple(parts))


def _marks(paper: Paper) -> Iterator[Rule]:
    """Short hairlines at the corners, to cut along."""
    right, bottom = paper.width_mm, paper.height_mm
    for x_mm in (0.0, right - MARK_MM):
        for y_mm in (0.0, bottom - HAIR_MM):
            yield Rule(x_mm, y_mm, MARK_MM, HAIR_MM, "document")
    for x_mm in (0.0, right - HAIR_MM):
        for y_mm in (0.0, bottom - MARK_MM):
            yield Rule(x_mm, y_mm, HAIR_MM, MARK_MM, "document")


def stored_leaflet(extra: Mapping[str, Any]) -> Leaflet | None:
    """The leaflet that a print on record had, or None."""
    held = extra.get("leaflet")
    if not held:
        return None
    pages = tuple(stored(Frame, page, "leaflet") for page in held["pages"])
    return Leaflet(pages, (held["sheet"][0], held["sheet"][1]))


def sheets_of(leaflet: Leaflet, copies: int) -> tuple[Sheet, ...]:
    """So many leaflets on sheets: four a sheet where one takes a quarter."""
    width, height = leaflet.sheet_mm
    first = leaflet.pages[0]
    if first.width_mm > width * 0.75:
        return tuple(Sheet(width, height, (Placed(page, 0, 0),)) for page in leaflet.pages) * copies
    places = [Placed(first, x_mm, y_mm) for y_mm in (0.0, height / 2) for x_mm in (0.0, width / 2)]
    full = Sheet(width, height, tuple(places))
    rest = (Sheet(width, height, tuple(places[:copies % 4])),) if copies % 4 else ()
    return (full,) * (copies // 4) + rest


def beside_labels(labels: Path) -> Path:
    """The leaflet's file, beside that of the labels."""
    return labels.with_name(leaflet_name(labels.name))


def check_leaflet(output: Path | None, cwd: Path) -> None:
    """Raise InputError where the leaflet that goes with -o may not be written."""
    if output is not None:
        check_target(beside_labels(cwd / output))


@dataclass(frozen=True, slots=True)
class Leaflets:
    """The leaflets of a print: one for each container, and the title of the label they go with."""

    leaflet: Leaflet
    copies: int
    title: str

    def pdf(self, fonts: Mapping[str, bytes], author: str, *, draft: bool = False) -> bytes:
        """Their PDF. The same leaflets and fonts give the same bytes."""
        stream = BytesIO()
        write_pdf(sheets_of(self.leaflet, self.copies), stream, fonts=fonts, title=f"{self.title}, leaflet",
                  author=author, draft=draft)
        return stream.getvalue()


def put_leaflets(data: bytes, labels: Path) -> None:
    """Write a PDF of leaflets beside the labels, in one go."""
    target = beside_labels(labels)
    check_target(target)
    with beside(target.parent, data) as temporary:
        put(temporary, target)
