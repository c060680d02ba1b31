"""What is expected of a PDF, and what is found in it. Places in mm from the page's top left, y downwards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from labeltool.finding import Findings
from labeltool.output.model import Sheet
from labeltool.typeset.frame import Frame


@dataclass(frozen=True, slots=True)
class Least:
    """The least height that a block's letters may have, mm: flat x-height ("x") or that of its digits ("figure")."""

    block: str
    height_mm: float
    measure: str


@dataclass(frozen=True, slots=True)
class ExpectedLabel:
    """A label that should be there: its frame, its top left corner, and the code of its batch where it has one.

    Nothing is inked nearer to its edge than `safe_mm`; its letters are no smaller than `least` says. `diameter_mm`: of
    the cylinder it goes round, None where it lies flat or that is not known.
    """

    frame: Frame
    x_mm: float
    y_mm: float
    code: str | None = None
    safe_mm: float = 0.0
    least: tuple[Least, ...] = ()
    diameter_mm: float | None = None


@dataclass(frozen=True, slots=True)
class ExpectedPage:
    """A page that should be there."""

    width_mm: float
    height_mm: float
    labels: tuple[ExpectedLabel, ...]


@dataclass(frozen=True, slots=True)
class Expected:
    """All that a PDF should hold, page by page.

    `fonts`: files by SHA-256; with them pages are drawn anew and compared, pixel by pixel.
    """

    pages: tuple[ExpectedPage, ...]
    fonts: Mapping[str, bytes] = field(default_factory=dict, repr=False)

    def kinds(self) -> list[int]:
        """The number of each page among the distinct ones, frames told apart by identity."""
        first: dict[object, int] = {}
        keys = (
            (page.width_mm, page.height_mm, tuple((id(item.frame), item.x_mm, item.y_mm) for item in page.labels))
            for page in self.pages
        )
        return [first.setdefault(key, len(first)) for key in keys]


@dataclass(frozen=True, slots=True)
class Decoded:
    """What each decoder read of a label's symbol, and at which resolution; None where it read nothing."""

    zbar: str | None = None
    zxing: str | None = None
    zbar_dpi: float | None = None
    zxing_dpi: float | None = None


@dataclass(frozen=True, slots=True)
class LabelReading:
    """One label as found: page and label count from 1; `matches` only where symbol, words and ink are as expected.

    `code` is the batch's where the label proves to be of it. `grade` and `limits` are for a predicted grade.
    """

    page: int
    label: int
    decoded: Decoded
    code: str | None
    matches: bool
    grade: float | None = None
    limits: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ReadBack:
    """Every expected label, and all that is wrong."""

    labels: tuple[LabelReading, ...]
    findings: Findings

    @property
    def matches(self) -> bool:
        """Whether nothing is wrong."""
        return not self.findings.errors and all(item.matches for item in self.labels)


@dataclass(frozen=True, slots=True)
class FoundSymbol:
    """A QR symbol on a page: what it says, the corner of its first module, its side, mm."""

    payload: str
    x_mm: float
    y_mm: float
    side_mm: float


@dataclass(frozen=True, slots=True)
class PageSurvey:
    """What stands on a page of a PDF that nothing is known of: `text` as drawn, `squashed` without any spaces."""

    page: int
    width_mm: float
    height_mm: float
    symbols: tuple[FoundSymbol, ...]
    text: str
    squashed: str


def expect(sheets: Sequence[Sheet], codes: Sequence[str | None] = (), fonts: Mapping[str, bytes] | None = None, *,
           safe_mm: float = 0.0, least: Mapping[int, tuple[Least, ...]] | None = None,
           diameters: Mapping[int, float | None] | None = None) -> Expected:
    """What a PDF of these sheets should hold; `codes`: the batch of each label in order, or one for all.

    `least`: the least heights by the id() of a frame; `diameters`: of the cylinder it goes round, likewise.
    """
    given = iter(codes) if len(codes) > 1 else None
    one = codes[0] if len(codes) == 1 else None
    return Expected(tuple(
        ExpectedPage(sheet.width_mm, sheet.height_mm, tuple(
            ExpectedLabel(item.frame, item.x_mm, item.y_mm, next(given, None) if given else one, safe_mm,
                          (least or {}).get(id(item.frame), ()), (diameters or {}).get(id(item.frame)))
            for item in sheet.placed
        )) for sheet in sheets
    ), fonts or {})


