"""What was made: whether everything planned was weighed, and the masses that went in."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labeltool.batch.model import Bench, PlanRow
from labeltool.finding import Finding, Findings


@dataclass(frozen=True, slots=True)
class Mass:
    """Grams of one material and lot in a batch."""

    material: str
    lot: str | None
    grams: Decimal
    line: int


def unweighed(bench: Bench) -> tuple[PlanRow, ...]:
    """The planned rows that have no mass yet."""
    return tuple(row for row in bench.plan if row.planned and not bench.on_line(row.line))


def complete(bench: Bench) -> bool:
    """Whether every planned row was weighed, so that the label says what was made."""
    return bool(bench.weighed) and not unweighed(bench)


def partly(bench: Bench) -> Findings:
    """A warning that names the rows still to be weighed; none while nothing or everything was weighed."""
    rows = unweighed(bench)
    if not bench.weighed or not rows:
        return Findings()
    names = ", ".join(f"{row.line} {row.material}" for row in rows)
    text = f"partly weighed: lines {names} have no mass, so the label follows the formula"
    return Findings((Finding("bench.partly", "warning", text, do="weigh them before printing"),))


def nothing_weighed(bench: Bench | None) -> Findings:
    """A note that labels say what the formula plans, while nothing is weighed (None: the batch is not open yet)."""
    if bench is not None and bench.weighed:
        return Findings()
    text = "nothing is weighed yet: the labels say what the formula plans"
    do = "weigh first where the list, its order or the date may change: labeltool batch bench CODE"
    return Findings((Finding("bench.unweighed", "note", text, do=do),))


def masses(bench: Bench) -> tuple[Mass, ...]:
    """What went in, additions too, one entry a line and lot; nothing of 0 g."""
    return tuple(Mass(item.material, item.lot, item.grams, item.line) for item in bench.weighed if item.grams)


def purposes(plan: Sequence[PlanRow]) -> dict[str, str]:
    """What the plan's materials are for, by key; one with several purposes is left to its components."""
    found: dict[str, set[str | None]] = {}
    for row in plan:
        found.setdefault(row.material, set()).add(row.purpose)
    single = {key: words.pop() for key, words in found.items() if len(words) == 1}
    return {key: word for key, word in single.items() if word is not None}


def shortened(
    best_before: dt.date, bench: Bench, date_of: Callable[[str, str | None, dt.date | None], dt.date | None],
) -> tuple[dt.date, Findings]:
    """The best-before date, no later than any weighed lot's own; a note names the lot that shortens it.

    `date_of` gives the date that counts for a material's lot, from the one written down at the bench.
    """
    dates = [
        (date, item) for item in bench.weighed if item.grams
        if (date := date_of(item.material, item.lot, item.expires)) is not None
    ]
    first = min(dates, key=lambda pair: pair[0], default=None)
    if first is None or first[0] >= best_before:
        return best_before, Findings()
    date, item = first
    text = f"best before is {date}, not {best_before}: lot {item.lot or '(unnamed)'} of {item.material} expires then"
    return date, Findings((Finding("best-before.lot", "note", text),))
