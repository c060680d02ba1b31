"""What a PDF is that holds no labels to verify: a draft, a sheet of the bench, a leaflet, an alignment page."""

from __future__ import annotations

import re
from collections.abc import Sequence

from labeltool.finding import Finding, Where
from labeltool.output.model import CREATOR, DRAFT_WORD
from labeltool.readback.model import PageSurvey
from labeltool.workflow.verified import Verified

_PAPERS = (
    (re.compile(r"Weighing sheet: .+"), "weighing sheet"), (re.compile(r"Recall sheet: .+"), "recall sheet"),
    (re.compile(r"Alignment of .+"), "alignment page"), (re.compile(r"Batch [A-Z0-9-]{1,20}"), "batch sheet"),
    (re.compile(r".+, leaflet"), "leaflet"),
)


def paper_of(title: str, creator: str, pages: Sequence[PageSurvey]) -> str | None:
    """The kind of paper that labeltool made besides labels; None for labels, and for files of others."""
    first = pages[0].text.strip().partition("\n")[0].strip() if pages else ""
    for form, kind in _PAPERS:
        if (creator == CREATOR and form.fullmatch(title)) or (kind.endswith("sheet") and title == first
                                                              and form.fullmatch(first)):
            return kind
    return None


def is_draft(pages: Sequence[PageSurvey]) -> bool:
    """Whether every page that says anything begins with the word that lies across drafts."""
    said = [page.squashed for page in pages if page.squashed]
    return bool(said) and all(text.startswith(DRAFT_WORD) for text in said)


def no_labels(file: str, kind: str, pages: Sequence[PageSurvey]) -> Verified:
    """The answer for such a file."""
    if kind == "draft":
        text, do = "a draft: nothing on record, so there is nothing to verify it against", "print without --draft"
    else:
        article = "an" if kind[0] in "aeiou" else "a"
        text, do = f"this is {article} {kind} and holds no labels", "name a PDF or a picture of labels"
    return Verified(file, (), (Finding("verify.kind", "error", text, Where(file), do=do), *symbols_said(file, pages)),
                    kind=kind)


def unknown(file: str, pages: Sequence[PageSurvey], text: str, do: str, creator: str) -> Verified:
    """The answer for labels, or what may be some, that the record does not know."""
    by = "labeltool" if creator == CREATOR else f"{creator[:60]!a}" if creator else "an unnamed program"
    more = f" (made by {by}, {len(pages)} page{'s' if len(pages) > 1 else ''})"
    found = Finding("verify.unknown", "error", text + more, Where(file), do=do)
    return Verified(file, (), (found, *symbols_said(file, pages)), kind="unknown")


def symbols_said(file: str, pages: Sequence[PageSurvey]) -> list[Finding]:
    """What the first few different symbols say."""
    said = list(dict.fromkeys(symbol.payload for page in pages for symbol in page.symbols))
    return [Finding("verify.symbol", "note", f"a QR symbol says {one[:120]!a}", Where(file)) for one in said[:5]]
