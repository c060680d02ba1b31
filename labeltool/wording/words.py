"""The words of labels by language, with where each comes from and how sure it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any


@dataclass(frozen=True, slots=True)
class Word:
    """One word or sentence in one language.

    `confidence`: law (read in a text of law), practice, memory, or maker (from the workshop file). `read_as`:
    regulation, quote or national.
    """

    key: str
    lang: str
    text: str
    source: str
    confidence: str
    read_as: str | None = None

    @property
    def settled(self) -> bool:
        """Whether it may be printed as it is: common practice, or the act's own words."""
        read = self.confidence == "law" and self.read_as in ("regulation", "quote")
        return read or self.confidence in ("practice", "maker")


@dataclass(frozen=True, slots=True)
class Country:
    """A country by ISO 3166-1 alpha-2 code: its English name, the same after "Made in", French after "Fabriqué", and
    (language, name) pairs as it stands alone in others."""

    code: str
    name: str
    after_in: str
    french: str | None
    names: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Words:
    """The table of words and countries."""

    rows: Mapping[tuple[str, str], Word] = field(default_factory=dict)
    countries: Mapping[str, Country] = field(default_factory=dict)

    def with_own(self, own: Sequence[tuple[str, str, str]]) -> Words:
        """The table with the maker's own words, (language, key, text), in the place of its own."""
        mine = {(key, lang): Word(key, lang, text, "[words] of workshop.toml", "maker") for lang, key, text in own}
        return replace(self, rows={**self.rows, **mine})

    def word(self, key: str, lang: str) -> Word | None:
        """The word of that key in that language, or None."""
        return self.rows.get((key, lang))

    def text(self, key: str, lang: str) -> str:
        """The word in that language, else in English."""
        found = self.word(key, lang) or self.word(key, "en")
        return found.text if found else key

    def joined(self, key: str, languages: Sequence[str], shape: str) -> str:
        """The word in every language, each once, in a shape such as "6 {}", parted by " / "."""
        found = dict.fromkeys(self.text(key, lang) for lang in languages)
        return " / ".join(shape.format(text) for text in found)


def words_of(table: Mapping[str, Any]) -> Words:
    """The words of a table with `word` and `country` rows and `names` of countries by language.

    Raises KeyError where a row lacks text or source.
    """
    rows = [
        Word(row["key"], row["lang"], row["text"], row["source"], row["confidence"], row.get("read_as"))
        for row in table["word"]
    ]
    countries = [
        Country(row["code"], row["name"], f"the {row['name']}" if row.get("the") else row["name"], row.get("fr"),
                tuple((lang, names[row["code"]]) for lang, names in table["names"].items() if row["code"] in names))
        for row in table["country"]
    ]
    return Words({(item.key, item.lang): item for item in rows}, {item.code: item for item in countries})
