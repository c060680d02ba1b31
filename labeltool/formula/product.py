"""[product] of a formula file, or the same facts given as options."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Literal, cast

from labeltool.coding.checkdigits import GTIN_LENGTHS, gtin_check
from labeltool.finding import Where
from labeltool.formula import vocabulary
from labeltool.formula.document import Document
from labeltool.formula.model import MARKETS, Assessment, Market, Period, Product, ProductText
from labeltool.formula.quantities import parse_net, parse_period, shown
from labeltool.formula.report import Report
from labeltool.formula.schema import LANGUAGE_TEXT, check_keys, keys_of
from labeltool.formula.table import Table
from labeltool.formula.tomllines import KeyPath

FILE: Literal["a formula file"] = "a formula file"
PLACE = "[product]"
OPTIONS = tuple(key for key in keys_of(FILE, PLACE) if key not in ("text", "assessed"))

_CODE = re.compile("[A-Z0-9]{1,6}")
_BETWEEN = re.compile(r"\s*(?:\bto\b|\.\.+|[-–—/;])\s*")
_COMMAS = ("body-area", "users", "markets")
_LINES = ("warnings", "claims")


def with_options(values: Mapping[str, Any], options: Mapping[str, str], document: Document,
                 report: Report) -> Table:
    """The table of [product], single keys overruled by options (named as the keys are)."""
    given = {key: _option(key, text) for key, text in options.items()}
    names: dict[KeyPath, str] = {("product", key): f"--{key}" for key in options}
    for key in sorted(values.keys() & given.keys()):
        if values[key] != given[key]:
            report.note("product.option", f"--{key} {shown(options[key])} stands in for {key} in the file",
                        document.where(("product", key)))
    merged = Document(document.file, document.lines, names)
    return Table({**values, **given}, merged, report, ("product",))


def _option(key: str, text: str) -> Any:
    """What the file would hold for the text of an option."""
    if key in _COMMAS:
        return [word.strip() for word in text.split(",")]
    if key in _LINES:
        return [line.strip() for line in text.splitlines()]
    if key == "professional":
        return {"true": True, "yes": True, "false": False, "no": False}.get(text.strip().lower(), text)
    if key == "ph":
        return _BETWEEN.split(text.strip())
    return text


def product_of(table: Table) -> Product:
    """The product that a table describes; faults go to its report."""
    check_keys(table, FILE, PLACE)
    return Product(
        name=table.need("name", 'write name = "…" in [product], or give --name') or "",
        version=table.text("version") or "",
        code=_bare(table.parsed("code", _code, "product.code")),
        function=table.text("function"),
        use=cast(Literal["leave-on", "rinse-off"] | None, table.word("use", vocabulary.USES)),
        body_area=table.words("body-area", vocabulary.BODY_AREAS),
        form=table.word("form", vocabulary.FORMS),
        users=table.words("users", vocabulary.USERS) or ("adults",),
        professional=table.flag("professional", False),
        net=table.parsed("net", parse_net, "value.net"),
        directions=table.text("directions"),
        warnings=table.texts("warnings"),
        shelf_life=table.parsed("shelf-life", parse_period, "value.period"),
        period_after_opening=table.parsed("period-after-opening", _months, "value.period"),
        no_opening_period=table.text("no-opening-period"),
        ph=table.span("ph", least=Decimal(0), most=Decimal(14), single=False),
        gtin=_bare(table.parsed("gtin", parse_gtin, "product.gtin")),
        claims=table.texts("claims"),
        markets=_markets(table),
        texts=_texts(table),
        assessed=_assessed(table),
        where=table.where(),
    )


def _bare(found: tuple[str] | None) -> str | None:
    return found[0] if found else None


def _code(text: str) -> tuple[str] | str:
    if _CODE.fullmatch(text):
        return (text,)
    return f"{shown(text)} is not 1 to 6 of A-Z and 0-9"


def _months(text: str) -> Period | str:
    """The open jar counts months or years, never days."""
    found = parse_period(text)
    if isinstance(found, Period) and not found.months:
        return f"{shown(text)} is not in months or years: 6 months"
    return found


def parse_gtin(text: str) -> tuple[str] | str:
    """The digits of a number under a barcode, as a tuple of one; a str says what is wrong with it."""
    digits = text.replace(" ", "").replace("-", "")
    if not (digits.isascii() and digits.isdecimal()) or len(digits) not in GTIN_LENGTHS:
        return f"{shown(text)} is not 8, 12, 13 or 14 digits"
    right = gtin_check(digits[:-1])
    return (digits,) if digits[-1] == right else f"{shown(text)} has the check digit {digits[-1]}, it should be {right}"


def _markets(table: Table) -> tuple[Market, ...] | None:
    return cast(tuple[Market, ...], table.words("markets", MARKETS, rule="value.market")) or None


def _texts(table: Table) -> tuple[tuple[str, ProductText], ...]:
    inner = table.table("text")
    if inner is None:
        return ()
    found: list[tuple[str, ProductText]] = []
    for language in inner.values:
        words = inner.table(language)
        if _language_is_known(inner, language) and words is not None:
            check_keys(words, FILE, LANGUAGE_TEXT)
            found.append((language, ProductText(words.text("name"), words.text("function"), words.text("directions"),
                                                words.texts("warnings"))))
    return tuple(found)


def _language_is_known(inner: Table, language: str) -> bool:
    if language == "en":
        inner.report.error("key.misplaced", "English words stand in [product.text.en]", inner.where(language),
                           do="they belong in [product]")
        return False
    if language in vocabulary.LANGUAGES:
        return True
    known = keys_of(FILE, LANGUAGE_TEXT)
    do = f"write [product.text.fr] and {language} below it" if language in known else None
    inner.report.error("value.language", f"{shown(language)} is no language that labels know", inner.where(language),
                       limit="two letters of ISO 639-1: de, fr, nl",
                       do=do or inner.report.did_you_mean(language, vocabulary.LANGUAGES))
    return False


def _assessed(table: Table) -> Assessment | None:
    inner = table.table("assessed")
    if inner is None:
        return None
    check_keys(inner, FILE, "assessed")
    by, date = inner.need("by"), inner.date("date")
    table.report.note("product.assessed", "assessed is kept, but not compared with the composition yet",
                      Where(table.document.file, inner.where().line))
    return Assessment(by, date, inner.text("fingerprint")) if by else None
