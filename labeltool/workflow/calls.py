"""What a call of `print` or `reprint` asked for, and what came of it, as values."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

from labeltool.finding import Finding
from labeltool.formula.model import Market
from labeltool.workflow.place import Wish


@dataclass(frozen=True, slots=True)
class PrintCall:
    """The options of `print`: None where the call said nothing."""

    made: dt.date | None = None
    size_g: Decimal | None = None
    stock: str | None = None
    artworks: tuple[str, ...] = ()
    wish: Wish = field(default_factory=Wish)
    output: Path | None = None
    preview: Path | None = None
    verify: bool = True
    on: dt.date | None = None
    draft: bool = False
    facts: tuple[tuple[str, str], ...] = ()
    revise: bool = False
    why: str | None = None
    printer: str | None = None
    behind: str | None = None
    leaflet: bool = False
    pack: str | None = None
    labels: tuple[str, ...] = ()
    markets: tuple[Market, ...] = ()
    languages: tuple[str, ...] = ()
    of: tuple[str, ...] = ()

    def plain(self) -> dict[str, Any]:
        """What decides the outcome, for --once."""
        return {
            "made": str(self.made), "size": str(self.size_g), "stock": self.stock, "artwork": list(self.artworks),
            "count": "filled" if self.wish.filled else self.wish.count, "skip": self.wish.skip,
            "places": self.wish.places, "output": str(self.output) if self.output else None, "on": str(self.on),
            "facts": dict(self.facts), "revise": self.revise, "why": self.why,
            "printer": self.printer, "behind": self.behind,
        } | ({"leaflet": True} if self.leaflet else {}) | self._of_packs()

    def _of_packs(self) -> dict[str, Any]:
        """What came with packs, only where the call says it: a key given before them still answers."""
        said = {"pack": self.pack, "label": list(self.labels), "markets": list(self.markets),
                "languages": list(self.languages), "of": list(self.of)}
        return {name: value for name, value in said.items() if value}


@dataclass(frozen=True, slots=True)
class Printed:
    """One print done. `code` is the batch's, None for a draft; `file` opens from the current folder.

    `grade`: the predicted grade of the symbol in words, None where it was not asked for.
    """

    code: str
    made: dt.date
    best_before: dt.date | None
    labels: int
    sheets: int
    stock: str
    artworks: tuple[str, ...]
    file: str
    sha256: str
    qr: str
    x_height_mm: float
    next_skip: int
    problems: tuple[Finding, ...] = ()
    product: str = ""
    number: int | None = None
    preview: str | None = None
    per_page: int = 1
    printer: str | None = None
    grade: str | None = None
    leaflet: str | None = None
    pack: str = ""
    labels_of: tuple[str, ...] = ()
    symbol: bool = True  # whether any of the labels carries a QR code
    date_on_label: str | None = None  # "": the open jar instead; None: not known, or no date at all

    @property
    def wrong(self) -> bool:
        """Whether an error stands among its findings, as it may in a draft."""
        return any(item.level == "error" for item in self.problems)

    def document(self) -> dict[str, Any]:
        """The documented JSON object of `print` and `reprint`."""
        return {
            "code": self.code,
            "product": self.product,
            "made": self.made.isoformat(),
            "best-before": self.best_before.isoformat() if self.best_before else None,
            "labels": self.labels,
            "sheets": self.sheets,
            "stock": self.stock,
            "artwork": list(self.artworks),
            "file": self.file,
            "sha256": self.sha256,
            "qr": self.qr,
            "type-height-mm": self.x_height_mm,
            "next-skip": self.next_skip,
            "printer": self.printer,
            "preview": self.preview,
            "leaflet": self.leaflet,
            "problems": [item.as_json() for item in self.problems],
        } | ({"pack": self.pack, "label": list(self.labels_of)} if self.pack else {})
