"""The keys that each table of the input files may hold, and what to say of any other."""

from __future__ import annotations

from typing import Literal

from labeltool.formula.quantities import shown
from labeltool.formula.table import Table

FileKind = Literal["workshop.toml", "materials.toml", "a formula file"]

TOP = "the top of the file"
COMPONENT = "a component of made-of or as-made"
MATERIAL = "a material"
LANGUAGE_TEXT = "[product.text.LANG]"
PARTY = "a responsible person"
PACK = "[[pack]]"
PACK_LABEL = "a label of a pack"
CONTAINS = "[[contains]]"
WORDS = "[words.LANG]"

KEYS: dict[FileKind, dict[str, tuple[str, ...]]] = {
    "workshop.toml": {
        TOP: ("format", "maker", "responsible-person", "sale", "print", "batch", "record",
              "words"),
        "[maker]": ("name", "brand", "address", "country", "contact"),
        "[sale]": ("markets", "languages", "e-mark"),
        "[print]": ("stock", "artwork", "printer"),
        "[batch]": ("code", "require-release", "tolerance", "balance"),
        "[record]": ("link", "gtin-link", "gtin-dates", "by"),
        PARTY: ("name", "address", "role"),
        WORDS: ("batch", "directions", "caution", "country-of-origin", "best-before-end", "piece", "pieces",
                "external-use", "avoid-eyes", "rinse-eyes", "irritation", "children", "professional"),
    },
    "materials.toml": {
        MATERIAL: ("name", "inci", "made-of", "as-made", "fragrance", "allergens", "colorant", "nano", "names",
                   "purpose", "source", "was", "lots", "formula"),
        COMPONENT: ("inci", "percent", "nano", "names", "colorant", "purpose"),
    },
    "a formula file": {
        TOP: ("product", "container", "ingredient", "may-contain", "pack", "contains"),
        "[product]": ("name", "version", "code", "function", "use", "body-area", "form", "users", "professional",
                      "net", "directions", "warnings", "shelf-life", "period-after-opening", "no-opening-period",
                      "ph", "gtin", "claims", "markets", "text", "assessed"),
        "[container]": ("shape", "diameter", "width", "depth", "height", "area", "straight", "colour"),
        "[[ingredient]]": ("material", "inci", "percent", "grams", "up-to", "phase", "tolerance", "purpose"),
        "[[may-contain]]": ("inci", "nano", "names"),
        PACK: ("name", "net", "gtin", "mark", "container", "outer", "labels"),
        PACK_LABEL: ("name", "on", "artwork", "stock", "markets", "languages"),
        CONTAINS: ("formula", "pack", "count"),
        LANGUAGE_TEXT: ("name", "function", "directions", "warnings"),
        "assessed": ("by", "date", "fingerprint"),
    },
}


def keys_of(file: FileKind, place: str) -> tuple[str, ...]:
    """The keys that a table may hold."""
    return KEYS[file][place]


def home_of(key: str, file: FileKind, place: str) -> str | None:
    """Where a key belongs that stands in the wrong table: the same file first, then the others; None where nowhere."""
    order = [file, *(other for other in KEYS if other != file)]
    for other in order:
        for home, keys in KEYS[other].items():
            if key in keys and home != WORDS and (other, home) != (file, place):
                return home if other == file else f"{home} of {other}"
    return None


def check_keys(table: Table, file: FileKind, place: str) -> None:
    """Report every key that the table may not hold, with the nearest known one or the table where it belongs."""
    known = keys_of(file, place)
    for key in table.values:
        if key in known:
            continue
        home = home_of(key, file, place)
        if home:
            table.report.error("key.misplaced", f"{key} stands in {place}", table.where(key),
                               do=f"it belongs in {home}")
        else:
            table.report.error("key.unknown", f"{shown(key)} is no key of {place}", table.where(key),
                               limit=", ".join(known), do=table.report.did_you_mean(key, known))
