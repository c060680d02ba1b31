"""Rows, materials and logs for the tests of the bench."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal

from labeltool.batch.accept import Rules, accept
from labeltool.batch.bench import after, fold
from labeltool.batch.model import Bench, Correction, Entry, Logged, Weighing
from labeltool.formula.model import Component, Material, Row, Span

D = Decimal
MADE = dt.date(2026, 5, 3)
NAMES = {"water": "Aqua", "glycerin": "Glycerin", "oil": "Helianthus Annuus Seed Oil", "acid": "Citric Acid"}


def row(line: int, material: str, percent: str, **changes: object) -> Row:
    facts = {"line": line, "material": material, "kind": "amount", "percent": D(percent), "phase": "A"}
    return Row(**(facts | changes))


ROWS = (
    row(1, "water", "71.4", kind="qs"),
    row(2, "glycerin", "5", phase="B", tolerance="1 %"),
    row(3, "oil", "23.6", phase="B", purpose="emollient"),
    row(4, "acid", "0", kind="to-ph", up_to=D("0.3"), phase="C"),
)
MATERIALS = {
    key: Material(key, key.title(), (Component(name, Span(D(100), D(100))),), lots=key != "water")
    for key, name in NAMES.items()
}
KNOWN = {key: key for key in MATERIALS} | {"sunflower": "oil"}
RULES = Rules(KNOWN, MADE, without_lot=frozenset({"water"}))


def bench(*entries: Entry, size: str | None = "500", rows: tuple[Row, ...] = ROWS) -> Bench:
    log = [Logged(entry, f"2026-05-03T09:{minute:02d}:00+00:00", "AB") for minute, entry in enumerate(entries)]
    return fold(rows, None if size is None else D(size), log)


def weighing(line: int | None, material: str, grams: str, lot: str | None = "L-1", **more: object) -> Weighing:
    return Weighing(material, D(grams), line, lot, **more)


def correction(entry: Entry, why: str = "misread") -> Correction:
    return Correction(entry, why)


GOOD = (
    weighing(1, "water", "356.8", None), weighing(2, "glycerin", "25.02", "G-1"), weighing(3, "oil", "118.1", "O-9"),
)


def entered(start: Bench, entry: Entry, **options: object) -> tuple[Bench, set[str], set[str]]:
    """The bench after an entry was offered; rules of the errors and of the warnings."""
    settled, findings = accept(start, entry, RULES, **options)
    errors = {item.rule for item in findings if item.level == "error"}
    warnings = {item.rule for item in findings if item.level == "warning"}
    return (start if errors else after(start, Logged(settled, "later", "CD"))), errors, warnings
