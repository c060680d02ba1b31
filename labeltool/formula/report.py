"""The faults and notes of a reading, collected while it goes on."""

from __future__ import annotations

from collections.abc import Iterable

from labeltool.finding import Finding, Findings, Level, Where
from labeltool.formula import vocabulary

NEAREST_ASKED = 60


class Report:
    """Collects findings in the order they are met; the only changing value of a reading."""

    def __init__(self) -> None:
        self._items: list[Finding] = []
        self._asked = 0

    def error(self, rule: str, text: str, where: Where, *, limit: str | None = None, do: str | None = None) -> None:
        """Something that stops a label."""
        self._add(rule, "error", text, where, limit, do)

    def warning(self, rule: str, text: str, where: Where, *, limit: str | None = None, do: str | None = None) -> None:
        """Something doubtful."""
        self._add(rule, "warning", text, where, limit, do)

    def note(self, rule: str, text: str, where: Where, *, limit: str | None = None, do: str | None = None) -> None:
        """Something worth knowing."""
        self._add(rule, "note", text, where, limit, do)

    def _add(self, rule: str, level: Level, text: str, where: Where, limit: str | None, do: str | None) -> None:
        self._items.append(Finding(rule, level, text, where, limit=limit, do=do))

    def did_you_mean(self, word: str, known: Iterable[str]) -> str | None:
        """"did you mean X?" with the nearest known word; None where none is near, or after 60 such questions."""
        names = tuple(known)
        other = vocabulary.meant(word, names)
        if other is None and self._asked < NEAREST_ASKED:
            self._asked += 1
            other = vocabulary.nearest(word, names)
        return f"did you mean {other}?" if other else None

    @property
    def count(self) -> int:
        """How many findings there are by now."""
        return len(self._items)

    def failed_since(self, count: int) -> bool:
        """Whether an error was added after the first `count` findings."""
        return any(item.level == "error" for item in self._items[count:])

    def findings(self) -> Findings:
        """All of them, as a value."""
        return Findings(tuple(self._items))
