"""Percents, masses, lengths, dates, periods and net quantities as people type them.

Every reader returns the value, or a str that says what is wrong and what is allowed; none raises. A decimal comma is
as good as a point, a unit stands with or without a space.
"""

from __future__ import annotations

import re
from decimal import Decimal

from labeltool.formula.datewords import parse_date as parse_date
from labeltool.formula.model import NetQuantity, Period

SPACES = re.compile("[ \t\u00a0\u2007\u2009\u202f]+")
NUMBER = "-?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)"
_NUMBER = re.compile(NUMBER)
_QUANTITY = re.compile(f"({NUMBER}) ?([^0-9 .,-].*)?")
_PACKS = re.compile("([0-9]{1,4}) ?[xX×*] ?(.+)")

MOST_DIGITS = 20
MOST_MASS_G = Decimal(10**9)
MOST_NET = Decimal(10**6)
MOST_PACKS = 1000
MOST_MONTHS = 600

_MASS = {"g": Decimal(1), "kg": Decimal(1000), "mg": Decimal("0.001"), "gram": Decimal(1), "grams": Decimal(1)}
_LENGTH = {"mm": Decimal(1), "cm": Decimal(10)}
_NET: dict[str, tuple[str, int]] = {
    "ml": ("ml", 1), "l": ("l", 1), "g": ("g", 1), "kg": ("kg", 1), "cl": ("ml", 10), "dl": ("ml", 100),
    "piece": ("pieces", 1), "pieces": ("pieces", 1),
}
_PERIOD = {"day": (0, 1), "week": (0, 7), "month": (1, 0), "m": (1, 0), "year": (12, 0)}
_NOT_METRIC = ("oz", "fl oz", "fl. oz.", "lb", "lbs", "pint", "pt", "ounce", "ounces")


def shown(value: object, most: int = 60) -> str:
    """A value as it may stand in a message: quoted where it is text, shortened, never raising."""
    try:
        text = _told(value)
    except ValueError:
        text = "a number of thousands of digits"
    return text if len(text) <= most else text[:most] + "…"


def _told(value: object) -> str:
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_told, value))}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key} = {_told(item)}' for key, item in value.items())} }}"
    return repr(value) if isinstance(value, str) else str(value).lower() if isinstance(value, bool) else str(value)


def plain(value: Decimal) -> Decimal:
    """The same number without a needless exponent or trailing zeros."""
    if not value.is_finite() or value.adjusted() > 25:
        return value
    return value.quantize(Decimal(1)) if value == value.to_integral_value() else value.normalize()


def tidy(text: str) -> str:
    """Text with every run of spaces, thin and fixed ones too, as one space, and a minus sign as a hyphen."""
    return SPACES.sub(" ", text).strip().replace("\u2212", "-")


def parse_number(text: str) -> Decimal | str:
    """A decimal number; comma and point both part the decimals, and nothing groups thousands."""
    found = tidy(text)
    if not _NUMBER.fullmatch(found):
        return f"{shown(text)} is no number"
    if len(found) > MOST_DIGITS:
        return f"{shown(text)} has more than {MOST_DIGITS} digits"
    return Decimal(found.replace(",", "."))


def parse_percent(text: str) -> Decimal | str:
    """A percentage from 0 to 100, with or without its sign: "5,32 %", "71.5"."""
    found = parse_number(text.strip().removesuffix("%"))
    if isinstance(found, str):
        return f"{shown(text)} is no percentage"
    return found if 0 <= found <= 100 else f"{shown(text)} is not between 0 and 100 %"


def parse_mass(text: str, *, bare: bool = False) -> Decimal | str:
    """A mass in grams from "500g", "0,5 kg", "120 mg"; `bare`: a number alone is grams. Zero is a mass."""
    found = _measured(text, _MASS, "g" if bare else None, "a mass: 500g, 0.5 kg")
    if isinstance(found, str):
        return found
    return found if 0 <= found <= MOST_MASS_G else f"{shown(text)} is not between 0 and {MOST_MASS_G // 1000} kg"


def parse_size(text: str) -> Decimal | str:
    """A batch's size in grams; what a pack holds is no size, and the answer says so."""
    found = parse_mass(text)
    if isinstance(found, str) and not isinstance(parse_net(text), str):
        return f"{shown(text)} is what a pack holds; a size is the mass that is made: 500g. --pack names the pack"
    return found


def parse_length(text: str) -> Decimal | str:
    """A length in millimetres from "40", "40 mm" or "4 cm"; more than 0."""
    found = _measured(text, _LENGTH, "mm", "a length: 40 mm")
    if isinstance(found, str):
        return found
    return found if found > 0 else f"{shown(text)} is not more than 0 mm"


def parse_tolerance(text: str) -> tuple[Decimal, str] | str:
    """A tolerance as (figure, "%" or "g"): "2 %", "0.5 g"."""
    if text.strip().endswith("%"):
        percent = parse_percent(text)
        return percent if isinstance(percent, str) else (percent, "%")
    mass = parse_mass(text)
    return f"{shown(text)} is no tolerance: 2 %, 0.5 g" if isinstance(mass, str) else (mass, "g")


def parse_period(text: str) -> Period | str:
    """A period of whole months or days: "18 months", "2 years", "90 days", "6M"; no longer than 50 years."""
    split = _QUANTITY.fullmatch(tidy(text))
    unit = (split.group(2) or "").lower() if split else ""
    factors = _PERIOD.get(unit) or _PERIOD.get(unit.removesuffix("s"))
    count = parse_number(split.group(1)) if split else ""
    if factors is None or isinstance(count, str):
        return f"{shown(text)} is no period: 18 months, 2 years, 90 days"
    months, days = count * factors[0], count * factors[1]
    if months % 1 or days % 1 or count <= 0:
        return f"{shown(text)} is not a whole number of months or days, 1 or more"
    if months > MOST_MONTHS or days > MOST_MONTHS * 30:
        return f"{shown(text)} is longer than {MOST_MONTHS // 12} years"
    return Period(int(months), int(days))


def parse_net(text: str) -> NetQuantity | str:
    """Net contents: "50 ml", "90 g", "6 pieces", "3 x 100 g"; metric only."""
    found = tidy(text)
    multiple = _PACKS.fullmatch(found)
    packs, inner = (int(multiple.group(1)), multiple.group(2)) if multiple else (1, found)
    split = _QUANTITY.fullmatch(inner)
    unit = (split.group(2) or "").lower() if split else ""
    amount = parse_number(split.group(1)) if split else ""
    if unit in _NOT_METRIC:
        return f"{shown(text)} is not metric: 50 ml, 90 g (ounces for the US are worked out)"
    if unit not in _NET or isinstance(amount, str):
        return f"{shown(text)} is no net quantity: 50 ml, 90 g, 6 pieces, 3 x 100 g"
    return _net(text, amount, unit, packs)


def _net(text: str, amount: Decimal, unit: str, packs: int) -> NetQuantity | str:
    name, factor = _NET[unit]
    if not (0 < amount <= MOST_NET and 0 < packs <= MOST_PACKS):
        return f"{shown(text)} is not more than 0, or too much for one pack"
    if name == "pieces" and amount % 1:
        return f"{shown(text)} is no whole number of pieces"
    return NetQuantity(plain(amount * factor), name, packs)  # type: ignore[arg-type]


def _measured(text: str, units: dict[str, Decimal], bare: str | None, example: str) -> Decimal | str:
    split = _QUANTITY.fullmatch(tidy(text))
    number = parse_number(split.group(1)) if split else ""
    if split is None or isinstance(number, str):
        return f"{shown(text)} is not {example}"
    unit = (split.group(2) or bare or "").strip()
    if not unit:
        return f"{shown(text)} has no unit; write {text.strip()[:20]} {next(iter(units))}"
    factor = units.get(unit) or units.get(unit.lower())
    return f"{shown(text)} is not {example}" if factor is None else plain(number * factor)
