"""How much of a substance a product holds: found by any spelling, summed over all sources, counted as its acid."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Context, Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any

from labeltool.compose.model import Percent, Substance
from labeltool.compose.names import key

_GREEK = {ord(letter): word for letter, word in zip("αβγδ", ("alpha", "beta", "gamma", "delta"), strict=True)}
_ASIDE = re.compile(r"\s*\([^()]*\)\s*")
_TWELVE = Context(prec=12)
REACTED = "reacted"


@lru_cache(maxsize=8192)
def keys(name: str) -> tuple[str, ...]:
    """The keys a name is found by: as written, and without words in brackets ("Melissa Officinalis (Balm) Oil")."""
    written = name.translate(_GREEK)
    bare = _ASIDE.sub(" ", written).strip()
    return tuple(dict.fromkeys(key(item) for item in (written, bare) if item))


@dataclass(frozen=True, slots=True)
class Amount:
    """Lowest, nominal and highest percent as fractions. `exact` is False where a part was counted in full for want of a
    molar mass; `converted` where a part was counted by molar masses, which are known to five figures."""

    low: Fraction = Fraction(0)
    nominal: Fraction = Fraction(0)
    high: Fraction = Fraction(0)
    exact: bool = True
    converted: bool = False

    def __add__(self, other: Amount) -> Amount:
        return Amount(
            self.low + other.low, self.nominal + other.nominal, self.high + other.high, self.exact and other.exact,
            self.converted or other.converted,
        )

    def times(self, factor: Fraction) -> Amount:
        """The amount counted as something else, `factor` of its weight."""
        return Amount(self.low * factor, self.nominal * factor, self.high * factor, self.exact, factor != 1)

    @property
    def percent(self) -> Percent:
        """At the door: Decimals of at most 12 significant digits."""
        return Percent(decimal(self.low), decimal(self.nominal), decimal(self.high))


def decimal(value: Fraction) -> Decimal:
    """A fraction as a Decimal of at most 12 significant digits, without an exponent or zeros at the end."""
    found = _TWELVE.divide(Decimal(value.numerator), Decimal(value.denominator))
    return Decimal(format(found.normalize(), "f"))


def amount_of(substance: Substance) -> Amount:
    """A substance's percent as fractions."""
    value = substance.percent
    return Amount(Fraction(value.low), Fraction(value.nominal), Fraction(value.high))


@dataclass(frozen=True, slots=True)
class Molar:
    """A row of molar.toml: grams a mole, and how many moles of each basis one mole holds."""

    name: str
    formula: str
    mass: Decimal
    holds: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class MolarTable:
    """Molar masses by key of the name."""

    rows: Mapping[str, Molar] = field(default_factory=dict)

    def find(self, name: str) -> Molar | None:
        """The row of a substance, in any spelling."""
        return next((self.rows[item] for item in keys(name) if item in self.rows), None)

    def factor(self, name: str, basis: str) -> Fraction | None:
        """Weight of `basis` in one weight of `name`; 1 for the basis itself, None where it is not known."""
        if set(keys(name)) & set(keys(basis)):
            return Fraction(1)
        whole, part = self.find(name), self.find(basis)
        if whole is None or part is None or basis not in whole.holds:
            return None
        return whole.holds[basis] * Fraction(part.mass) / Fraction(whole.mass)


def molar_table(table: Mapping[str, Any]) -> MolarTable:
    """The rows of a parsed molar.toml."""
    rows = [Molar(row["name"], row["formula"], Decimal(row["mass"]), row.get("holds", {})) for row in table["molar"]]
    return MolarTable({item: row for row in rows for item in keys(row.name)})


@dataclass(frozen=True, slots=True)
class Amounts:
    """The substances of a product by name."""

    by_key: Mapping[str, tuple[Substance, ...]] = field(default_factory=dict)

    def of(self, names: Iterable[str]) -> tuple[Substance, ...]:
        """All substances of these names, each once."""
        found = [item for name in names for word in keys(name) for item in self.by_key.get(word, ())]
        return tuple({id(item): item for item in found}.values())

    @property
    def all(self) -> tuple[Substance, ...]:
        """Every substance."""
        return tuple({id(item): item for found in self.by_key.values() for item in found}.values())


def amounts_of(substances: Iterable[Substance]) -> Amounts:
    """The substances of a composition that can be there at all, by every key they are found by."""
    found: dict[str, tuple[Substance, ...]] = {}
    for item in substances:
        if item.percent.high > 0:
            for word in keys(item.inci):
                found[word] = (*found.get(word, ()), item)
    return Amounts(found)


def total(
    substances: Iterable[Substance], basis: str | None = None, molar: MolarTable | None = None,
    counts: Callable[[Substance], bool] = lambda _: True,
) -> Amount:
    """The sum of substances, counted as `basis` where one is given."""
    found = Amount()
    for item in substances:
        if counts(item):
            found += _counted(item, basis, molar)
    return found


def _counted(item: Substance, basis: str | None, molar: MolarTable | None) -> Amount:
    amount = amount_of(item)
    if basis is None or molar is None:
        return amount
    factor = molar.factor(item.inci, basis)
    return amount.times(factor) if factor is not None else replace(amount, exact=False)


def reacted(item: Substance) -> bool:
    """Whether it was added and is gone, in a material that is declared as made."""
    return REACTED in item.purposes


def names_of(substances: Iterable[Substance]) -> tuple[str, ...]:
    """The names of substances, each once, in order."""
    return tuple(dict.fromkeys(item.inci for item in substances))
