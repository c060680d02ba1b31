"""A list of ingredients as words: what stands where, and how "may contain" is said."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from labeltool.compose.names import key

ONE = Decimal(1)


@dataclass(frozen=True, slots=True)
class Entry:
    """A name to print with its nominal percent. `last`: a colorant, which stands after the others."""

    name: str
    nominal: Decimal
    last: bool = False


def arranged(entries: Sequence[Entry], extras: Sequence[Entry]) -> tuple[str, ...]:
    """The names in order: by weight down to the smallest, extra names below 1 % after them, colorants at the end.

    Sorting what is below 1 % by weight too is valid in every market. One name is printed once, with its sum. An extra
    name of 1 % or more stands in its place by weight.
    """
    listed = _merged(entries)
    heavy = [item for item in extras if item.nominal >= ONE]
    light = [item for item in extras if item.nominal < ONE]
    body = _falling([*(item for item in listed if not item.last), *heavy])
    colorants = _falling(item for item in listed if item.last)
    return tuple(item.name for item in (*body, *_falling(light), *colorants))


def _falling(entries: Iterable[Entry]) -> list[Entry]:
    return sorted(entries, key=lambda item: -item.nominal)


def _merged(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    found: dict[str, Entry] = {}
    for item in entries:
        word = key(item.name)
        before = found.get(word)
        found[word] = item if before is None else replace(
            before, nominal=before.nominal + item.nominal, last=before.last and item.last,
        )
    return tuple(found.values())


def worded(names: Sequence[str], may_contain: Sequence[str], markets: Sequence[str]) -> str:
    """The list as printed, names parted by commas, without its heading.

    Colorants of other batches or shades: "May contain: ..." wherever the US is among the markets (21 CFR 701.3(g)
    knows no sign), with the French beside it for Canada (C.R.C., c. 869, 21.2(2)); elsewhere the sign that EU,
    UK and Canada all know, "[+/- ...]", which belongs to no language.
    """
    text = ", ".join(names)
    if not may_contain:
        return text
    more = ", ".join(may_contain)
    if "US" not in markets:
        return f"{text} [+/- {more}]".strip()
    heading = "May contain/Peut contenir" if "CA" in markets else "May contain"
    return f"{text}{'' if text.endswith('.') or not text else '.'} {heading}: {more}".strip()
