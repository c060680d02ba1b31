"""Terms of rules: from which day, until which day, and how long stock placed before may still be sold."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Term:
    """First and last day of placing on the market to which a rule applies (both included; None: open), and the last
    day on which units placed before may be made available."""

    start: dt.date | None = None
    end: dt.date | None = None
    stock_until: dt.date | None = None

    def covers(self, on: dt.date) -> bool:
        """Whether it applies to what is placed on the market that day."""
        return (self.start is None or self.start <= on) and (self.end is None or on <= self.end)

    def comes_after(self, on: dt.date) -> bool:
        """Whether it applies only later."""
        return self.start is not None and on < self.start

    @property
    def told(self) -> str:
        """The term in words."""
        start = f"from {self.start}" if self.start else "in force"
        stock = f", stock placed before may be sold until {self.stock_until}" if self.stock_until else ""
        return f"{start}{stock}"


def term_of(row: Mapping[str, Any]) -> Term:
    """The term of a table's row: from, until, stock-until."""
    return Term(row.get("from"), row.get("until"), row.get("stock-until"))
