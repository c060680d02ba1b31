"""The audit over all labels of a pack: each element on the container, and again on the outer.

Article 19(1) of Regulation (EC) No 1223/2009 wants points (a) to (f) on container and packaging, and is content with
(g) on the packaging alone; (e) may stand on the packaging alone where the container is too small for it. Canada parts
inner and outer label (C.R.C., c. 869, ss. 19 to 21.2; the Consumer Packaging and Labelling Act is of the package sold).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from labeltool.rules.model import Element

Surface = Literal["container", "outer"]
Key = tuple[str, str, int]

OUTER_ALONE = {  # market: elements that need not stand on the container where there is an outer
    "UK": ("ingredients",), "EU": ("ingredients",), "US": ("ingredients",),
    "CA": ("ingredients", "net quantity", "dealer name and place of business", "imported by"),
}
INNER_ALONE = {"CA": ("contact",)}
BATCH_CODE, PRECAUTIONS, LEAFLET = "batch code", "precautions", "leaflet"
UNASKED = ("height of the net figures", "e-mark")  # rows that go with another
EUROPE = ("UK", "EU")
ASKED = ("present", "missing")


@dataclass(frozen=True, slots=True)
class Standing:
    """A label of a pack: what it is on, the blocks its artwork carries, and its own rows of the audit."""

    name: str
    on: Surface
    carries: frozenset[str]
    rows: tuple[Element, ...]


def over_set(labels: Sequence[Standing], surfaces: Sequence[Surface], pack: str = "") -> tuple[Element, ...]:
    """One row for each element, market and surface, with the labels it stands on.

    A row is missing where no label of the surface carries it, though another surface may; see the table above for
    what one of them alone is enough for.
    """
    markets = dict.fromkeys(row.market for item in labels for row in item.rows)
    found = []
    for surface in surfaces:
        for market in markets:
            rows = _merged([item for item in labels if item.on == surface], market, surface)
            found += rows or _elsewhere(labels, market, surface)
    placed = tuple(_placed(row, found, len(surfaces) > 1, labels) for row in found)
    return tuple(replace(row, pack=pack) for row in placed)


def _merged(labels: Sequence[Standing], market: str, surface: Surface) -> list[Element]:
    """The rows of one surface: present where a label that carries the block has it present."""
    keyed: dict[Key, list[tuple[Standing, Element]]] = {}
    for item in labels:
        for key, row in _keyed(item, market):
            keyed.setdefault(key, []).append((item, row))
    return [replace(_one(rows, surface), on=surface) for rows in keyed.values()]


def _keyed(item: Standing, market: str) -> Iterator[tuple[Key, Element]]:
    seen: dict[tuple[str, str], int] = {}
    for row in item.rows:
        if row.market == market:
            nth = seen.setdefault((row.element, row.source), 0)
            seen[row.element, row.source] += 1
            yield (row.element, row.source, nth), row


def _one(rows: Sequence[tuple[Standing, Element]], surface: Surface) -> Element:
    """One row of several labels': missing before present before the others, with the labels that carry it."""
    carrying = [(item, row) for item, row in rows if row.block is None or row.block in item.carries]
    names = tuple(item.name for item, row in carrying if row.block is not None)
    if not carrying:
        row = next((row for _, row in rows if row.state in ASKED), rows[0][1])
        if row.state == "present":
            return replace(row, state="missing", text=f"on no label of the {surface}; it would say: {row.text}",
                           do=f"give a label of the {surface} an artwork with a place for {row.block}")
        return row
    order = ("missing", "present", "maker", "not-needed")
    best = min((row for _, row in carrying), key=lambda row: order.index(row.state))
    return replace(best, labels=names if best.state in ("present", "maker") else ())


def _elsewhere(labels: Sequence[Standing], market: str, surface: Surface) -> list[Element]:
    """Rows of a surface without a label of ours: what stands on it only the maker can tell."""
    model = next((item for item in labels if any(row.market == market for row in item.rows)), None)
    if model is None:
        return []
    text = f"no label is on the {surface}: does it bear this itself?"
    return [replace(row, state="maker", text=text, on=surface, do=f'else give the pack a label with on = "{surface}"')
            for row in model.rows if row.market == market and row.state in ASKED and row.block is not None]


def _placed(row: Element, rows: Sequence[Element], both: bool, labels: Sequence[Standing]) -> Element:
    """The row as the law has it for its surface, where there are two."""
    if not both or row.state != "missing":
        return row
    other = next((item for item in rows if item.on != row.on and (item.element, item.market, item.source) == (
        row.element, row.market, row.source) and item.state == "present" and item.labels), None)
    if other is None:
        return row
    where = f"on the {other.on} ({', '.join(other.labels)})"
    if row.on == "container" and row.element in OUTER_ALONE.get(row.market, ()):
        return replace(row, state="not-needed", text=f"it stands {where}, which is enough", labels=(), do=None)
    if row.on == "outer" and row.element in INNER_ALONE.get(row.market, ()):
        return replace(row, state="not-needed", text=f"asked of the inner label, and it stands {where}", do=None)
    return _by_room(row, where, labels)


def _by_room(row: Element, where: str, labels: Sequence[Standing]) -> Element:
    """What a container too small for it may leave to the packaging: the batch number; precautions, with the symbol."""
    if row.on != "container" or row.market not in EUROPE:
        return row
    if row.element == BATCH_CODE:
        return replace(row, state="maker", text=f"only {where}: is the container too small for it?",
                       do="else give a label of the container a place for the code")
    led = [item.name for item in labels if item.on == "container" and LEAFLET in item.carries]
    if row.element == PRECAUTIONS and led:
        said = f"only {where}, to which the hand on a book leads ({', '.join(led)}): is the container too small?"
        return replace(row, state="maker", text=said, source=row.source.replace("(1)(d)", "(2)"),
                       do="else give a label of the container a place for the warnings")
    return row


def left_to(rows: Sequence[Element], printed: Sequence[str]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """(label, elements) of what a print of some labels leaves to the other labels of the same surface.

    The label "" has what no label of the surface carries.
    """
    surfaces = {row.on for row in rows if set(row.labels) & set(printed)}
    found: dict[str, dict[str, None]] = {}
    for row in rows:
        if row.on not in surfaces or row.block is None or row.element in UNASKED:
            continue
        if row.state == "missing" and not row.labels:
            found.setdefault("", {})[row.element] = None
        elif row.state == "present" and row.labels and not set(row.labels) & set(printed):
            found.setdefault(row.labels[0], {})[row.element] = None
    return tuple((name, tuple(elements)) for name, elements in found.items())
