"""Net quantity in words: metric for UK and EU, both systems for the US, three figures for Canada."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from labeltool.finding import Finding
from labeltool.formula.model import NetQuantity
from labeltool.wording.words import Words

# 16 CFR 500.19(a), "and none others"
FL_OZ_PER_ML = Fraction("0.0338140")
OZ_PER_G = Fraction("0.0352740")

OZ_PER_LB = 16
FL_OZ = (("gal.", 128), ("qt.", 32), ("pt.", 16), ("oz.", 1))
LARGE_OZ, LARGE_FL_OZ = 64, 128  # 21 CFR 701.13(j), (k): 4 pounds and 1 gallon

_BASE = {"ml": 1, "l": 1000, "g": 1, "kg": 1000}


def is_volume(net: NetQuantity) -> bool:
    """Whether the quantity is a volume."""
    return net.unit in ("ml", "l")


def base_amount(net: NetQuantity) -> Fraction | None:
    """One pack's content in ml or g; None for pieces."""
    return Fraction(net.amount) * _BASE[net.unit] if net.unit in _BASE else None


def net_text(net: NetQuantity, markets: Sequence[str], languages: Sequence[str], words: Words) -> str:
    """The net quantity statement of a label for all these markets."""
    if net.unit == "pieces":
        counted = words.joined("piece" if net.amount == 1 else "pieces", languages, "{}")
        return f"{_times(net)}{str_of(Fraction(net.amount))} {counted}"
    metric = _times(net) + _metric(net, markets, languages)
    return _dual(net, metric, markets, languages, words) if "US" in markets else metric


def _times(net: NetQuantity) -> str:
    return f"{net.packs} × " if net.packs > 1 else ""


def _dual(net: NetQuantity, metric: str, markets: Sequence[str], languages: Sequence[str], words: Words) -> str:
    """Both systems, 15 U.S.C. 1453(a)(2): ounces first on a label for the US alone, metric first on a joint one."""
    customary = _customary(net)
    front = "" if is_volume(net) else words.joined("net-weight", _kept(languages, "en", "fr"), "{}") + " "
    several = "(" in customary
    if tuple(markets) == ("US",):
        return f"{front}{customary} {metric}" if several else f"{front}{customary} ({metric})"
    return f"{front}{metric}, {customary}" if several else f"{front}{metric} ({customary})"


def _kept(languages: Sequence[str], *wanted: str) -> tuple[str, ...]:
    return tuple(lang for lang in wanted if lang in languages) or ("en",)


def _customary(net: NetQuantity) -> str:
    """The whole content, of all packs, in US units."""
    total = (base_amount(net) or Fraction(0)) * net.packs
    return us_volume(total * FL_OZ_PER_ML) if is_volume(net) else us_weight(total * OZ_PER_G)


def us_weight(ounces: Fraction) -> str:
    """Avoirdupois ounces as 21 CFR 701.13(j)(1), (k) write them, without "Net wt.": decimals cut after two places."""
    cut = truncated(ounces, 2)
    pounds, rest = divmod(cut, OZ_PER_LB)
    in_pounds = f"{pounds} lb." + (f" {str_of(rest)} oz." if rest else "")
    if cut < OZ_PER_LB:
        return f"{str_of(cut)} oz."
    return in_pounds if cut >= LARGE_OZ else f"{str_of(cut)} oz. ({in_pounds})"


def us_volume(fluid_ounces: Fraction) -> str:
    """US fluid ounces as 21 CFR 701.13(j)(2), (k) write them: decimals cut after two places."""
    cut = truncated(fluid_ounces, 2)
    if cut < FL_OZ[2][1]:
        return f"{str_of(cut)} fl. oz."
    return _largest(cut) if cut >= LARGE_FL_OZ else f"{str_of(cut)} fl. oz. ({_largest(cut)})"


def _largest(fluid_ounces: Fraction) -> str:
    """Gallons, quarts, pints and what is left, each unit that occurs once."""
    parts, rest = [], fluid_ounces
    for unit, size in FL_OZ[:-1]:
        whole, rest = divmod(rest, size)
        parts += [f"{whole} {unit}"] if whole else []
    return " ".join(parts + ([f"{str_of(rest)} oz."] if rest else []))


def truncated(value: Fraction, places: int) -> Fraction:
    """A value cut, never rounded up, after so many decimal places: no statement exceeds the fill."""
    scale = 10**places
    return Fraction(value * scale // 1, scale)


def figures(value: Fraction, count: int) -> Fraction:
    """A value cut to `count` figures (16 CFR 500.19(b); C.R.C., c. 417, s. 25)."""
    whole = len(str(value // 1)) if value >= 1 else 0
    return truncated(value, max(0, count - whole))


def str_of(value: Fraction) -> str:
    """A finite decimal in plain digits: a zero before the point, none at the end."""
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    text = f"{exact:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _metric(net: NetQuantity, markets: Sequence[str], languages: Sequence[str]) -> str:
    amount, unit = Fraction(net.amount), str(net.unit)
    if "CA" in markets:
        amount, unit = _canadian(base_amount(net) or Fraction(0), volume=is_volume(net))
    symbol = {"l": "L", "ml": "mL" if {"US", "CA"} & set(markets) else "ml"}.get(unit, unit)
    point = "." if "en" in languages or "US" in markets else ","
    return f"{str_of(amount).replace('.', point)} {symbol}"


def _canadian(base: Fraction, *, volume: bool) -> tuple[Fraction, str]:
    """C.R.C., c. 417, ss. 25 and 27: three figures; mL and g below 1000, L and kg from there on."""
    if base < 1000:
        return figures(base, 3), "ml" if volume else "g"
    return figures(base / 1000, 3), "l" if volume else "kg"


def net_findings(net: NetQuantity, form: str | None, markets: Sequence[str]) -> tuple[Finding, ...]:
    """What a maker should look at: weight or volume by the product's nature, and ounces that differ by country."""
    if form == "bar" and is_volume(net):
        return (_bar(net),)
    found = []
    if "US" in markets and is_volume(net) and form in ("cream", "balm", "bar", "gel", "powder"):
        found.append(_note("US", f"a {form} is stated by weight in the US, unless trade custom has it otherwise",
                           "21 CFR 701.13(a)"))
    if "CA" in markets and not is_volume(net) and form in ("liquid", "cream", "gel", "oil"):
        found.append(_note("CA", f"a {form} is stated by volume in Canada, unless trade practice has it otherwise",
                           "C.R.C., c. 417, s. 21"))
    if "CA" in markets and is_volume(net) and form == "aerosol":
        found.append(_note("CA", "an aerosol is stated by weight in Canada", "C.R.C., c. 417, s. 22"))
    if "US" in markets and {"UK", "CA"} & set(markets) and is_volume(net):
        found.append(_note("US", "the fluid ounces are US ones (29.5735 ml); the imperial ounce has 28.4131 ml", None))
    return tuple(found)


def _bar(net: NetQuantity) -> Finding:
    text = f"a bar is solid, and {str_of(Fraction(net.amount))} {net.unit} is a volume"
    return Finding("net.bar", "error", text, limit="g, kg or pieces",
                   source="21 CFR 701.13(a); C.R.C., c. 417, s. 21: a solid is stated by weight",
                   do="weigh the bar after it has cured, and write its grams under net")


def _note(market: str, text: str, source: str | None) -> Finding:
    return Finding("net.kind", "note", text, market=market, source=source, do="look at net under [product]")
