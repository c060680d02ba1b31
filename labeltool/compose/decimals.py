"""Between Fraction (inside) and Decimal (at the doors)."""

from __future__ import annotations

from decimal import Context, Decimal
from fractions import Fraction

from labeltool.compose.model import Percent
from labeltool.compose.ranges import Spread

DIGITS = Context(prec=12)


def decimal(value: Fraction) -> Decimal:
    """The value as a Decimal: exact where 12 significant digits hold it, else rounded to 12."""
    found = DIGITS.divide(Decimal(value.numerator), Decimal(value.denominator))
    trimmed = found.normalize(DIGITS)
    exponent = trimmed.as_tuple().exponent
    return trimmed.quantize(Decimal(1)) if isinstance(exponent, int) and exponent > 0 else trimmed


def percent(spread: Spread) -> Percent:
    """A spread as the Percent of the model."""
    return Percent(decimal(spread.low), decimal(spread.nominal), decimal(spread.high))
