"""Scopes of rules: what a product must be for a rule to apply, judged as yes, no, or not told by its facts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from labeltool.formula.model import Product, Span
from labeltool.rules.words import first, plain

INHALED = ("spray", "aerosol")
ASKS = {
    "use": 'use ("leave-on" or "rinse-off")',
    "body-area": "body-area",
    "form": "form",
    "function": "function (what the product is)",
    "powder": "whether the powder is loose and can be breathed in (a firm one is a bar)",
    "children": "whether children under 3 years might use it (users)",
}


@dataclass(frozen=True, slots=True)
class Verdict:
    """Yes, no, or undecided (None); `asks`: the facts that would decide, keys of ASKS."""

    holds: bool | None
    asks: frozenset[str] = frozenset()

    def __invert__(self) -> Verdict:
        return Verdict(None if self.holds is None else not self.holds, self.asks)


YES, NO = Verdict(True), Verdict(False)


def every(verdicts: Iterable[Verdict]) -> Verdict:
    """No where one is no, else undecided where one is, else yes."""
    found = tuple(verdicts)
    if any(item.holds is False for item in found):
        return NO
    open_ = [item.asks for item in found if item.holds is None]
    return Verdict(None, frozenset().union(*open_)) if open_ else YES


def some(verdicts: Iterable[Verdict]) -> Verdict:
    """Yes where one is yes, else undecided where one is, else no."""
    return ~every(~item for item in verdicts)


@dataclass(frozen=True, slots=True)
class Kind:
    """A product type that laws name; a row of kinds.toml."""

    name: str
    words: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    use: str | None = None
    areas: tuple[str, ...] = ()
    forms: tuple[str, ...] = ()
    unless_kinds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Facts:
    """What a product's file says, as far as scopes ask: `words` its names and functions in one plain text, `named`
    whether it states a function, `said` the kinds its words make it."""

    use: str | None = None
    areas: frozenset[str] = frozenset()
    form: str | None = None
    users: frozenset[str] = frozenset(("adults",))
    professional: bool = False
    ph: Span | None = None
    words: str = ""
    named: bool = False
    said: frozenset[str] = frozenset()
    kinds: Mapping[str, Kind] = field(default_factory=dict)

    def kind(self, name: str) -> Verdict:
        """Whether the product is of that kind."""
        kind = self.kinds[name]
        fits = self._fits(kind)
        if fits.holds is False or self.said & set(kind.unless_kinds):
            return NO
        if not kind.words:
            return fits
        if name in self.said:
            return YES
        return NO if self.named else Verdict(None, frozenset(("function",)))

    def _fits(self, kind: Kind) -> Verdict:
        return every((
            self.used(kind.use) if kind.use else YES,
            self.at(kind.areas) if kind.areas else YES,
            self.of(kind.forms) if kind.forms else YES,
        ))

    def used(self, use: str) -> Verdict:
        """Whether it is left on, or rinsed off, as `use` says."""
        return Verdict(None, frozenset(("use",))) if self.use is None else Verdict(self.use == use)

    def at(self, areas: Iterable[str]) -> Verdict:
        """Whether it goes on one of these body areas."""
        return Verdict(bool(self.areas & set(areas))) if self.areas else Verdict(None, frozenset(("body-area",)))

    def of(self, forms: Iterable[str]) -> Verdict:
        """Whether it has one of these forms."""
        return Verdict(None, frozenset(("form",))) if self.form is None else Verdict(self.form in set(forms))

    @property
    def inhaled(self) -> Verdict:
        """Whether it may reach the lungs: sprays do, powders may."""
        return Verdict(None, frozenset(("powder",))) if self.form == "powder" else self.of(INHALED)

    @property
    def perhaps_under_3(self) -> Verdict:
        """Whether children under 3 might be treated with it: assumed unless the product's words are an adult's."""
        return Verdict("under-3" in self.users or "adults-only" not in self.said)


@dataclass(frozen=True, slots=True)
class When:
    """A scope; all its parts must hold, an empty one always does."""

    use: str | None = None
    areas: tuple[str, ...] = ()
    not_areas: tuple[str, ...] = ()
    forms: tuple[str, ...] = ()
    not_forms: tuple[str, ...] = ()
    users: tuple[str, ...] = ()
    not_users: tuple[str, ...] = ()
    professional: bool | None = None
    kinds: tuple[str, ...] = ()
    not_kinds: tuple[str, ...] = ()
    inhaled: bool = False
    perhaps_under_3: bool = False

    def judge(self, facts: Facts) -> Verdict:
        """Whether a product is inside the scope."""
        parts = [facts.used(self.use)] if self.use else []
        parts += [facts.at(self.areas)] if self.areas else []
        parts += [~facts.at(self.not_areas)] if self.not_areas else []
        parts += [facts.of(self.forms)] if self.forms else []
        parts += [~facts.of(self.not_forms)] if self.not_forms else []
        parts += [Verdict(bool(facts.users & set(self.users)))] if self.users else []
        parts += [Verdict(not facts.users & set(self.not_users))] if self.not_users else []
        parts += [some(facts.kind(name) for name in self.kinds)] if self.kinds else []
        parts += [~some(facts.kind(name) for name in self.not_kinds)] if self.not_kinds else []
        parts += [facts.inhaled] if self.inhaled else []
        parts += [facts.perhaps_under_3] if self.perhaps_under_3 else []
        parts += [Verdict(facts.professional == self.professional)] if self.professional is not None else []
        return every(parts)


ALWAYS = When()


def asked(asks: Iterable[str]) -> str:
    """The facts to state, in words."""
    return " and ".join(ASKS[item] for item in sorted(asks))


def kinds_of(table: Mapping[str, Any]) -> dict[str, Kind]:
    """The kinds of a parsed kinds.toml, by name."""
    rows = [
        Kind(
            row["name"], tuple(row.get("words", ())), tuple(row.get("unless", ())), row.get("use"),
            tuple(row.get("areas", ())), tuple(row.get("forms", ())), tuple(row.get("unless-kinds", ())),
        )
        for row in table["kind"]
    ]
    return {kind.name: kind for kind in rows}


def when_of(row: Mapping[str, Any]) -> When:
    """The scope of an inline table. Raises TypeError for a key that no scope has."""
    found: dict[str, Any] = {
        key.replace("-", "_"): tuple(value) if isinstance(value, list) else value for key, value in row.items()
    }
    return When(**found)


def facts_of(product: Product, kinds: Mapping[str, Kind]) -> Facts:
    """The facts of a product that scopes ask for; a use or body area it does not state follows from its words, where
    they say it ("Shampoo" is rinsed off, and for hair)."""
    texts = [text for _, text in product.texts]
    functions = [product.function, *(text.function for text in texts)]
    names = [product.name, *(text.name for text in texts)]
    words = plain(" . ".join(word for word in (*names, *functions) if word))
    said = frozenset(_said(words, kinds))
    uses = {kinds[name].use for name in said} - {None}
    areas = {kinds[name].areas[0] for name in said if len(kinds[name].areas) == 1}
    return Facts(
        product.use or (next(iter(uses)) if len(uses) == 1 else None), frozenset(product.body_area or areas),
        product.form, frozenset(product.users), product.professional, product.ph, words, any(functions), said, kinds,
    )


def _said(words: str, kinds: Mapping[str, Kind]) -> Iterable[str]:
    return (kind.name for kind in kinds.values() if kind.words and first(kind.words, words, kind.unless))
