"""Whether an entry can go on record: its line is found, and everything against it is said at once.

Errors refuse the entry. What was really weighed is never refused for being wrong by the plan: that is a warning
here, and a reason at release.
"""

from __future__ import annotations

import datetime as dt
import difflib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Any

from labeltool.batch.bench import after, corrected
from labeltool.batch.counting import count_findings, counted_again, named
from labeltool.batch.model import (
    Bench,
    Correction,
    Counted,
    Entry,
    Filled,
    Logged,
    Note,
    PlanRow,
    Reading,
    Size,
    Weighing,
    Yield,
)
from labeltool.batch.plan import LARGEST_G, STEP_G
from labeltool.batch.readings import reading_findings
from labeltool.batch.tolerance import off_by, tolerance_g
from labeltool.finding import NOWHERE, Finding, Findings, Where
from labeltool.formula.model import Span

MOST_NOTE = 10_000


@dataclass(frozen=True, slots=True)
class Rules:
    """What entries are held against. `known`: material keys, former ones too, each with today's key.

    `ranges`: what readings must keep, by name. `prints`: how many labels each print has, by number and label's name.
    """

    known: Mapping[str, str]
    used: dt.date
    tolerance: str = "2 %"
    step_g: Decimal = STEP_G
    packs: tuple[str, ...] = ("",)
    without_lot: frozenset[str] = frozenset()
    ranges: Mapping[str, Span] = field(default_factory=dict)
    prints: Mapping[int, Mapping[str, int]] = field(default_factory=dict)


Outcome = tuple[Entry, Findings]


def accept(bench: Bench, entry: Entry, rules: Rules, *, beyond: bool = False, where: Where = NOWHERE) -> Outcome:
    """The entry with its line and material settled, and what speaks against it; an error means: do not record it.

    `beyond`: the mass comes on top of the plan (`--add`), even where the material stands in the plan.
    """
    if isinstance(entry, Weighing):
        return _weighing(bench, entry, rules, beyond, where)
    if isinstance(entry, Correction):
        return _correction(bench, entry, rules, where)
    if isinstance(entry, Counted):
        entry = named(entry, rules.prints)
    if isinstance(entry, Filled):
        entry = _of_pack(entry, rules)
    return entry, _found(_CHECKS[type(entry)](bench, entry, rules), where)


def _found(reasons: list[Finding], where: Where) -> Findings:
    return Findings(tuple(replace(item, where=where) for item in reasons))


def _error(rule: str, text: str, *, limit: str | None = None, do: str | None = None) -> Finding:
    return Finding(rule, "error", text, limit=limit, do=do)


def _weighing(bench: Bench, entry: Weighing, rules: Rules, beyond: bool, where: Where) -> Outcome:
    material = rules.known.get(entry.material)
    if material is None:
        return entry, _found([_unknown(entry.material, rules)], where)
    entry = replace(entry, material=material)
    line = entry.line if entry.line is not None else _line_of(bench, material, rules, beyond)
    if isinstance(line, Finding):
        return entry, _found([line], where)
    entry = replace(entry, line=line, material=_planned_key(bench, line, material, rules))
    reasons = _mass(entry.grams) or [*_on_line(bench, entry, rules), *_lot(entry, rules)]
    return entry, _found(reasons, where)


def _unknown(material: str, rules: Rules) -> Finding:
    near = difflib.get_close_matches(material, list(rules.known), 3, 0.6)
    do = f"did you mean {' or '.join(near)}?" if near else "add it to materials.toml"
    return _error("bench.material", f"there is no material {material!r}", do=do)


def _line_of(bench: Bench, material: str, rules: Rules, beyond: bool) -> int | Finding:
    rows = [row for row in bench.plan if rules.known.get(row.material, row.material) == material]
    titrated = [row for row in rows if row.kind == "to-ph"]
    if len(titrated) == 1 and (beyond or len(rows) == 1):
        return titrated[0].line
    if beyond or not rows:
        return bench.next_line
    open_rows = [row for row in rows if not bench.on_line(row.line)] or rows
    if len(open_rows) == 1:
        return open_rows[0].line
    lines = ", ".join(str(row.line) for row in open_rows)
    text = f"{material} stands on several lines of the plan"
    return _error("bench.line", text, limit=f"lines {lines}", do="give the line")


def _planned_key(bench: Bench, line: int, material: str, rules: Rules) -> str:
    """The key under which the plan has the material, where it stands on that line under a former one."""
    row = bench.row(line)
    return row.material if row and rules.known.get(row.material) == material else material


def _mass(grams: Decimal) -> list[Finding]:
    if not grams.is_finite() or not 0 <= grams <= LARGEST_G:
        return [_error("bench.mass", f"{grams} g is no weighed mass", limit="0 g or more")]
    return []


def _on_line(bench: Bench, entry: Weighing, rules: Rules) -> list[Finding]:
    line = entry.line or 0
    row = bench.row(line)
    if row is not None:
        if row.material != entry.material:
            text = f"line {line} is {row.material}, not {entry.material}"
            return [_error("bench.line", text, do="correct the line or the material")]
        return _planned(bench, row, entry, rules)
    if line != bench.next_line:
        last = max((row.line for row in bench.plan), default=0)
        do = "leave the line out to add beyond the plan"
        return [_error("bench.line", f"there is no line {line}", limit=f"lines 1 to {last}", do=do)]
    return []


def _planned(bench: Bench, row: PlanRow, entry: Weighing, rules: Rules) -> list[Finding]:
    if row.kind != "to-ph" and bench.on_line(row.line) and _too_much(bench, row, entry, rules):
        text = f"line {row.line}, {row.material}: {bench.grams_on(row.line)} g are on record already"
        do = f"--correct {row.line}=GRAMS@LOT --why TEXT, or --add {row.material}=GRAMS@LOT for what came on top"
        return [_error("bench.weighed", text, do=do)]
    return _off(bench, row, entry, rules)


def _too_much(bench: Bench, row: PlanRow, entry: Weighing, rules: Rules) -> bool:
    """Whether one more mass on a line cannot be its second part: it would pass the plan."""
    if row.grams is None:
        return True
    most = row.grams + tolerance_g(row, rules.tolerance, rules.step_g)
    return bench.grams_on(row.line) + entry.grams > most


def _off(bench: Bench, row: PlanRow, entry: Weighing, rules: Rules) -> list[Finding]:
    then = after(bench, Logged(entry, ""))
    finding = off_by(then, row, rules.tolerance, rules.step_g)
    return [replace(finding, level="warning")] if finding else []


def _lot(entry: Weighing, rules: Rules) -> list[Finding]:
    found = []
    if entry.lot is None and entry.material not in rules.without_lot:
        text = f"line {entry.line}, {entry.material}: no lot is named"
        found.append(Finding("bench.lot", "warning", text, do="name it after @: a release asks for it"))
    if entry.expires is not None and entry.expires < rules.used:
        text = f"line {entry.line}, {entry.material}: lot {entry.lot or '(unnamed)'} expired on {entry.expires}"
        found.append(Finding("bench.expired", "warning", text, do="use another lot: a release is refused"))
    return found


def _correction(bench: Bench, entry: Correction, rules: Rules, where: Where) -> Outcome:
    instead, reasons = entry.entry, []
    if not entry.why.strip():
        reasons.append(_error("bench.why", "a correction needs its reason", do="--why TEXT"))
    if isinstance(instead, Weighing):
        reasons += [*_mass(instead.grams), *_again(bench, instead)]
    elif isinstance(instead, Counted):
        instead = named(instead, rules.prints)
        reasons += counted_again(bench, instead, rules.prints)
    else:
        instead = _of_pack(instead, rules) if isinstance(instead, Filled) else instead
        reasons += _nothing(bench, instead) or _CHECKS[type(instead)](_without(bench, instead), instead, rules)
    return replace(entry, entry=instead), _found(reasons, where)


def _again(bench: Bench, instead: Weighing) -> list[Finding]:
    standing = [item for item in bench.on_line(instead.line or 0) if item.material == instead.material]
    if not standing:
        return [_error("bench.correct", f"line {instead.line} has nothing to correct", do="weigh it first")]
    if len(standing) > 1 and len(corrected(bench, instead)) != 1:
        lots = ", ".join(item.lot or "(unnamed)" for item in standing)
        text = f"line {instead.line} holds several lots: {lots}"
        do = "name after @ the one to correct; for another lot give the mass as it stands: GRAMS@NEW-LOT"
        return [_error("bench.correct", text, do=do)]
    return []


def _nothing(bench: Bench, instead: Reading | Yield | Filled) -> list[Finding]:
    there = {
        Reading: isinstance(instead, Reading) and any(item.name == instead.name for item in bench.readings),
        Yield: bench.yield_g is not None,
        Filled: isinstance(instead, Filled) and instead.pack in dict(bench.filled),
    }[type(instead)]
    if there:
        return []
    return [_error("bench.correct", "nothing is on record that this could correct", do="enter it first")]


def _without(bench: Bench, instead: Reading | Yield | Filled) -> Bench:
    if isinstance(instead, Filled):
        return replace(bench, filled=tuple(pair for pair in bench.filled if pair[0] != instead.pack))
    return replace(bench, yield_g=None)


def _reading(bench: Bench, entry: Reading, rules: Rules) -> list[Finding]:
    return reading_findings(entry, rules.ranges)


def _yield(bench: Bench, entry: Yield, rules: Rules) -> list[Finding]:
    found = _mass(entry.grams)
    if bench.yield_g is not None:
        text = f"a yield of {bench.yield_g} g is on record already"
        found.append(_error("bench.yield", text, do=f"--correct yield={entry.grams}g --why TEXT"))
    weighed = sum((item.grams for item in bench.weighed), Decimal(0))
    if bench.weighed and entry.grams > weighed:
        found.append(Finding("bench.yield", "warning", f"{entry.grams} g came out of {weighed} g that were weighed"))
    return found


def _filled(bench: Bench, entry: Filled, rules: Rules) -> list[Finding]:
    if entry.pack not in rules.packs:
        packs = ", ".join(rules.packs) if any(rules.packs) else "the one pack has no name"
        text = f"there is no pack {entry.pack!r}" if entry.pack else "the batch goes into several packs: say which"
        return [_error("bench.pack", text, limit=packs, do=f"--filled {_pack(rules.packs[0])}{entry.count}")]
    if entry.pack in dict(bench.filled):
        packs = f" of {entry.pack}" if entry.pack else ""
        text = f"{dict(bench.filled)[entry.pack]} filled{packs} are on record already"
        return [_error("bench.filled", text, do=f"--correct filled={_pack(entry.pack)}{entry.count} --why TEXT")]
    return []


def _pack(name: str) -> str:
    """A pack's name as it stands before a count."""
    return f"{name}=" if name else ""


def _of_pack(entry: Filled, rules: Rules) -> Filled:
    """The count with its pack's name as the formula writes it; the one pack need not be named."""
    same = [name for name in rules.packs if name.casefold() == entry.pack.casefold()]
    return replace(entry, pack=same[0]) if same else (
        replace(entry, pack=rules.packs[0]) if not entry.pack and len(rules.packs) == 1 else entry)


def _size(bench: Bench, entry: Size, rules: Rules) -> list[Finding]:
    if bench.size_g is not None:
        return [_error("bench.size", f"the batch has a size: {bench.size_g} g", limit="a size is given once")]
    if not (entry.grams.is_finite() and 0 < entry.grams <= LARGEST_G):
        return [_error("bench.size", f"{entry.grams} g is no size of a batch", limit="more than 0")]
    return []


def _counted(bench: Bench, entry: Counted, rules: Rules) -> list[Finding]:
    return count_findings(bench, entry, rules.prints)


def _note(bench: Bench, entry: Note, rules: Rules) -> list[Finding]:
    if not entry.text.strip() or len(entry.text) > MOST_NOTE:
        return [_error("bench.note", "the note is empty or too long", limit=f"1 to {MOST_NOTE} characters")]
    return []


_CHECKS: dict[type, Callable[[Bench, Any, Rules], list[Finding]]] = {
    Reading: _reading, Yield: _yield, Filled: _filled, Size: _size, Note: _note,
    Counted: _counted,
}
