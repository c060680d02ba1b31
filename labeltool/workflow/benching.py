"""Entries at the bench put on record: all of a call, or none of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Any

from labeltool.batch.history import Change, history
from labeltool.batch.made import complete
from labeltool.batch.model import Bench, Correction, Entry, Fate, Note, Size
from labeltool.batch.plan import plan_findings
from labeltool.batch.release import reasons
from labeltool.batch.sheet import SheetRow, materials_filled, read_sheet
from labeltool.batch.typed import (
    parse_addition,
    parse_correction,
    parse_count,
    parse_filled,
    parse_reading,
    parse_yield,
    unit_left_out,
)
from labeltool.codec import to_plain
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding, Findings, Where
from labeltool.records.model import Once
from labeltool.records.store import Store, open_store
from labeltool.workflow.asmade import AsMade, as_made
from labeltool.workflow.benchlog import BENCH, OnBench, all_weighed, body, uses
from labeltool.workflow.codes import record_folder, record_path, the_batch
from labeltool.workflow.csvtext import read_csv_text
from labeltool.workflow.desk import Desk, Wanted, open_desk
from labeltool.workflow.judging import judged
from labeltool.workflow.lapsing import judged_again, lapsed, late, refused
from labeltool.workflow.lotbook import LOT
from labeltool.workflow.publish import digest
from labeltool.workflow.setting import Setting, shown_path


@dataclass(frozen=True, slots=True)
class BenchCall:
    """The options of `batch bench`, as typed."""

    code: str
    size_g: Decimal | None = None
    sheet: Path | None = None
    add: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()
    yielded: str | None = None
    filled: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    corrections: tuple[str, ...] = ()
    why: str | None = None
    counts: tuple[tuple[Fate, str], ...] = ()

    @property
    def empty(self) -> bool:
        """Whether the call gives nothing to enter."""
        return not (self.size_g or self.sheet or self.add or self.readings or self.yielded is not None or self.filled
                    or self.notes or self.corrections or self.counts)


@dataclass(frozen=True, slots=True)
class Entered:
    """What came of it. `new`: entries now on record; `against`: what refuses a release, where all is weighed.

    `changes`: what the corrections of the call changed.
    """

    at: OnBench
    new: int
    findings: Findings = field(default_factory=Findings)
    against: tuple[Finding, ...] = ()
    changes: tuple[Change, ...] = ()

    @property
    def bench(self) -> Bench:
        """The bench as it stands now."""
        return self.at.bench


def enter(call: BenchCall, setting: Setting) -> Entered | dict[str, Any]:
    """Put a call's entries on record. Raises InputError with everything against them; then none is kept."""
    folder = record_folder(setting)
    text = _sheet_text(call.sheet, setting)
    once = _once(call, text, setting)
    if call.why is not None and not call.corrections:
        raise input_error("bench.why", "--why gives the reason of a correction", do="name it: --correct LINE=GRAMS@LOT")

    def wanted(at: OnBench) -> list[Wanted]:
        return list(_wanted(call, at, text, setting, found))

    found: list[Finding] = []
    with open_store(record_path(folder), create=False) as store:
        code = the_batch(call.code, folder, store).code
        known = store.answered(once)
        if known is not None and known.done:
            return dict(known.result)
        return enter_all(code, wanted, store, folder, setting, once, found)


def enter_all(code: str, wanted: Callable[[OnBench], Sequence[Wanted]], store: Store, folder: Path, setting: Setting,
              once: Once | None = None, found: Sequence[Finding] = ()) -> Entered:
    """Hold entries against the bench and keep them, in one transaction."""
    with store.together():
        desk = open_desk(code, store, folder, setting)
        for one in wanted(desk.at):
            desk.take(one)
        entries = [entry for entry, _ in desk.taken]
        findings = Findings((*found, *refused(desk.at.batch, entries))) + desk.findings()
        if findings.errors:
            raise InputError(findings.items)
        _keep(desk, setting, once)
        findings += _left_behind(desk, store)
        after = (*late(desk.at.batch, entries), *_lapse(desk, store, setting))
        made = as_made(desk.at.batch if not after else the_batch(code, folder, store), store, folder, setting)
    return replace(_entered(desk, made, findings + after, setting), changes=_changes(made.at, entries))


def _changes(at: OnBench, entries: Sequence[Entry]) -> tuple[Change, ...]:
    """What the corrections among the last entries changed."""
    count = sum(isinstance(entry, Correction) for entry in entries)
    changes = history(at.inputs.formula.rows, at.batch.size_g, at.log, at.step_g) if count else ()
    return changes[len(changes) - count:]


def _entered(desk: Desk, made: AsMade, findings: Findings, setting: Setting) -> Entered:
    """What stands now, with what a new plan, another list and a lapsed release bring up."""
    at = made.at
    if any(isinstance(one, Size) for one, _ in desk.taken):
        findings += plan_findings(at.bench.plan, at.step_g)
    if not complete(at.bench):
        return Entered(at, len(desk.taken), findings)
    judgement = judged(made, setting)
    if judged_again(desk.at.bench, [entry for entry, _ in desk.taken], at.ranges):
        findings += [item for item in judgement if item.rule.startswith("made.")]
    against = reasons(judgement)
    if any(item.rule == "bench.lapsed" for item in findings):
        findings += [replace(item, level="warning") for item in against]
    return Entered(at, len(desk.taken), findings, against)


def _left_behind(desk: Desk, store: Store) -> Iterator[Finding]:
    """A note for every lot that a correction took off its last batch, where only a typed name brought it on record."""
    before, now = ({(item.material, item.lot) for item in bench.weighed if item.lot and item.grams}
                   for bench in (desk.at.bench, desk.bench))
    for material, lot in sorted(before - now):
        known = desk.book.find(material, lot)
        used = uses(all_weighed(store, [lot]).values())
        if known is not None and known.typed and not any(grams and desk.book.find(key, name) is known
                                                         for key, name, grams in used if name):
            text = f"lot {lot} of {material} was only a name typed at the bench, and is in no batch now"
            do = f'where it was a slip: labeltool lot block {lot} --material {material} --why "typed wrongly"'
            yield Finding("lot.unused", "note", text, do=do)


def _lapse(desk: Desk, store: Store, setting: Setting) -> Iterator[Finding]:
    """A release that was held against something else than what stands now is none any more."""
    batch = desk.at.batch
    changes = judged_again(desk.at.bench, [entry for entry, _ in desk.taken], desk.at.ranges)
    if batch.state == "released" and changes:
        found = lapsed(batch, changes, store)
        store.change_state(batch.code, "open", by=_by(desk, setting), at=setting.now(),
                           why=f"changed at the bench: {'; '.join(changes)}")
        yield found


def _keep(desk: Desk, setting: Setting, once: Once | None) -> None:
    """Lots first, then entries; the answer to a repeated call goes with the last."""
    by, at = _by(desk, setting), setting.now()
    for number, lot in enumerate(desk.received):
        desk.store.append(LOT, None, to_plain(lot), by=by, at=at, once=_step(once, f"lot {number}", False))
    for number, (entry, brought) in enumerate(desk.taken, 1):
        last = number == len(desk.taken)
        desk.store.append(BENCH, desk.at.batch.code, body(entry, brought), by=by, at=at,
                          once=_step(once, f"entry {number}", last))


def _by(desk: Desk, setting: Setting) -> str | None:
    return setting.by or desk.at.inputs.workshop.record.by


def _step(once: Once | None, step: str, last: bool) -> Once | None:
    return Once(once.key, once.args, step, once.answer if last else None) if once else None


def _once(call: BenchCall, text: str | None, setting: Setting) -> Once | None:
    if setting.once is None:
        return None
    args = {"command": "batch bench", "sheet": digest(text.encode()) if text is not None else None} | {
        name: to_plain(getattr(call, name))
        for name in ("code", "size_g", "add", "readings", "yielded", "filled", "notes", "corrections", "why")
    } | ({"counts": to_plain(call.counts)} if call.counts else {})
    return Once(setting.once, args, answer=lambda _: {"code": call.code})


def _sheet_text(sheet: Path | None, setting: Setting) -> str | None:
    if sheet is None:
        return None
    return read_csv_text(setting.cwd / sheet, str(sheet))


def _wanted(call: BenchCall, at: OnBench, text: str | None, setting: Setting, found: list[Finding]) -> Iterator[Wanted]:
    if call.size_g is not None:
        yield said(Size(call.size_g))
    if text is not None and call.sheet is not None:
        yield from _from_sheet(text, shown_path(setting.cwd / call.sheet, setting.cwd), at, found)
    yield from (_typed("--add", one, parse_addition, beyond=True) for one in call.add)
    yield from (_correction(one, call.why or "") for one in call.corrections)
    yield from (_typed("--reading", one, parse_reading) for one in call.readings)
    if call.yielded is not None:
        yield _typed("--yield", call.yielded, parse_yield)
    found += _grams(call)
    yield from (_typed(f"--{fate}", one, partial(parse_count, fate)) for fate, one in call.counts)
    yield from (_typed("--filled", one, parse_filled) for one in call.filled)
    yield from (said(Note(one)) for one in call.notes)


def _grams(call: BenchCall) -> Iterator[Finding]:
    """A note for every yield that was typed without its unit."""
    typed = [call.yielded] if call.yielded is not None else []
    typed += [one.partition("=")[2] for one in call.corrections if one.partition("=")[0].strip().lower() == "yield"]
    for text in typed:
        if unit_left_out(text):
            yield Finding("bench.unit", "note", f"the yield {text.strip()} is read as grams", do="write its unit: 480g")


def said(entry: Entry) -> Wanted:
    """An entry that is known already."""
    return Wanted(lambda _: entry)


def _typed(option: str, text: str, parse: Callable[[str], Entry | str], beyond: bool = False) -> Wanted:
    def read(_: Bench) -> Entry | str:
        return parse(text)

    return Wanted(read, beyond, Where(block=f"{option} {text}"))


def _correction(text: str, why: str) -> Wanted:
    def read(bench: Bench) -> Entry | str:
        instead = parse_correction(text, bench)
        if isinstance(instead, str):
            return instead
        assert not isinstance(instead, Size | Note | Correction)
        return Correction(instead, why)

    return Wanted(read, where=Where(block=f"--correct {text}"))


def _from_sheet(text: str, file: str, at: OnBench, found: list[Finding]) -> Iterator[Wanted]:
    rows, findings = read_sheet(text, file)
    found += findings
    same = [(item.line, item.material, item.grams, item.lot) for item in at.bench.weighed]
    done = []
    for row in materials_filled(rows, at.bench.plan):
        mark = (row.weighing.line, row.weighing.material, row.weighing.grams, row.weighing.lot)
        if mark in same:
            same.remove(mark)
            done.append(str(row.weighing.line))
        else:
            yield Wanted(_reader(row), where=row.where)
    if done:
        said_again = f"on record already, exactly so: lines {', '.join(done)}"
        found.append(Finding("bench.same", "note", said_again, Where(file)))
    elif not rows and not findings.errors:
        found.append(Finding("weigh.unfilled", "error", "no row of the sheet has a mass", Where(file),
                             do="fill in the column grams"))


def _reader(row: SheetRow) -> Callable[[Bench], Entry | str]:
    return lambda _: row.weighing


def tried(call: BenchCall, at: OnBench, setting: Setting) -> list[Wanted]:
    """What a call wants to enter, to be tried out."""
    return list(_wanted(call, at, _sheet_text(call.sheet, setting), setting, []))
