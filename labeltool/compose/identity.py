"""Who a component is: its name as the glossary spells it, nano or not, a colorant where, and for what purpose."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from labeltool.compose.colours import EU_LIKE, ColourTable, is_index
from labeltool.compose.names import NameTable, key, part_nano, plain
from labeltool.compose.parts import Part
from labeltool.formula.model import MARKETS, Component

PARFUM = "Parfum"
LineKey = tuple[str, bool]


@dataclass(frozen=True, slots=True)
class Identity:
    """A declared name: `inci` in its printed spelling, the markets where it is a colorant, other markets' names."""

    inci: str
    nano: bool = False
    colorant: tuple[str, ...] = ()
    names: tuple[tuple[str, str], ...] = ()

    @property
    def key(self) -> LineKey:
        """Equal for what is one line of the list."""
        return key(self.inci), self.nano


@dataclass(frozen=True, slots=True)
class Book:
    """The two tables that say who a component is."""

    names: NameTable
    colours: ColourTable

    def identify(self, component: Component) -> Identity:
        """The component's identity; what the maker says of `colorant` goes before what the tables know."""
        bare, written = part_nano(component.inci)
        nano = component.nano or written
        markets = self._colorant(component, bare, nano)
        spelled = self._spelled(bare, nano, markets, component.colorant is not None)
        return Identity(spelled, nano, markets, component.names)

    def _colorant(self, component: Component, name: str, nano: bool) -> tuple[str, ...]:
        said = component.colorant
        if said is None:
            return self.colours.markets(name, nano)
        if isinstance(said, bool):
            return MARKETS if said else ()
        return tuple(market for market in MARKETS if market in said)

    def _spelled(self, name: str, nano: bool, markets: tuple[str, ...], said: bool) -> str:
        colouring = any(market in markets for market in EU_LIKE)
        row = self.colours.meant(name, nano) if said and colouring else self.colours.find(name, nano)
        if row is None or row.as_written or (is_index(name) and key(name) != key(row.name)):
            return plain(name).upper() if is_index(name) else self.names.spelled(name)
        return row.name


def settled(parts: Iterable[Part]) -> Iterator[Part]:
    """The parts with "as made" carried out: what is declared instead, and what was added and reacted.

    The first keeps the material's allergens, which so count once.
    """
    for part in parts:
        material = part.material
        if not material.as_made:
            yield part
            continue
        made = replace(material, made_of=material.as_made, as_made=())
        yield replace(part, material=made)
        if material.made_of and part.reacted is None:
            stated = tuple(sorted({key(item.inci) for item in material.as_made}))
            yield replace(part, material=replace(material, as_made=(), allergens=()), reacted=stated, tie="")


def purpose(component: Component, part: Part) -> str | None:
    """What a component is for: its own word before the row's, but the row's where it is all of the material."""
    alone = len(part.material.made_of) == 1
    return (part.purpose or component.purpose) if alone else (component.purpose or part.purpose)
