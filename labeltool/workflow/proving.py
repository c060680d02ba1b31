"""What drawing every print anew came to: nothing, the library that changed, or a fault."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from labeltool.errors import InputError, MachineError
from labeltool.finding import Finding, Findings, Where
from labeltool.records.check import RESTORE, shortened
from labeltool.records.model import PrintRow
from labeltool.records.progress import Step, told
from labeltool.records.store import Store
from labeltool.workflow.redrawing import Redrawn, by_file, keeping, redrawn

EVERY = 20
_SHOWN = {"same": "to the pixel what was printed", "other": "something else than was printed",
          "no file": "and the file as printed is not there to be looked at"}


@dataclass(frozen=True, slots=True)
class Proved:
    """How many files were drawn anew, how many of them as the very bytes that were printed, and what is to be told."""

    files: int = 0
    same: int = 0
    findings: Findings = field(default_factory=Findings)


def prove_prints(store: Store, folder: Path, last: int | None, step: Step) -> Proved:
    """Draw every printed file anew, or about the `last` ones (0: none), and hold it against the hash of its print."""
    if last == 0:
        return Proved()
    rows = told(store.every_print(last), "prints drawn anew", store.count_prints(last), step, EVERY)
    found: list[Redrawn | Finding] = []
    files = same = 0
    for one in _all(rows, store, folder):
        if isinstance(one, Redrawn):
            files, same = files + 1, same + one.same
        if isinstance(one, Finding) or not one.same:
            found.append(one)
    return Proved(files, same, Findings(tuple(shortened(_findings(found)))))


def _all(rows: Iterable[PrintRow], store: Store, folder: Path) -> Iterator[Redrawn | Finding]:
    asset = keeping(store.asset)
    try:
        for group in by_file(rows):
            try:
                yield from redrawn(group, store.value, asset, folder)
            except (InputError, MachineError) as error:
                yield _not_drawn(group[0], error)
    except MachineError as error:  # an event that was altered: what follows it cannot be trusted
        yield from error.findings


def _not_drawn(row: PrintRow, error: InputError | MachineError) -> Finding:
    why = "; ".join(item.text for item in error.findings)
    text = f"print {row.number} of {row.file} cannot be drawn again: {why}"
    return Finding("record.print-lost", "error", text, Where(file=row.file), do=RESTORE)


def _findings(found: Sequence[Redrawn | Finding]) -> Iterator[Finding]:
    yield from (one for one in found if isinstance(one, Finding))
    drawn = [one for one in found if isinstance(one, Redrawn)]
    plain = [one for one in drawn if one.pixels != "other" and (one.changed or one.then is None)]
    yield from (_wrong(one) for one in drawn if one not in plain)
    groups: dict[tuple[str, ...] | None, list[Redrawn]] = {}
    for one in plain:
        groups.setdefault(None if one.then is None else one.changed, []).append(one)
    yield from (_explained(changed, group) for changed, group in groups.items())


def _wrong(one: Redrawn) -> Finding:
    """A file that nothing explains, or that shows something else."""
    by = "what draws it is not known" if one.then is None else \
        f"drawn in other versions ({', '.join(one.changed)})" if one.changed else "though what draws it is unchanged"
    text = f"{one.name} comes out in other bytes than its print on record, {by}: {_SHOWN[one.pixels or 'no file']}"
    do = "labeltool verify FILE reads the file against the record; where that is right, print its labels anew"
    return Finding("record.print-other", "error", text, Where(file=one.name), do=do)


def _explained(changed: tuple[str, ...] | None, group: Sequence[Redrawn]) -> Finding:
    """Files whose bytes another version explains, or whose versions were not kept yet."""
    names = f"{group[0].name}{f' and {len(group) - 1:,} more' if len(group) > 1 else ''}"
    looked = sum(one.pixels == "same" for one in group)
    rest = len(group) - looked
    seen = "; ".join(part for part in (
        f"{looked:,} drawn to the pixel as printed" if looked else "",
        f"{rest:,} not there as printed to be looked at" if rest else "") if part)
    if changed is None:
        text = f"in other bytes than printed, and the record does not say what drew them: {names}"
        return Finding("record.print-unversioned", "note", f"{text} (the frames are those on record; {seen})")
    text = f"{', '.join(changed)}: in other bytes than printed: {names}"
    return Finding("record.print-versions", "note", f"{text} (the frames are those on record; {seen})")
