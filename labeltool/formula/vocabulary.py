"""The words that input files may use: markets' countries, languages, uses, forms, body areas, purposes."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable

from labeltool.formula.model import Market

USES = ("leave-on", "rinse-off")
BODY_AREAS = ("face", "eyes", "lips", "mouth", "hair", "nails", "hands", "body")
FORMS = ("liquid", "cream", "gel", "oil", "balm", "bar", "powder", "spray", "aerosol", "wipe")
USERS = ("adults", "children", "under-3")
SHAPES = ("cylinder", "box", "pouch", "other")
ROLES = ("distributed by", "imported by", "made for")
GTIN_DATES = ("11", "15", "17")

# What a substance is there for: functions that decide between two entries of a law, and the usual others.
PURPOSES = (
    "abrasive", "antioxidant", "antiperspirant", "buffer", "chelating", "cleansing", "colorant", "conditioning",
    "emollient", "emulsifier", "exfoliant", "film-former", "fragrance", "hair-dye", "humectant", "moisturiser",
    "opacifier", "oxidising", "ph-adjuster", "preservative", "propellant", "reducing", "soothing", "solvent",
    "stabiliser", "surfactant", "thickener", "uv-absorber", "uv-filter", "viscosity",
)

# ISO 639-1: the official languages of Europe and North America.
LANGUAGES = (
    "bg", "bs", "ca", "cs", "cy", "da", "de", "el", "en", "es", "et", "eu", "fi", "fr", "ga", "gl", "hr", "hu",
    "is", "it", "lb", "lt", "lv", "mk", "mt", "nb", "nl", "nn", "no", "pl", "pt", "rm", "ro", "ru", "sk", "sl",
    "sq", "sr", "sv", "tr", "uk",
)

# ISO 3166-1 alpha-2.
COUNTRIES = frozenset((
    "AD", "AE", "AF", "AG", "AI", "AL", "AM", "AO", "AQ", "AR", "AS", "AT", "AU", "AW", "AX", "AZ", "BA", "BB",
    "BD", "BE", "BF", "BG", "BH", "BI", "BJ", "BL", "BM", "BN", "BO", "BQ", "BR", "BS", "BT", "BV", "BW", "BY",
    "BZ", "CA", "CC", "CD", "CF", "CG", "CH", "CI", "CK", "CL", "CM", "CN", "CO", "CR", "CU", "CV", "CW", "CX",
    "CY", "CZ", "DE", "DJ", "DK", "DM", "DO", "DZ", "EC", "EE", "EG", "EH", "ER", "ES", "ET", "FI", "FJ", "FK",
    "FM", "FO", "FR", "GA", "GB", "GD", "GE", "GF", "GG", "GH", "GI", "GL", "GM", "GN", "GP", "GQ", "GR", "GS",
    "GT", "GU", "GW", "GY", "HK", "HM", "HN", "HR", "HT", "HU", "ID", "IE", "IL", "IM", "IN", "IO", "IQ", "IR",
    "IS", "IT", "JE", "JM", "JO", "JP", "KE", "KG", "KH", "KI", "KM", "KN", "KP", "KR", "KW", "KY", "KZ", "LA",
    "LB", "LC", "LI", "LK", "LR", "LS", "LT", "LU", "LV", "LY", "MA", "MC", "MD", "ME", "MF", "MG", "MH", "MK",
    "ML", "MM", "MN", "MO", "MP", "MQ", "MR", "MS", "MT", "MU", "MV", "MW", "MX", "MY", "MZ", "NA", "NC", "NE",
    "NF", "NG", "NI", "NL", "NO", "NP", "NR", "NU", "NZ", "OM", "PA", "PE", "PF", "PG", "PH", "PK", "PL", "PM",
    "PN", "PR", "PS", "PT", "PW", "PY", "QA", "RE", "RO", "RS", "RU", "RW", "SA", "SB", "SC", "SD", "SE", "SG",
    "SH", "SI", "SJ", "SK", "SL", "SM", "SN", "SO", "SR", "SS", "ST", "SV", "SX", "SY", "SZ", "TC", "TD", "TF",
    "TG", "TH", "TJ", "TK", "TL", "TM", "TN", "TO", "TR", "TT", "TV", "TW", "TZ", "UA", "UG", "UM", "US", "UY",
    "UZ", "VA", "VC", "VE", "VG", "VI", "VN", "VU", "WF", "WS", "YE", "YT", "ZA", "ZM", "ZW",
))

EU_MEMBERS = frozenset((
    "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IT", "LT", "LU",
    "LV", "MT", "NL", "PL", "PT", "RO", "SE", "SI", "SK",
))

_MEANT = {"GB": "UK", "USA": "US", "CAN": "CA", "EUROPE": "EU", "EEA": "EU", "UK": "GB"}


def home_market(country: str) -> Market | None:
    """The market of a maker's country (ISO 3166-1 alpha-2), or None where it is none of the four."""
    if country in EU_MEMBERS:
        return "EU"
    homes: dict[str, Market] = {"GB": "UK", "US": "US", "CA": "CA"}
    return homes.get(country)


def meant(word: str, known: Collection[str]) -> str | None:
    """A known word that another name for it stands for: "GB" for the market UK, "UK" for the country GB."""
    found = _MEANT.get(word.upper())
    return found if found is not None and found in known else None


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like `word`, or that begins with it; case and spaces aside. None where none is near."""
    folded = {_fold(item): item for item in known}
    close = difflib.get_close_matches(_fold(word[:60]), folded, 1, 0.6)
    if close:
        return folded[close[0]]
    longer = [name for name in folded if len(word) >= 3 and name.startswith(_fold(word))]
    return folded[min(longer, key=len)] if longer else None


def _fold(word: str) -> str:
    return word.casefold().replace("_", "-").replace(" ", "-")
