"""Texts that rules put on a label: which are due and why, and their words in each language."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from labeltool.rules.model import WarningAdvice

OWN_LANGUAGES = {"UK": ("en",), "US": ("en",), "CA": ("en", "fr")}


@dataclass(frozen=True, slots=True)
class Wording:
    """One text in one language; `settled` where the act's own words were read, or a guidance's."""

    key: str
    lang: str
    text: str
    act: str
    confidence: str
    read_as: str | None = None

    @property
    def settled(self) -> bool:
        """Whether it may be printed as it stands."""
        return self.confidence in ("law", "practice") and self.read_as in ("regulation", "quote")


@dataclass(frozen=True, slots=True)
class Due:
    """A text that is due in a market: `because` names what asks for it; not `required`: to be proposed."""

    key: str
    market: str
    source: str
    because: str
    confidence: str = "law"
    required: bool = True


@dataclass(frozen=True, slots=True)
class Wordings:
    """All texts by key and language."""

    rows: Mapping[tuple[str, str], Wording] = field(default_factory=dict)

    def text(self, key: str, lang: str = "en") -> str:
        """The words. Raises KeyError where there are none."""
        return self.rows[key, lang].text

    def told(self, dues: Iterable[Due], languages: Sequence[str]) -> tuple[WarningAdvice, ...]:
        """The advice for what is due, in English and in each language of the label that has a row."""
        found = []
        for due in merged(dues):
            for lang in _languages(due.market, languages):
                row = self.rows.get((due.key, lang))
                if row is not None:
                    found.append(_advice(due, row))
        return tuple(found)


def merged(dues: Iterable[Due]) -> tuple[Due, ...]:
    """Each text once a market: required where one asks for it surely, with all sources and reasons of that weight."""
    found: dict[tuple[str, str], list[Due]] = {}
    for due in dues:
        found.setdefault((due.market, due.key), []).append(due)
    return tuple(_one(group) for group in found.values())


def wordings_of(table: Mapping[str, Any]) -> Wordings:
    """The rows of a parsed wordings.toml."""
    rows = [
        Wording(row["key"], row["lang"], row["text"], row["act"], row["confidence"], row.get("read-as"))
        for row in table["wording"]
    ]
    return Wordings({(row.key, row.lang): row for row in rows})


def _one(group: Sequence[Due]) -> Due:
    chief = [due for due in group if due.required] or list(group)
    sources = dict.fromkeys(due.source for due in chief)
    because = dict.fromkeys(due.because for due in chief)
    return replace(chief[0], source="; ".join(sources), because=", ".join(because))


def _languages(market: str, languages: Sequence[str]) -> tuple[str, ...]:
    return OWN_LANGUAGES.get(market, tuple(dict.fromkeys(("en", *languages))))


def _advice(due: Due, row: Wording) -> WarningAdvice:
    confidence = due.confidence if row.settled else "memory"
    return WarningAdvice(
        row.text, due.market, due.source, due.because, confidence, row.lang, due.required and row.settled,
    )
