"""Finding: one thing that is wrong or worth knowing, as a value."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, Literal

Level = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True)
class Where:
    """A place in an input: file, line (from 1), spreadsheet row, cell or column, key path, label block."""

    file: str | None = None
    line: int | None = None
    row: int | None = None
    cell: str | None = None
    key: str | None = None
    block: str | None = None

    def as_json(self) -> dict[str, Any]:
        """The place as the documented JSON object; `cell` and `key` only where known."""
        base: dict[str, Any] = {"file": self.file, "line": self.line, "row": self.row, "block": self.block}
        extra = {"cell": self.cell, "key": self.key}
        return base | {name: value for name, value in extra.items() if value is not None}

    def __str__(self) -> str:
        place = self.file or ""
        if self.line is not None:
            place += f":{self.line}"
        if self.row is not None and self.line is None:
            place += f", row {self.row}"
        if self.cell is not None:
            place += f", cell {self.cell}"
        return place or (self.block or "")


NOWHERE = Where()


@dataclass(frozen=True, slots=True)
class Finding:
    """A problem or a note.

    `rule` is a stable dotted name (`formula.sum`, `material.unknown`); `text` says what was found and is
    free to change; `limit` says what is allowed; `source` names the law or document; `confidence` is
    "law", "memory", "practice" or None; `do` says what to do about it.
    """

    rule: str
    level: Level
    text: str
    where: Where = NOWHERE
    market: str | None = None
    limit: str | None = None
    source: str | None = None
    confidence: str | None = None
    do: str | None = None

    def as_json(self) -> dict[str, Any]:
        """The documented JSON object of a problem."""
        return {
            "rule": self.rule,
            "level": self.level,
            "market": self.market,
            "where": self.where.as_json(),
            "text": self.text,
            "limit": self.limit,
            "source": self.source,
            "confidence": self.confidence,
            "do": self.do,
        }


@dataclass(frozen=True, slots=True)
class Findings:
    """An ordered, immutable collection of findings with the questions callers ask of it."""

    items: tuple[Finding, ...] = field(default=())

    def __add__(self, other: Findings | Iterable[Finding]) -> Findings:
        more = other.items if isinstance(other, Findings) else tuple(other)
        return Findings(self.items + more)

    def __iter__(self) -> Any:
        return iter(self.items)

    def __len__(self) -> int:
        return len(self.items)

    @property
    def errors(self) -> tuple[Finding, ...]:
        """The findings that stop a label."""
        return tuple(item for item in self.items if item.level == "error")
