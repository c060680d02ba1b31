"""A print thought through before anything is written: words, code, stock, artwork, places, all faults at once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from labeltool.batch.made import nothing_weighed
from labeltool.coding.dates import made_findings
from labeltool.coding.link import new_key
from labeltool.coding.pattern import Pattern, parse_pattern
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Container, Pack, Workshop
from labeltool.records.model import Batch
from labeltool.stock.model import Stock
from labeltool.stock.onto import onto
from labeltool.stock.surface import surface
from labeltool.wording.audit import LEAFLET
from labeltool.wording.model import LabelText
from labeltool.workflow.asmade import AsMade
from labeltool.workflow.auditing import at_label, audit, left_to_others, markless, set_faults
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.codes import next_free_in
from labeltool.workflow.curving import curve, diameter_of
from labeltool.workflow.design import Design, carried, find_artworks
from labeltool.workflow.fitting import Wanted, fit_label
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.leaflet import Leaflet
from labeltool.workflow.packs import Aim, aims_of, chosen_pack, set_of
from labeltool.workflow.place import Laid, Wish, count_of, lay
from labeltool.workflow.prepare import Judge, Prepared
from labeltool.workflow.printers import Chosen, choose_printer, corrected
from labeltool.workflow.sets import Content, earliest, with_net, word_set
from labeltool.workflow.setting import Setting
from labeltool.workflow.words import Mark, OfPack, Worded, elsewhere, mark_batch, missing, word


@dataclass(frozen=True, slots=True)
class Plan:
    """A print ready to be carried out; every check that needs no printer has passed.

    `inputs` are the batch's; `aim` has them as they read for the pack or label. `asked` is the call as it was given,
    `call` with what the label says besides.
    """

    folder: Path
    inputs: Inputs
    call: PrintCall
    made: dt.date
    key: str
    pattern: Pattern
    prepared: Prepared
    worded: Worded
    design: Design
    laid: Laid
    counts: tuple[int, ...]
    findings: tuple[Finding, ...]
    chosen: Chosen
    aim: Aim
    asked: PrintCall
    leaflet: Leaflet | None = None
    full: LabelText | None = None  # the words before some of them went into the leaflet
    contents: tuple[Content, ...] = ()  # of a gift set

    @property
    def code(self) -> str:
        """The batch code on the label."""
        return self.worded.mark.code

    @property
    def diameters(self) -> tuple[float | None, ...]:
        """The diameter of the cylinder that each frame's label goes round, mm."""
        return diameters_of(self.design, self.aim.inputs.formula.container)


def pattern_of(inputs: Inputs) -> Pattern:
    """The workshop's batch code pattern. Raises InputError with the reasons it is refused."""
    pattern, findings = parse_pattern(inputs.workshop.batch.code, inputs.workshop.where)
    if pattern is None or findings.errors:
        raise InputError(findings.items)
    return pattern


def plan_new(folder: Path, inputs: Inputs, call: PrintCall, setting: Setting, planned: Iterable[str],
             notes: Findings, contents: tuple[Content, ...] = ()) -> tuple[Plan, ...]:
    """Plan the labels of a batch not yet open: its code comes next after those on record and `planned`."""
    pattern = pattern_of(inputs)
    made = call.made or setting.today
    code = next_free_in(folder, pattern, made, inputs.formula.product.code, planned)
    if not inputs.formula.contains:
        notes += unreleased(inputs.workshop, None, call) + (() if call.draft else nothing_weighed(None).items)
    return plans(folder, inputs, call, setting, code, made, new_key(setting.chance()), notes, contents=contents)


def unreleased(workshop: Workshop, batch: Batch | None, call: PrintCall) -> tuple[Finding, ...]:
    """An error where the workshop prints released batches only and this one (None: not open yet) is not released."""
    if call.draft or not workshop.batch.require_release or (batch is not None and batch.state == "released"):
        return ()
    what = f"batch {batch.code} is not released" if batch else "a batch is released before its labels are printed"
    do = f"labeltool batch release {batch.code} --by NAME" if batch else (
        "labeltool batch open FORMULA --size 500g, then weigh and release it; or --draft to try the label out")
    return (Finding("batch.unreleased", "error", what, limit="[batch] require-release = true", do=do),)


def plans(folder: Path, inputs: Inputs, call: PrintCall, setting: Setting, code: str, made: dt.date, key: str,
          notes: Findings, as_made: AsMade | None = None, contents: tuple[Content, ...] = ()) -> tuple[Plan, ...]:
    """Plan a batch's labels: one plan for each label of the pack, one for a pack without labels of its own.

    `as_made`: what the batch's bench says; `contents`: the products of a gift set. Raises InputError with all reasons.
    """
    whole = with_net(inputs, contents) if contents else inputs
    pack = chosen_pack(whole.formula, call.pack)
    judge = Judge(call.on or max(made, setting.today), as_made.parts if as_made else None)
    batch = _Batch(folder, inputs, setting, call, code, made, key, judge, as_made, contents)
    aims = aims_of(whole, pack, call, folder)
    if aims[0].label is None:
        return (_plan(batch, call, aims[0], notes),)
    everybody = set_of(batch.inputs, pack, call, folder)
    complete = {aim.name for aim in everybody} <= {aim.name for aim in aims}
    notes += (*_over_the_set(batch, pack, everybody, aims, complete), *markless(aims, folder))
    return _together(batch, call, aims, notes, complete)


@dataclass(frozen=True, slots=True)
class _Batch:
    """What all labels of a batch share while they are planned."""

    folder: Path
    inputs: Inputs
    setting: Setting
    asked: PrintCall
    code: str
    made: dt.date
    key: str
    judge: Judge
    as_made: AsMade | None
    contents: tuple[Content, ...] = ()

    def mark(self, prepared: Prepared) -> tuple[Mark, Findings]:
        """The batch's mark on a label; a set is good as long as all of it is."""
        day = earliest(self.contents) or (self.as_made.best_before if self.as_made else None)
        return mark_batch(prepared, self.code, self.key, self.made, day)


def _over_the_set(batch: _Batch, pack: Pack, whole: Sequence[Aim], aims: Sequence[Aim],
                  complete: bool) -> Iterator[Finding]:
    """What the audit of the whole set says of this print: of some labels, only what they leave to the others."""
    rows = audit(whole, batch.judge, lambda prepared: batch.mark(prepared)[0], pattern_of(batch.inputs), batch.folder)
    if complete:
        yield from set_faults(rows)
    else:
        yield from left_to_others(rows, pack, [aim.name for aim in aims])


def _together(batch: _Batch, call: PrintCall, aims: Sequence[Aim], notes: Findings,
              audited: bool) -> tuple[Plan, ...]:
    """The plans of several labels, the faults of all of them at once. `audited`: `notes` have what the set lacks."""
    found: list[Plan] = []
    faults: list[Finding] = []
    for aim in aims:
        try:
            led = call.leaflet and LEAFLET in carried(find_artworks(aim.artworks, batch.folder))
            found.append(_plan(batch, replace(aim.applied(call), leaflet=led), aim, notes, audited))
        except InputError as error:
            faults += (item for item in error.findings if item not in faults)
    if faults:
        raise InputError(faults)
    return tuple(found)


def _plan(batch: _Batch, call: PrintCall, aim: Aim, notes: Findings, audited: bool = False) -> Plan:
    dated = made_findings(batch.made, batch.setting.today)
    prepared = batch.judge.of(aim.inputs)
    mark, marked = batch.mark(prepared)
    worded = word(prepared, mark, pattern_of(batch.inputs), OfPack(aim.pack.name, aim.pack.mark, aim.elsewhere))
    worded = word_set(worded, batch.contents) if batch.contents else worded
    call = _with_defaults(call, batch.inputs)
    carries = carried(find_artworks(call.artworks, batch.folder)) if call.artworks else None
    absent = () if audited else missing(worded, carries)
    found = Findings() + notes + dated + prepared.findings + marked + worded.findings + absent
    if found.errors and not call.draft:
        raise InputError(found.items)
    return _set(batch, call, aim, prepared, worded, found)


def _with_defaults(call: PrintCall, inputs: Inputs) -> PrintCall:
    wanted = inputs.workshop.print
    stock = call.stock if call.stock is not None else wanted.stock
    artworks = call.artworks or wanted.artwork
    return replace(call, stock=stock, artworks=artworks)


def _set(batch: _Batch, call: PrintCall, aim: Aim, prepared: Prepared, worded: Worded, found: Findings) -> Plan:
    folder, wanted = batch.folder, Wanted(call.stock, call.artworks, call.leaflet)
    try:
        fit = fit_label(prepared, worded, wanted, pattern_of(batch.inputs), folder)
    except InputError as error:
        raise InputError((*found.items, *at_label(error.findings, aim))) from error
    design, worded = fit.design, fit.worded
    found += fit.findings
    counts = counts_of_kinds(call.wish, design, aim, batch.as_made)
    container = aim.inputs.formula.container
    call = replace(call, behind=call.behind or behind(design.stock, container))
    found += surface(design.stock, any(frame.symbols for frame in design.frames), call.behind, sum(counts))
    found += curve(design.frames, diameters_of(design, container))
    found += onto(design.stock, container, tuple(item.name for item in design.artworks))
    if found.errors and not call.draft:
        raise InputError(found.items)
    chosen = choose_printer(folder, call.printer, design.stock)
    laid = corrected(lay(design.stock, counts, call.wish), chosen)
    left = elsewhere(worded, design.carried) if aim.label is None else ()
    more = (*_skipped(call, design), *left, *_chosen(call, design), *design.notes, *chosen.findings)
    return Plan(folder, batch.inputs, call, batch.made, batch.key, pattern_of(batch.inputs), prepared, worded, design,
                laid, counts, (*found.items, *more), chosen, aim, batch.asked, fit.leaflet, fit.full,
                batch.contents)


def diameters_of(design: Design, container: Container | None) -> tuple[float | None, ...]:
    """The diameter of the cylinder that each frame's label goes round, mm; None where it is flat or not known."""
    return tuple(diameter_of(container, design.stock, item.name) for item in design.artworks)


def behind(stock: Stock, container: Container | None) -> str | None:
    """The colour that the container's file says shows through clear stock."""
    return container.colour if container is not None and stock.face == "clear" else None


def counts_of_kinds(wish: Wish, design: Design, aim: Aim, as_made: AsMade | None) -> tuple[int, ...]:
    """Labels of each kind. `--count filled`: what the filled packs still need, 0 where enough are on record."""
    kinds = len(design.frames)
    if not wish.filled:
        return (count_of(wish, design.stock, kinds),) * kinds
    names = [aim.label.name] if aim.label else [item.name for item in design.artworks]
    counts = [as_made.to_print(name, aim.pack.name) if as_made else None for name in names]
    if None in counts:
        raise input_error("call.count-filled", "nobody has counted yet what was filled",
                          do=f"labeltool batch bench CODE --filled {_counted(aim)}, or --count N")
    return tuple(count for count in counts if count is not None)


def _counted(aim: Aim) -> str:
    return f"{aim.pack.name}=N" if aim.pack.name else "N"


def _skipped(call: PrintCall, design: Design) -> tuple[Finding, ...]:
    """A note where --skip leaves out every place of the first sheet."""
    size = design.stock.per_page
    if call.wish.skip < size or design.stock.kind == "roll":
        return ()
    text = f"--skip {call.wish.skip} leaves out the whole sheet of {size}: these labels begin a new one"
    return (Finding("call.skip-all", "note", text, do="leave --skip out"),)


def _chosen(call: PrintCall, design: Design) -> tuple[Finding, ...]:
    if call.stock and call.artworks:
        return ()
    names = ", ".join(item.name for item in design.artworks)
    pair = f"stock {design.stock.name}, artwork {names}"
    text = f"chosen: {pair}: the smallest sheet and the first artwork that hold this label"
    if call.stock:
        text = f"chosen: artwork {names}, the first that fits {design.stock.name}"
    do = "name others with --stock and --artwork, or under [print] in workshop.toml"
    return (Finding("print.chosen", "note", text, do=do),)


def check_size(size: object) -> None:
    """Raise InputError for a batch size of nothing."""
    if size is not None and not size > 0:  # type: ignore[operator]
        raise input_error("call.size", "--size is the batch's mass and lies above 0", do="--size 500g")
