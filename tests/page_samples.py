"""Pages as values, and what a browser would show of a page."""

from __future__ import annotations

import datetime as dt
from html.parser import HTMLParser
from typing import Any

from labeltool import tables
from labeltool.pages.html import Templates
from labeltool.pages.model import Listed, PublicPage, Said
from labeltool.pages.public import public_html

WORDS = tables.toml("data", "page_words")
TEMPLATES = Templates(tables.page_file)
VOID = {"meta", "link", "br", "input", "hr", "img"}


def page(**facts: Any) -> PublicPage:
    """A hand lotion's page, with other facts where they are given."""
    base: dict[str, Any] = {
        "code": "260503A31", "groups": ("260503", "A", "31"), "product": "Oat Milk Hand Lotion", "languages": ("en",),
        "made": dt.date(2026, 5, 3), "brand": "Ottersholt", "names": (Said("Oat Milk Hand Lotion"),),
        "functions": (Said("Hand lotion"),), "net": ("250 ml",), "best_before": "10/2027", "opening": 6,
        "lists": (Listed("Aqua, Parfum, Linalool", ("UK", "EU")),), "allergens": (Listed("Linalool", ("UK", "EU")),),
        "warnings": (Said("Avoid contact with eyes."),), "directions": (Said("Apply to clean, dry hands."),),
        "contact": "care@ottersholt.example", "responsible": (Said("Ottersholt Bodycare\n3 Example Yard"),),
    }
    return PublicPage(**(base | facts))


def html(**facts: Any) -> str:
    """The same page as HTML."""
    return public_html(page(**facts), TEMPLATES, WORDS)


class Read(HTMLParser):
    """What stands in a page: its text without style and title, its elements, its attributes."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.feed(text)
        self.close()
        assert not self.open, self.open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())

    def attributes(self, tag: str, name: str) -> list[str]:
        return [found[name] or "" for one, found in self.elements if one == tag and name in found]
