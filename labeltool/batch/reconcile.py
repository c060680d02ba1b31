"""Labels against packs: what was printed, spoiled, left, destroyed and filled, and what is still to print."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from labeltool.finding import Finding, Findings


@dataclass(frozen=True, slots=True)
class Printed:
    """Labels of one print and kind. `spoiled`, `left`, `destroyed`: None until somebody counted them."""

    pack: str
    artwork: str
    labels: int
    spoiled: int | None = None
    left: int | None = None
    destroyed: int | None = None

    @property
    def good(self) -> int:
        """Labels that stand on a pack or can: all that were neither spoiled nor destroyed."""
        return self.labels - (self.spoiled or 0) - (self.destroyed or 0)

    @property
    def counted(self) -> bool:
        """Whether anybody counted what became of them."""
        return any(count is not None for count in (self.spoiled, self.left, self.destroyed))


@dataclass(frozen=True, slots=True)
class Account:
    """Labels of one artwork for one pack, against the packs filled (None: not said).

    `printed` = used + spoiled + left + destroyed. `left` is None until it was counted for every print: then what was
    used is known, and must be as many as were filled.
    """

    pack: str
    artwork: str
    printed: int
    spoiled: int
    destroyed: int
    left: int | None
    filled: int | None

    @property
    def usable(self) -> int:
        """Good labels: on packs, or left."""
        return self.printed - self.spoiled - self.destroyed

    @property
    def used(self) -> int | None:
        """Labels that stand on packs; None where nobody counted what is left."""
        return None if self.left is None else self.usable - self.left

    @property
    def missing(self) -> int:
        """Labels still to print; 0 where enough are there."""
        return max(0, (self.filled or 0) - self.usable)

    @property
    def over(self) -> int:
        """Good labels that no filled pack needs; 0 until a count of the filled is on record."""
        return max(0, self.usable - self.filled) if self.filled is not None else 0

    @property
    def spare(self) -> int:
        """Good labels on no pack: as counted, else those that no filled pack needs."""
        return self.over if self.left is None else self.left

    @property
    def difference(self) -> int | None:
        """Labels used above packs filled; None where one of the two is not known."""
        return None if self.used is None or self.filled is None else self.used - self.filled

    @property
    def name(self) -> str:
        """The labels' kind in words."""
        return f"{self.artwork}{f' for {self.pack}' if self.pack else ''}"


def accounts(filled: Iterable[tuple[str, int]], prints: Iterable[Printed]) -> tuple[Account, ...]:
    """One account a pack and artwork, in the order they were first printed."""
    counts = dict(filled)
    groups: dict[tuple[str, str], list[Printed]] = {}
    for item in prints:
        groups.setdefault((item.pack, item.artwork), []).append(item)
    return tuple(_account(pack, artwork, rows, counts.get(pack)) for (pack, artwork), rows in groups.items())


def _account(pack: str, artwork: str, rows: list[Printed], filled: int | None) -> Account:
    lefts = [item.left for item in rows]
    left = None if None in lefts else sum(count or 0 for count in lefts)
    return Account(
        pack, artwork, sum(item.labels for item in rows), sum(item.spoiled or 0 for item in rows),
        sum(item.destroyed or 0 for item in rows), left, filled,
    )


def to_print(filled: Iterable[tuple[str, int]], prints: Iterable[Printed], pack: str, artwork: str) -> int | None:
    """How many labels `--count filled` prints: the filled, less the good ones; None where nobody counted."""
    count = dict(filled).get(pack)
    if count is None:
        return None
    usable = sum(item.good for item in prints if (item.pack, item.artwork) == (pack, artwork))
    return max(0, count - usable)


def reconciliation(filled: Iterable[tuple[str, int]], prints: Iterable[Printed]) -> Findings:
    """Warnings where packs have no label, or labels and packs differ; a note where good labels are over."""
    found = []
    for item in accounts(filled, prints):
        if item.missing:
            text = _enough(item)
            found.append(Finding("labels.too-few", "warning", text, do="print with --count filled"))
        elif item.difference:
            found.append(_differ(item))
        elif item.over and item.left is None:
            text = f"{_enough(item)}: {item.over} left over"
            do = "count them: labeltool batch bench CODE --spoiled PRINT=N --left PRINT=N --destroyed PRINT=N"
            found.append(Finding("labels.left", "note", text, do=do))
    return Findings(tuple(found))


def _differ(item: Account) -> Finding:
    """Labels used and packs filled that are not as many."""
    text = (f"labels of {item.name}: {item.printed} printed, {item.spoiled} spoiled, {item.left} left, "
            f"{item.destroyed} destroyed, so {item.used} used; {_counted(item.filled or 0, 'pack')} filled")
    more = abs(item.difference or 0)
    lacking = f"{_counted(more, 'pack')} without a label of it"
    what = f"{_counted(more, 'label')} unaccounted for" if (item.difference or 0) > 0 else lacking
    return Finding("labels.differ", "warning", f"{text}: {what}", do="count again, or note what became of them")


def _enough(item: Account) -> str:
    return f"{_counted(item.filled or 0, 'pack')} filled, {_counted(item.usable, 'good label')} of {item.name}"


def _counted(number: int, one: str) -> str:
    return f"{number} {one}{'' if number == 1 else 's'}"
