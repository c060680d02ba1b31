"""Short ways to write materials, rows and formulas in these tests; the shipped tables."""

from decimal import Decimal

from labeltool import tables
from labeltool.compose.colours import colour_table
from labeltool.compose.compose import compose
from labeltool.compose.declare import declare
from labeltool.compose.identity import Book
from labeltool.compose.names import name_table
from labeltool.compose.parts import parts_of
from labeltool.formula.model import Allergen, Component, Formula, Material, MayContain, Product, Row, Span

NAMES = name_table(tables.toml("rules", "names"))
COLOURS = colour_table(tables.toml("rules", "colorants"))
BOOK = Book(NAMES, COLOURS)


def span(low, high=None):
    return Span(Decimal(str(low)), Decimal(str(low if high is None else high)))


def of(inci, low=100, high=None, **more):
    return Component(inci, span(low, high), **more)


def material(key, *made_of, **more):
    return Material(key, key, tuple(made_of) or (of(key),), **more)


def contained(name, low, high=None):
    return Allergen(name, span(low, high))


def row(key, percent, **more):
    return Row(1, key, "amount", Decimal(str(percent)), **more)


def to_ph(key, up_to, **more):
    return Row(1, key, "to-ph", Decimal(0), up_to=Decimal(str(up_to)), **more)


def formula(*rows, may=(), key="f"):
    return Formula(key, Product(key), tuple(rows), tuple(MayContain(name) for name in may))


def composed(rows, materials=(), made_here=None, may=()):
    """The composition of (key, percent) rows; a key that is no material is a material of that one INCI name."""
    read = [item if isinstance(item, Row) else row(*item) for item in rows]
    known = {item.key: item for item in materials}
    book = known | {item.material: material(item.material) for item in read if item.material not in known}
    written = formula(*read, may=may)
    return compose(parts_of(written, book, made_here or {}), written.may_contain, NAMES, COLOURS)


def declared(composition, *markets, extras=()):
    return declare(composition, markets, NAMES, COLOURS, extras)


def names_of(composition, *markets, extras=()):
    return list(declared(composition, *markets, extras=extras)[0].joint.names)


def rules_of(findings):
    return [(item.rule, item.market, item.level) for item in findings]


def line(composition, inci):
    return next(item for item in composition.lines if item.inci == inci)


def numbers(percent):
    return (percent.low, percent.nominal, percent.high)
