"""What a maker types at the bench: masses before and after, additions, readings, counts, corrections.

Every reader returns the value, or a str that says what is wrong and what is allowed; none raises.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal

from labeltool.batch.model import Bench, Counted, Entry, Fate, Filled, Reading, Weighing, Yield
from labeltool.formula.quantities import NUMBER, parse_mass, parse_number, shown, tidy

_DASHES = str.maketrans("\u2010\u2011\u2012\u2013\u2014\u2212", "------")
_PAIR = re.compile("([^-]+)-([^-]+)")
_READING = re.compile(f"({NUMBER}) ?((?:[^\\W0-9_]|[%°])[^@]*)?(?:@ ?({NUMBER}) ?°? ?C)?", re.IGNORECASE)
_NAME = re.compile("[a-z][a-z0-9-]*")
_UNIT = re.compile("[a-zA-Z ]+$")
_COUNT = re.compile("([0-9]{1,6})(?: ?/ ?([^=]+?))? ?= ?([0-9]{1,8})")
FATES: tuple[Fate, ...] = ("spoiled", "left", "destroyed")
MOST_COUNT = 10_000_000


def parse_weight(text: str) -> Decimal | str:
    """A weighed mass in grams: "1.30", "1,3 g", "0.5 kg"; "48.72-47.42" is the scale before and after."""
    typed = tidy(text.translate(_DASHES))
    pair = _PAIR.fullmatch(typed)
    if pair is None:
        found = parse_mass(typed, bare=True)
        return f"{shown(text)} is no mass: 1.30, 1.3 g, 48.72-47.42" if isinstance(found, str) else found
    unit = _UNIT.search(pair.group(2))
    first = pair.group(1).strip() + (unit.group(0) if unit and not _UNIT.search(pair.group(1).strip()) else "")
    before, after = parse_mass(first, bare=True), parse_mass(pair.group(2), bare=True)
    if isinstance(before, str) or isinstance(after, str):
        return f"{shown(text)} is no mass: 1.30, 1.3 g, 48.72-47.42"
    return before - after if before >= after else f"{shown(text)}: the mass before is smaller than the one after"


def parse_addition(text: str) -> Weighing | str:
    """MATERIAL=GRAMS@LOT, the lot optional."""
    material, equals, rest = text.partition("=")
    if not equals or not material.strip():
        return f"{shown(text)} is not MATERIAL=GRAMS@LOT"
    grams, lot = _weight_and_lot(rest)
    return grams if isinstance(grams, str) else Weighing(material.strip(), grams, lot=lot)


def parse_reading(text: str) -> Reading | str:
    """NAME=VALUE, then a unit and @TEMPERATURE where known: "ph=5.32@21C", "viscosity=12000 mPas@25C"."""
    name, equals, rest = text.partition("=")
    wanted = f"{shown(text)} is no reading: ph=5.32@21C"
    found = _READING.fullmatch(tidy(rest))
    if not equals or not _NAME.fullmatch(name.strip().lower()) or found is None:
        return wanted
    value = parse_number(found.group(1))
    celsius = parse_number(found.group(3)) if found.group(3) else None
    if isinstance(value, str) or isinstance(celsius, str):
        return wanted
    return Reading(name.strip().lower(), value, (found.group(2) or "").strip(), celsius)


def parse_yield(text: str) -> Yield | str:
    """The mass that came out: "488g"."""
    found = parse_mass(text, bare=True)
    return found if isinstance(found, str) else Yield(found)


def parse_filled(text: str) -> Filled | str:
    """How many were filled: "9", or PACK=9."""
    pack, _, count = text.rpartition("=")
    typed = count.strip()
    if not (typed.isascii() and typed.isdigit()) or int(typed[:12]) > MOST_COUNT:
        return f"{shown(text)} is no count of filled packs: 9, or 30ml=9"
    return Filled(int(typed), pack.strip())


def parse_count(fate: Fate, text: str) -> Counted | str:
    """How many labels of a print were spoiled, left or destroyed: PRINT=2, or PRINT/LABEL=2 where it has several."""
    found = _COUNT.fullmatch(text.strip())
    if found is None or int(found.group(3)) > MOST_COUNT:
        return f"{shown(text)} is no count of a print's labels: 1=2, or 1/front=2 where the print has several"
    return Counted(int(found.group(1)), fate, int(found.group(3)), found.group(2) or "")


def unit_left_out(text: str) -> bool:
    """Whether a mass was typed as a number alone."""
    return not any(char.isalpha() for char in text)


def parse_correction(text: str, bench: Bench) -> Entry | str:
    """What takes the place of an earlier entry.

    LINE=GRAMS@LOT, MATERIAL=…, yield=…, filled=…, spoiled=PRINT=… (left, destroyed), or a reading.
    """
    what, equals, rest = text.partition("=")
    name = what.strip()
    if not equals or not name:
        return f"{shown(text)} is not LINE=GRAMS@LOT"
    if name.isascii() and name.isdigit():
        return _line_again(int(name[:9]), rest, bench)
    lines = sorted({item.line for item in bench.weighed if item.material == name})
    if len(lines) == 1:
        return _line_again(lines[0], rest, bench)
    if lines:
        return f"{shown(name)} was weighed on several lines: say which, {_listed(lines)}"
    return _other(name.lower(), text, rest, bench)


def _other(name: str, text: str, rest: str, bench: Bench) -> Entry | str:
    if name == "yield":
        return parse_yield(rest)
    if name == "filled":
        return parse_filled(rest)
    fate = next((one for one in FATES if one == name), None)
    if fate is not None:
        return parse_count(fate, rest)
    if any(item.name == name for item in bench.readings):
        return parse_reading(text)
    known = {str(item.line) for item in bench.weighed} | {item.name for item in bench.readings} | {"yield", "filled"}
    return f"nothing is on record for {shown(name)}; what can be corrected: {_listed(sorted(known))}"


def _line_again(line: int, rest: str, bench: Bench) -> Weighing | str:
    standing = bench.on_line(line)
    if not standing:
        return f"line {line} has not been weighed; weighed lines: {_listed(sorted({i.line for i in bench.weighed}))}"
    grams, lot = _weight_and_lot(rest)
    return grams if isinstance(grams, str) else Weighing(standing[0].material, grams, line, lot)


def _weight_and_lot(text: str) -> tuple[Decimal | str, str | None]:
    grams, at, lot = text.partition("@")
    if at and not lot.strip():
        return f"{shown(text)} names no lot after @", None
    return parse_weight(grams), lot.strip() or None


def _listed(items: Iterable[object]) -> str:
    return ", ".join(str(item) for item in items) or "none"
