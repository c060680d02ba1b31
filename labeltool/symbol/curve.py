"""How wide a symbol may be on a cylinder so that phones still read it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from labeltool.symbol.anatomy import size_of


def widest_share(version: int, table: Mapping[str, Any]) -> float:
    """The largest width of a symbol without its quiet zone, as a share of the cylinder's diameter."""
    shares: dict[int, float] = {int(key): share for key, share in table["shares"].items()}
    if version < min(shares):
        return float(table["most"])
    last = max(shares)
    return shares[version] if version <= last else shares[last] * size_of(last) / size_of(version)


def widest_mm(version: int, diameter_mm: float, table: Mapping[str, Any]) -> float:
    """The same in mm."""
    return widest_share(version, table) * diameter_mm


def least_diameter_mm(version: int, width_mm: float, table: Mapping[str, Any]) -> float:
    """The narrowest cylinder that a symbol of this width goes on."""
    return width_mm / widest_share(version, table)
