"""The words of the pages themselves, in the languages of the label."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from labeltool.pages.model import Said

PageTable = Mapping[str, Mapping[str, str]]
_FALLBACK = "en"


@dataclass(frozen=True, slots=True)
class PageWords:
    """The words by key, in the languages that the table has of those asked for; English where it has none of them."""

    table: PageTable
    languages: tuple[str, ...]

    @property
    def first(self) -> str:
        """The language the page is in."""
        return self.languages[0]

    def said(self, key: str) -> tuple[Said, ...]:
        """A word in every language, the same text once."""
        found: dict[str, Said] = {}
        for lang in self.languages:
            found.setdefault(self.table[key][lang], Said(self.table[key][lang], lang))
        return tuple(found.values())

    def one(self, key: str) -> str:
        """A word in the language the page is in."""
        return self.table[key][self.first]

    def months(self, count: int) -> tuple[Said, ...]:
        """ "6 months" in every language."""
        said = self.said("month" if count == 1 else "months")
        return tuple(Said(item.text.format(count), item.lang) for item in said)


def page_words(table: PageTable, languages: Sequence[str]) -> PageWords:
    """The words for a label's languages; English alone where the table has none of them."""
    known = tuple(lang for lang in dict.fromkeys(languages) if lang in table["batch"])
    return PageWords(table, known or (_FALLBACK,))
