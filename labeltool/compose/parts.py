"""Parts: how much of each raw material is in the product, from a formula or from what was weighed.

All percents are of the formula's 100: rows "to pH" come on top of it, in a formula and in one made here alike. So
every share is the largest it can be, and the order, which asks only which is more, does not feel the common factor.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from labeltool.compose.names import key
from labeltool.compose.ranges import WHOLE
from labeltool.errors import InputError, input_error
from labeltool.formula.model import Formula, Material, Row

PH_ADJUSTER = "ph-adjuster"


@dataclass(frozen=True, slots=True)
class Part:
    """One raw material in the product: lowest, nominal and highest share, percent of the product.

    `row`: the key that the formula's row names, where the material is part of one made here; else empty.
    `tie`: parts of one tie rise and fall together, from low to high (one "to pH" row of a material made here).
    `reacted`: None for what is declared. A tuple: this was added and then became something else (as made); it is
    not declared, and names whose keys stand in the tuple are already counted in what came of it.
    `always`: declared even where its highest share is 0 (a "to pH" row up to 0).
    """

    material: Material
    low: Fraction
    nominal: Fraction
    high: Fraction
    purpose: str | None = None
    row: str = ""
    tie: str = ""
    reacted: tuple[str, ...] | None = None
    always: bool = False

    @property
    def source(self) -> str:
        """The material key under which the formula has it."""
        return self.row or self.material.key


def parts_of(formula: Formula, materials: Mapping[str, Material], made_here: Mapping[str, Formula]) -> tuple[Part, ...]:
    """The parts of a formula. `made_here`: formulas of materials made here, by the material's key.

    A "to pH" row has a share of 0 to its `up_to`, nominal 0, and is a pH adjuster unless it says another purpose.
    Raises InputError for a material that is not there and for materials made of each other in a circle.
    """
    book = _Book(materials, made_here)
    return tuple(part for place, row in enumerate(formula.rows) for part in book.row_parts(row, str(place)))


def parts_of_masses(
    masses: Sequence[tuple[Material, Decimal]],
    materials: Mapping[str, Material],
    made_here: Mapping[str, Formula],
    purposes: Mapping[str, str] | None = None,
) -> tuple[Part, ...]:
    """The parts of what was really weighed: (material, grams) pairs, in percent of their total.

    The materials are given as values, so that a lot's own frozen composition can stand for its key. `materials` and
    `made_here` serve those made here; `purposes` by material key. Pairs of 0 g are left out: they are not in it.
    Raises InputError where a mass is negative or nothing was weighed.
    """
    if any(grams < 0 for _, grams in masses):
        raise input_error("bench.mass", "a weighed mass is negative", do="correct the line on the bench sheet")
    total = sum((Fraction(grams) for _, grams in masses), Fraction(0))
    if not total:
        raise input_error("bench.mass", "nothing was weighed", do="weigh the planned rows first")
    book = _Book(materials, made_here)
    given = purposes or {}
    shares = [(material, Fraction(grams) * WHOLE / total) for material, grams in masses if grams]
    wholes = [Part(material, share, share, share, given.get(material.key)) for material, share in shares]
    return tuple(part for place, whole in enumerate(wholes) for part in book.expanded(whole, str(place), ()))


@dataclass(frozen=True, slots=True)
class _Book:
    """Materials by key, and the formulas of those made here."""

    materials: Mapping[str, Material]
    made_here: Mapping[str, Formula]

    def row_parts(self, row: Row, place: str) -> Iterator[Part]:
        """The parts of the row at `place`, in percent of its formula's 100."""
        return self.expanded(self._part(row, place), place, ())

    def _part(self, row: Row, place: str) -> Part:
        material = self.materials.get(row.material)
        if material is None:
            raise input_error(
                "material.unknown", f"there is no material {row.material!r}", where=row.where,
                do="add it to materials.toml, or correct the row",
            )
        share = Fraction(row.percent)
        if row.kind != "to-ph":
            return Part(material, share, share, share, row.purpose)
        tie = place if material.formula else ""
        return Part(material, Fraction(0), Fraction(0), Fraction(row.up_to), row.purpose or PH_ADJUSTER,
                    tie=tie, always=True)

    def expanded(self, part: Part, place: str, within: tuple[str, ...]) -> Iterator[Part]:
        """The part itself, or, where its material is made here, the parts it is made of.

        The allergens a made-here material states for itself count besides those of what it is made of.
        """
        material = part.material
        if material.formula is None:
            yield part
            return
        if material.key in within:
            raise _circle((*within, material.key))
        if material.as_made or material.allergens:
            declared = part.reacted if material.as_made else ()
            yield replace(part, material=replace(material, formula=None), tie="", reacted=declared)
        for index, row in enumerate(self._formula(material).rows):
            inner = f"{place}/{index}"
            yield from self.expanded(_inside(part, self._part(row, inner)), inner, (*within, material.key))

    def _formula(self, material: Material) -> Formula:
        """The formula of a material made here; FORMULA@CODE is what that one batch was made of."""
        own = self.made_here.get(material.formula or "")
        found = own if "@" in (material.formula or "") else self.made_here.get(material.key) or own
        if found is None:
            raise input_error(
                "material.formula", f"the formula {material.formula!r} of the material {material.key!r} is not there",
                where=material.where, do="add the formula file, or give the material its composition as made-of",
            )
        return found


def _circle(keys: tuple[str, ...]) -> InputError:
    text = f"materials are made of each other in a circle: {' -> '.join(keys)}"
    return input_error("material.circle", text, do="give one of them its composition as made-of")


def _inside(outer: Part, inner: Part) -> Part:
    """A row of a formula made here, as a part of the product that holds `outer` of that formula.

    A perfume made here is perfume all through. Where the whole is declared as made, its rows are what reacted. A "to
    pH" row inside a "to pH" row gets a range of its own: wider than the truth, so that no doubt is missed.
    """
    made = outer.material
    reacted = tuple(sorted({key(item.inci) for item in made.as_made})) if made.as_made else outer.reacted
    fixed = inner.low == inner.high
    return Part(
        material=replace(inner.material, fragrance=True) if made.fragrance else inner.material,
        low=outer.low * inner.low / WHOLE,
        nominal=outer.nominal * inner.nominal / WHOLE,
        high=outer.high * inner.high / WHOLE,
        purpose=inner.purpose or outer.purpose,
        row=outer.source,
        tie=outer.tie if fixed and outer.low != outer.high else inner.tie,
        reacted=reacted,
        always=outer.always or inner.always,
    )
