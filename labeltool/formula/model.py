"""What the input files say, as frozen values; no file access here.

Percents and masses are `Decimal`; ranges are closed. Every value keeps the place it came from, so that a
later complaint can point at the line.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

from labeltool.finding import NOWHERE, Where

Market = Literal["UK", "EU", "US", "CA"]
MARKETS: tuple[Market, ...] = ("UK", "EU", "US", "CA")
LEFT_OUT = {"left-out": True}  # a field that came later: the record holds it only where it says something
INLINE = "inci:"  # begins the key of a material that a formula's row names by its INCI name alone


@dataclass(frozen=True, slots=True)
class Span:
    """A closed range of percents; a single figure has low == high."""

    low: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class Component:
    """One substance of a material, in percent of the material."""

    inci: str
    percent: Span
    nano: bool = False
    names: tuple[tuple[str, str], ...] = ()  # (market, name)
    colorant: bool | tuple[str, ...] | None = None  # None: the tables decide; a tuple: in those markets
    purpose: str | None = None
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class Allergen:
    """A fragrance allergen contained in a material, percent of the material."""

    name: str
    percent: Span


@dataclass(frozen=True, slots=True)
class Material:
    """A raw material. `formula` names the formula file (stem) of one made here; then `made_of` is empty."""

    key: str
    name: str
    made_of: tuple[Component, ...] = ()
    as_made: tuple[Component, ...] = ()
    fragrance: bool = False
    allergens: tuple[Allergen, ...] = ()
    source: str | None = None
    was: tuple[str, ...] = ()
    lots: bool = True
    formula: str | None = None
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a formula: `line` counts from 1. Exactly one of material and inci is given by the file; the
    reader turns `inci = …` into a Material of its own (key "inci:NAME", lots False) so that `material` is always a key.

    `kind`: "amount" (percent or grams stand), "qs" (fills to 100), "to-ph" (0 to `up_to` percent on top of 100).
    After reading, `percent` of every "amount" and "qs" row is set, normalised so that they sum to exactly 100
    (a "to-ph" row has percent 0).
    """

    line: int
    material: str
    kind: Literal["amount", "qs", "to-ph"]
    percent: Decimal
    grams: Decimal | None = None
    up_to: Decimal = Decimal(0)
    phase: str = ""
    tolerance: str | None = None
    purpose: str | None = None
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class MayContain:
    """A colorant that only some batches or shades hold."""

    inci: str
    nano: bool = False
    names: tuple[tuple[str, str], ...] = ()
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class Period:
    """A length of time as the maker wrote it: whole months, or days ("18 months", "2 years", "90 days")."""

    months: int = 0
    days: int = 0


@dataclass(frozen=True, slots=True)
class NetQuantity:
    """Net contents: `packs` × `amount` `unit`. unit: ml, l, g, kg or pieces."""

    amount: Decimal
    unit: Literal["ml", "l", "g", "kg", "pieces"]
    packs: int = 1


@dataclass(frozen=True, slots=True)
class ProductText:
    """The product's words in one language; None where the file does not say."""

    name: str | None = None
    function: str | None = None
    directions: str | None = None
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Assessment:
    """Who assessed which composition, and when."""

    by: str
    date: dt.date | None = None
    fingerprint: str | None = None


@dataclass(frozen=True, slots=True)
class Product:
    """[product] of a formula file. `texts` holds (language, words) pairs; "en" is the top-level keys."""

    name: str
    version: str = ""
    code: str | None = None
    function: str | None = None
    use: Literal["leave-on", "rinse-off"] | None = None
    body_area: tuple[str, ...] = ()
    form: str | None = None
    users: tuple[str, ...] = ("adults",)
    professional: bool = False
    net: NetQuantity | None = None
    directions: str | None = None
    warnings: tuple[str, ...] = ()
    shelf_life: Period | None = None
    period_after_opening: Period | None = None
    no_opening_period: str | None = None
    ph: Span | None = None
    gtin: str | None = None
    claims: tuple[str, ...] = ()
    markets: tuple[Market, ...] | None = None
    texts: tuple[tuple[str, ProductText], ...] = ()
    assessed: Assessment | None = None
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class Container:
    """The container's geometry, mm (area mm²). `straight_mm`: the wall's height without shoulders and base.

    `colour`: "#rrggbb" of container or product, where that shows through a clear label.
    """

    shape: Literal["cylinder", "box", "pouch", "other"]
    diameter_mm: Decimal | None = None
    width_mm: Decimal | None = None
    depth_mm: Decimal | None = None
    height_mm: Decimal | None = None
    area_mm2: Decimal | None = None
    straight_mm: Decimal | None = field(default=None, metadata=LEFT_OUT)
    colour: str | None = field(default=None, metadata=LEFT_OUT)


@dataclass(frozen=True, slots=True)
class PackLabel:
    """One label of a pack. None: what the call, [print] or the product says. `on`: what it is stuck to."""

    name: str
    on: Literal["container", "outer"] = "container"
    artwork: str | None = None
    stock: str | None = None
    markets: tuple[Market, ...] | None = None
    languages: tuple[str, ...] | None = None
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class Pack:
    """A size of the batch: net and container are the product's where they are None; a number is its own.

    `mark`: words on each of its labels ("Tester. Not for sale."). `outer`: the box round the container.
    """

    name: str
    net: NetQuantity | None = None
    gtin: str | None = None
    mark: str | None = None
    container: Container | None = None
    outer: Container | None = None
    labels: tuple[PackLabel, ...] = ()
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class Contained:
    """One product of a gift set: a formula's key, its pack ("" for the one without a name), and how many."""

    formula: str
    pack: str = ""
    count: int = 1
    where: Where = NOWHERE


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula file, read and checked. `key` is the file's stem; `total_grams` where rows were given in grams.

    `contains` makes it a gift set, which has no rows.
    """

    key: str
    product: Product
    rows: tuple[Row, ...]
    may_contain: tuple[MayContain, ...] = ()
    container: Container | None = None
    total_grams: Decimal | None = None
    where: Where = NOWHERE
    packs: tuple[Pack, ...] = field(default=(), metadata=LEFT_OUT)
    contains: tuple[Contained, ...] = field(default=(), metadata=LEFT_OUT)


@dataclass(frozen=True, slots=True)
class Party:
    """A responsible person: who, where, and (US, CA) the role in words."""

    name: str
    address: tuple[str, ...] = ()
    role: str | None = None


@dataclass(frozen=True, slots=True)
class Maker:
    """[maker] of workshop.toml."""

    name: str | None = None
    brand: str | None = None
    address: tuple[str, ...] = ()
    country: str | None = None
    contact: str | None = None


@dataclass(frozen=True, slots=True)
class PrintDefaults:
    """[print] of workshop.toml."""

    stock: str | None = None
    artwork: tuple[str, ...] = ()
    printer: str | None = None


@dataclass(frozen=True, slots=True)
class BatchRules:
    """[batch] of workshop.toml: `tolerance` is kept as written, `balance_g` in grams."""

    code: str = "%y%m%d{seq}{check}"
    require_release: bool = False
    tolerance: str = "2 %"
    balance_g: Decimal = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class RecordLinks:
    """[record] of workshop.toml: where the QR leads."""

    link: str | None = None
    gtin_link: str | None = None
    gtin_dates: tuple[str, ...] = ()
    by: str | None = None


@dataclass(frozen=True, slots=True)
class Workshop:
    """workshop.toml, read and checked."""

    maker: Maker = Maker()
    responsible: tuple[tuple[Market, Party], ...] = ()
    markets: tuple[Market, ...] = ()
    languages: tuple[str, ...] = ("en",)
    e_mark: bool = False
    print: PrintDefaults = PrintDefaults()
    batch: BatchRules = BatchRules()
    record: RecordLinks = RecordLinks()
    # [words.LANG]: (language, key, text)
    words: tuple[tuple[str, str, str], ...] = field(default=(), metadata=LEFT_OUT)
    where: Where = NOWHERE
