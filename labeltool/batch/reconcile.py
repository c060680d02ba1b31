"""Labels against packs: what was printed, spoiled, filled, and what is still to print."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from labeltool.finding import Finding, Findings


@dataclass(frozen=True, slots=True)
class Printed:
    """Labels of one print. `good` is None until someone counted: then all that were not spoiled are good."""

    pack: str
    artwork: str
    labels: int
    spoiled: int | None = None
    good: int | None = None

    @property
    def usable(self) -> int:
        """Labels that can stand on a pack."""
        return self.good if self.good is not None else self.labels - (self.spoiled or 0)


@dataclass(frozen=True, slots=True)
class Account:
    """Labels of one artwork for one pack, against the packs filled (None: not said)."""

    pack: str
    artwork: str
    printed: int
    usable: int
    filled: int | None

    @property
    def missing(self) -> int:
        """Labels still to print; 0 where enough are there."""
        return max(0, (self.filled or 0) - self.usable)

    @property
    def left(self) -> int:
        """Usable labels that no filled pack needs; 0 until a count is on record."""
        return max(0, self.usable - self.filled) if self.filled is not None else 0


def accounts(filled: Iterable[tuple[str, int]], prints: Iterable[Printed]) -> tuple[Account, ...]:
    """One account a pack and artwork, in the order they were first printed."""
    counts = dict(filled)
    groups: dict[tuple[str, str], list[Printed]] = {}
    for item in prints:
        groups.setdefault((item.pack, item.artwork), []).append(item)
    return tuple(
        Account(pack, artwork, sum(item.labels for item in rows), sum(item.usable for item in rows), counts.get(pack))
        for (pack, artwork), rows in groups.items()
    )


def to_print(filled: Iterable[tuple[str, int]], prints: Iterable[Printed], pack: str, artwork: str) -> int | None:
    """How many labels `--count filled` prints: the filled, less the good ones; None where nobody counted."""
    count = dict(filled).get(pack)
    if count is None:
        return None
    usable = sum(item.usable for item in prints if (item.pack, item.artwork) == (pack, artwork))
    return max(0, count - usable)


def reconciliation(filled: Iterable[tuple[str, int]], prints: Iterable[Printed]) -> Findings:
    """A warning where packs have no label, a note where labels are left over: each should be accounted for."""
    found = []
    for item in accounts(filled, prints):
        name = f"{item.artwork}{f' for {item.pack}' if item.pack else ''}"
        if item.missing:
            text = f"{item.filled} packs filled, {item.usable} good labels of {name}"
            found.append(Finding("labels.too-few", "warning", text, do="print with --count filled"))
        if item.left:
            text = f"{item.left} labels of {name} are left over: {item.usable} good, {item.filled} packs filled"
            found.append(Finding("labels.left", "note", text, do="destroy them, and note it"))
    return Findings(tuple(found))
