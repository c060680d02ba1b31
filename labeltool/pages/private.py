"""The pages of the bench, and the small ones around them."""

from __future__ import annotations

from collections.abc import Sequence

from labeltool.pages.html import Templates
from labeltool.pages.model import BenchPage, BenchRow, LookedUp
from labeltool.pages.plot import plot
from labeltool.pages.public import title_of
from labeltool.pages.words import PageWords

MOST_LISTED = 500


def bench_html(page: BenchPage, templates: Templates) -> str:
    """Everything on record of a batch."""
    return templates.page("bench.html", title_of(page.product, page.code),
                          {"page": page, "plot": plot(page.curve, page.span)}, wide=True)


def bench_list_html(rows: Sequence[BenchRow], templates: Templates) -> str:
    """The batches, the latest first, the oldest of very many left out."""
    latest = list(reversed(rows))
    return templates.page("bench_list.html", "At the bench",
                          {"items": latest[:MOST_LISTED], "more": max(0, len(latest) - MOST_LISTED)})


def look_up_html(found: LookedUp, words: PageWords, templates: Templates, *, lost: bool = False) -> str:
    """The form to look a code up, with what was found; `lost`: under a path that has no page."""
    title = words.one("nothing-here" if lost else "look-up")
    return templates.page("look_up.html", title, {"found": found, "words": words, "lost": lost}, lang=words.first,
                          forms=True)


def plain_html(title: str, text: str, templates: Templates) -> str:
    """A page that says one thing."""
    return templates.page("plain.html", title, {"text": text})
