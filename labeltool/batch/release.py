"""Whether a batch can be released: every reason against it, at once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from labeltool.batch.lots import LotBook
from labeltool.batch.made import unweighed
from labeltool.batch.model import Bench, Measured, Weighed
from labeltool.batch.plan import STEP_G
from labeltool.batch.tolerance import off_by
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Span


@dataclass(frozen=True, slots=True)
class Release:
    """What a batch is held against.

    `ranges`: allowed readings by name. `without_lot`: materials of which no lot is asked. `used`: the day a lot had to
    be good. `errors`: what is wrong with the batch's composition and label.
    """

    used: dt.date
    ranges: Mapping[str, Span] = field(default_factory=dict)
    without_lot: frozenset[str] = frozenset()
    lots: LotBook = field(default_factory=LotBook)
    tolerance: str = "2 %"
    step_g: Decimal = STEP_G
    errors: Findings = field(default_factory=Findings)


def release_findings(bench: Bench, release: Release) -> Findings:
    """The reasons against releasing (errors), and what whoever releases should know (warnings)."""
    found: list[Finding] = []
    if bench.size_g is None:
        text = "the batch has no size, so nothing was planned"
        found.append(_reason("release.size", text, "--size 500g at the bench"))
    found += _masses(bench, release)
    for name, span in release.ranges.items():
        found += _range(bench, name, span)
    found += _lots(bench, release)
    found += _additions(bench)
    return Findings((*found, *release.errors.errors))


def _reason(rule: str, text: str, do: str, limit: str | None = None) -> Finding:
    return Finding(rule, "error", text, limit=limit, do=do)


def _masses(bench: Bench, release: Release) -> Iterator[Finding]:
    for row in unweighed(bench):
        text = f"line {row.line}, {row.material}, has not been weighed"
        yield _reason("release.unweighed", text, "weigh it, or write down 0 g where it was left out")
    for row in bench.plan:
        finding = off_by(bench, row, release.tolerance, release.step_g)
        if finding is not None:
            yield finding


def _range(bench: Bench, name: str, span: Span) -> Iterator[Finding]:
    last = last_reading(bench, name)
    limit = f"{name} {span.low} to {span.high}"
    if last is None:
        yield _reason("release.reading", f"no {name} was read", f"--reading {name}=VALUE@TEMPERATURE", limit)
    elif not span.low <= last.value <= span.high:
        text = f"the last {name} read is {last.value}"
        yield _reason("release.reading", text, "adjust and read again; the last reading counts", limit)


def last_reading(bench: Bench, name: str) -> Measured | None:
    """The last reading of that name, which counts."""
    return next((item for item in reversed(bench.readings) if item.name == name), None)


def _lots(bench: Bench, release: Release) -> Iterator[Finding]:
    for item in bench.weighed:
        if item.grams and item.lot is None and item.material not in release.without_lot:
            text = f"line {item.line}, {item.material}: no lot is named"
            do = f"--correct {item.line}={item.grams}@LOT --why TEXT, or lots = false for a material without lots"
            yield _reason("release.lot", text, do)
        elif item.grams and item.lot is not None:
            yield from _lot(item, release)


def _lot(item: Weighed, release: Release) -> Iterator[Finding]:
    name = f"line {item.line}: lot {item.lot} of {item.material}"
    lot = release.lots.find(item.material, item.lot)
    if lot is None:
        if item.material not in release.without_lot:
            do = f"labeltool lot receive {item.material} {item.lot}"
            yield _reason("release.lot-unknown", f"{name} is not on record", do)
    elif lot.blocked is not None:
        yield _reason("release.lot-blocked", f"{name} is blocked: {lot.blocked}", "make the batch from another lot")
    if lot is not None and lot.later_than(release.used):
        text = f"{name} was received on {lot.received}, after the batch was made"
        do = (f"name the lot that was used: --correct {item.line}={item.grams}@LOT --why TEXT; or tell when this one "
              f"came: labeltool lot receive {item.material} {lot.lot} --received DATE")
        yield _reason("release.lot-later", text, do, f"received by {release.used}")
    date = release.lots.date_of(item.material, item.lot, item.expires)
    if date is not None and date < release.used:
        text, limit = f"{name} expired on {date}", f"good on {release.used}"
        yield _reason("release.lot-expired", text, "make the batch from another lot", limit)


def _additions(bench: Bench) -> Iterator[Finding]:
    for item in bench.additions:
        text = f"line {item.line}: {item.grams} g of {item.material} were added beyond the plan"
        yield Finding("release.addition", "warning", text, do="the label declares what was made: print after this")


def reasons(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Those that refuse the release."""
    return tuple(item for item in findings if item.level == "error")
