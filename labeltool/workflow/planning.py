"""A print thought through before anything is written: words, code, stock, artwork, places, all faults at once."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path

from labeltool.coding.dates import made_findings
from labeltool.coding.link import new_key
from labeltool.coding.pattern import Pattern, parse_pattern
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Container, Workshop
from labeltool.records.model import Batch
from labeltool.stock.model import Stock
from labeltool.stock.onto import onto
from labeltool.stock.surface import surface
from labeltool.wording.model import LabelText
from labeltool.workflow.asmade import AsMade
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.codes import next_free_in
from labeltool.workflow.design import Design, carried, find_artworks
from labeltool.workflow.fitting import Wanted, fit_label
from labeltool.workflow.inputs import Inputs
from labeltool.workflow.leaflet import Leaflet
from labeltool.workflow.place import Laid, Wish, count_of, lay
from labeltool.workflow.prepare import Prepared, prepare
from labeltool.workflow.printers import Chosen, choose_printer, corrected
from labeltool.workflow.setting import Setting
from labeltool.workflow.words import Worded, elsewhere, mark_batch, missing, word


@dataclass(frozen=True, slots=True)
class Plan:
    """A print ready to be carried out; every check that needs no printer has passed."""

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
    chosen: Chosen = field(default_factory=Chosen)
    leaflet: Leaflet | None = None
    full: LabelText | None = None  # the words before some of them went into the leaflet

    @property
    def code(self) -> str:
        """The batch code on the label."""
        return self.worded.mark.code


def pattern_of(inputs: Inputs) -> Pattern:
    """The workshop's batch code pattern. Raises InputError with the reasons it is refused."""
    pattern, findings = parse_pattern(inputs.workshop.batch.code, inputs.workshop.where)
    if pattern is None or findings.errors:
        raise InputError(findings.items)
    return pattern


def plan_new(folder: Path, inputs: Inputs, call: PrintCall, setting: Setting, planned: Iterable[str],
             notes: Findings) -> Plan:
    """Plan the labels of a batch not yet open: its code comes next after those on record and `planned`."""
    pattern = pattern_of(inputs)
    made = call.made or setting.today
    code = next_free_in(folder, pattern, made, inputs.formula.product.code, planned)
    notes += unreleased(inputs.workshop, None, call)
    return plan(folder, inputs, call, setting, code, made, new_key(setting.chance()), notes)


def unreleased(workshop: Workshop, batch: Batch | None, call: PrintCall) -> tuple[Finding, ...]:
    """An error where the workshop prints released batches only and this one (None: not open yet) is not released."""
    if call.draft or not workshop.batch.require_release or (batch is not None and batch.state == "released"):
        return ()
    what = f"batch {batch.code} is not released" if batch else "a batch is released before its labels are printed"
    do = f"labeltool batch release {batch.code} --by NAME" if batch else (
        "labeltool batch open FORMULA --size 500g, then weigh and release it; or --draft to try the label out")
    return (Finding("batch.unreleased", "error", what, limit="[batch] require-release = true", do=do),)


def plan(folder: Path, inputs: Inputs, call: PrintCall, setting: Setting, code: str, made: dt.date, key: str,
         notes: Findings, as_made: AsMade | None = None) -> Plan:
    """Plan the labels of one batch. `as_made`: what its bench says. Raises InputError with all reasons at once."""
    dated = made_findings(made, setting.today)
    prepared = prepare(inputs, call.on or max(made, setting.today), as_made.parts if as_made else None)
    mark, marked = mark_batch(prepared, code, key, made, as_made.best_before if as_made else None)
    worded = word(prepared, mark, pattern_of(inputs))
    call = _with_defaults(call, inputs)
    carries = carried(find_artworks(call.artworks, folder)) if call.artworks else None
    absent = missing(worded, carries)
    found = Findings() + notes + dated + prepared.findings + marked + worded.findings + absent
    stop = found.errors
    if stop and not call.draft:
        raise InputError(found.items)
    return _set(folder, inputs, call, made, key, prepared, worded, found, as_made)


def _with_defaults(call: PrintCall, inputs: Inputs) -> PrintCall:
    wanted = inputs.workshop.print
    stock = call.stock if call.stock is not None else wanted.stock
    artworks = call.artworks or wanted.artwork
    return replace(call, stock=stock, artworks=artworks)


def _set(folder: Path, inputs: Inputs, call: PrintCall, made: dt.date, key: str, prepared: Prepared,
         worded: Worded, found: Findings, as_made: AsMade | None) -> Plan:
    wanted = Wanted(call.stock, call.artworks, call.leaflet)
    try:
        fit = fit_label(prepared, worded, wanted, pattern_of(inputs), folder)
    except InputError as error:
        raise InputError((*found.items, *error.findings)) from error
    design, worded = fit.design, fit.worded
    found += fit.findings
    counts = counts_of_kinds(call.wish, design, as_made)
    call = replace(call, behind=call.behind or behind(design.stock, inputs.formula.container))
    found += surface(design.stock, any(frame.symbols for frame in design.frames), call.behind, sum(counts))
    found += onto(design.stock, inputs.formula.container, tuple(item.name for item in design.artworks))
    if found.errors and not call.draft:
        raise InputError(found.items)
    chosen = choose_printer(folder, call.printer, design.stock)
    laid = corrected(lay(design.stock, counts, call.wish), chosen)
    more = (*elsewhere(worded, design.carried), *_chosen(call, design), *design.notes, *chosen.findings)
    return Plan(folder, inputs, call, made, key, pattern_of(inputs), prepared, worded, design, laid, counts,
                (*found.items, *more), chosen, fit.leaflet, fit.full)


def behind(stock: Stock, container: Container | None) -> str | None:
    """The colour that the container's file says shows through clear stock."""
    return container.colour if container is not None and stock.face == "clear" else None


def counts_of_kinds(wish: Wish, design: Design, as_made: AsMade | None) -> tuple[int, ...]:
    """Labels of each kind. `--count filled`: what the filled packs still need, 0 where enough are on record."""
    kinds = len(design.frames)
    if not wish.filled:
        return (count_of(wish, design.stock, kinds),) * kinds
    counts = [as_made.to_print(item.name) if as_made else None for item in design.artworks]
    if None in counts:
        raise input_error("call.count-filled", "nobody has counted yet what was filled",
                          do="labeltool batch bench CODE --filled N, or --count N")
    return tuple(count for count in counts if count is not None)


def _chosen(call: PrintCall, design: Design) -> tuple[Finding, ...]:
    if call.stock and call.artworks:
        return ()
    names = ", ".join(item.name for item in design.artworks)
    text = f"chosen: stock {design.stock.name}, artwork {names}, the smallest that hold this label"
    if call.stock:
        text = f"chosen: artwork {names}, the first that fits {design.stock.name}"
    do = "name others with --stock and --artwork, or under [print] in workshop.toml"
    return (Finding("print.chosen", "note", text, do=do),)


def check_size(size: object) -> None:
    """Raise InputError for a batch size of nothing."""
    if size is not None and not size > 0:  # type: ignore[operator]
        raise input_error("call.size", "--size is the batch's mass and lies above 0", do="--size 500g")
