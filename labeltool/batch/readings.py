"""What may be read at the bench: names that the tool knows, what a pH can be, and the range a product must keep."""

from __future__ import annotations

import difflib
from collections.abc import Mapping

from labeltool.batch.model import Reading
from labeltool.finding import Finding
from labeltool.formula.model import Span

PH = "ph"
KNOWN = (
    PH, "temperature", "viscosity", "density", "specific-gravity", "conductivity", "refractive-index", "water-activity",
    "hardness", "penetration", "melting-point", "moisture", "alkalinity", "turbidity", "spreadability", "drop-point",
)


def reading_findings(entry: Reading, ranges: Mapping[str, Span]) -> list[Finding]:
    """What speaks against a reading (errors), and what is worth knowing of it: a range left, a name of one's own."""
    if not entry.value.is_finite() or (entry.name == PH and not 0 <= entry.value <= 14):
        text = f"{entry.name} {entry.value} cannot be read"
        return [Finding("bench.reading", "error", text, limit="a pH lies between 0 and 14")]
    span = ranges.get(entry.name)
    if span is not None and not span.low <= entry.value <= span.high:
        text = f"{entry.name} {entry.value} lies outside the formula's range: a release is refused"
        do = "adjust, note what was added with --add, and read again: the last reading counts"
        return [Finding("bench.range", "warning", text, limit=f"{entry.name} {span.low} to {span.high}", do=do)]
    return _named(entry, ranges)


def _named(entry: Reading, ranges: Mapping[str, Span]) -> list[Finding]:
    """A slip of the pen would leave a release without its reading, so what is nearly a known name is refused."""
    names = dict.fromkeys((*KNOWN, *ranges))
    if entry.name in names:
        return []
    near = difflib.get_close_matches(entry.name, list(names), 1, 0.75) or ([PH] if entry.name == PH[::-1] else [])
    if near:
        text = f"there is no reading {entry.name!r}"
        return [Finding("bench.reading-name", "error", text, limit=", ".join(names), do=f"did you mean {near[0]}?")]
    text = f"{entry.name} is a name of your own: it goes on record, and nothing is held against it"
    return [Finding("bench.reading-name", "note", text, do=f"the tool knows {', '.join(names)}")]
