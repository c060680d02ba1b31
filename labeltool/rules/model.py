"""Advice: what the law tables say of a composition, as values."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from labeltool.compose.model import ExtraName, Percent
from labeltool.finding import Finding

Certainty = Literal["certain", "possible", "no"]


@dataclass(frozen=True, slots=True)
class AllergenAdvice:
    """One allergen entry found: the name to print, its percent, threshold, and (market, certainty) pairs."""

    inci: str
    percent: Percent
    threshold: Decimal
    declared: tuple[tuple[str, Certainty], ...]
    source: str
    members: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class WarningAdvice:
    """A text the label must carry, letter for letter. `required` False: proposed (from memory or practice)."""

    text: str
    market: str
    source: str
    because: str
    confidence: str
    lang: str = "en"
    required: bool = True


@dataclass(frozen=True, slots=True)
class LimitAdvice:
    """One substance against one limit in one market."""

    inci: str
    market: str
    value: Percent
    limit: Decimal
    state: Literal["within", "over", "possible"]
    level: Literal["ok", "note", "warning", "error"]
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class ClaimAdvice:
    """A phrase worth a second look: where it stands, why, and a safer way to say it."""

    phrase: str
    where: str
    level: Literal["note", "warning", "error"]
    reason: str
    instead: str
    source: str


@dataclass(frozen=True, slots=True)
class Advice:
    """All that the rules say of one product in its markets on one day."""

    allergens: tuple[AllergenAdvice, ...] = ()
    extras: tuple[ExtraName, ...] = ()
    warnings: tuple[WarningAdvice, ...] = ()
    limits: tuple[LimitAdvice, ...] = ()
    claims: tuple[ClaimAdvice, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Element:
    """One element a label must carry in one market (the audit's row)."""

    element: str
    market: str
    state: Literal["present", "missing", "not-needed", "maker"]
    text: str
    source: str
    block: str | None = None  # the label block that carries it
    do: str | None = None
    pack: str = ""
    on: Literal["container", "outer"] | None = None  # of a pack with labels: where it is looked for
    labels: tuple[str, ...] = ()  # the pack's labels that it stands on
