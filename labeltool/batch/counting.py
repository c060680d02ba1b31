"""Labels counted after a print: spoiled, left, destroyed. No more than were printed, each place counted once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from labeltool.batch.bench import after
from labeltool.batch.model import Bench, Counted, Logged
from labeltool.finding import Finding

Prints = Mapping[int, Mapping[str, int]]
FATES = ("spoiled", "left", "destroyed")


def named(entry: Counted, prints: Prints) -> Counted:
    """The count with its label's name, where the print has one kind of label."""
    labels = list(prints.get(entry.number, {}))
    if not entry.label and len(labels) == 1:
        return replace(entry, label=labels[0])
    same = [label for label in labels if label.casefold() == entry.label.casefold()]
    return replace(entry, label=same[0]) if same else entry


def count_findings(bench: Bench, entry: Counted, prints: Prints) -> list[Finding]:
    """What speaks against a count."""
    known = bench.count(*entry.place)
    if known is None:
        return _against(bench, entry, prints)
    text = f"{known} labels of {place(entry)} are on record as {entry.fate}; a count is of all of them"
    do = f"where it is another number now: --correct {entry.fate}={said(entry)}={entry.count} --why TEXT"
    return [Finding("bench.count", "error", text, do=do)]


def counted_again(bench: Bench, entry: Counted, prints: Prints) -> list[Finding]:
    """What speaks against the correction of a count."""
    if bench.count(*entry.place) is None:
        text = f"no count of {entry.fate} labels of {place(entry)} is on record"
        return [Finding("bench.correct", "error", text, do=f"--{entry.fate} {said(entry)}={entry.count}")]
    return _against(bench, entry, prints)


def _against(bench: Bench, entry: Counted, prints: Prints) -> list[Finding]:
    labels = prints.get(entry.number)
    if labels is None:
        limit = f"prints {', '.join(map(str, prints))}" if prints else "nothing was printed yet"
        return [Finding("bench.count", "error", f"the batch has no print {entry.number}", limit=limit,
                        do="labeltool batch show CODE has them all")]
    if entry.label not in labels:
        names = ", ".join(labels)
        text = f"print {entry.number} has the labels {names}" + (f", not {entry.label}" if entry.label else "")
        do = f"say which: --{entry.fate} {entry.number}/{next(iter(labels))}={entry.count}"
        return [Finding("bench.count", "error", text, do=do)]
    then = after(bench, Logged(entry, ""))
    all_of_it = sum(then.count(entry.number, entry.label, fate) or 0 for fate in FATES)
    if all_of_it <= labels[entry.label]:
        return []
    text = f"{all_of_it} labels of {place(entry)} would be spoiled, left or destroyed"
    return [Finding("bench.count", "error", text, limit=f"{labels[entry.label]} were printed", do="count again")]


def place(entry: Counted) -> str:
    """A count's print and label in words."""
    return f"print {entry.number}{f', {entry.label}' if entry.label else ''}"


def said(entry: Counted) -> str:
    """A count's print and label as they are typed."""
    return f"{entry.number}{f'/{entry.label}' if entry.label else ''}"
