"""Gift sets: which batches lie in one, and the words of its outer made from theirs."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from labeltool.coding.pattern import Pattern, parse_pattern
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.formula.model import Contained, Formula
from labeltool.formula.sizes import find_pack
from labeltool.records.model import PRINTABLE, Batch
from labeltool.records.store import Store
from labeltool.wording.sets import Inside, net_of, set_rows, set_text
from labeltool.workflow.arguments import formula_files
from labeltool.workflow.asmade import as_made
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.codes import next_free_in, the_batch
from labeltool.workflow.inputs import Held, Inputs, read_inputs
from labeltool.workflow.packs import view
from labeltool.workflow.plain import stored
from labeltool.workflow.prepare import Prepared, prepare
from labeltool.workflow.setting import Setting
from labeltool.workflow.words import OfPack, Worded, mark_batch, word


@dataclass(frozen=True, slots=True)
class Content:
    """A product of a set: what it is, and its words as its own label would have them for the set's readers."""

    held: Held
    prepared: Prepared
    worded: Worded

    @property
    def inside(self) -> Inside:
        """The same as wording takes it."""
        product = self.prepared.inputs.formula.product
        return Inside(product.name, self.held.count, product.net, self.worded.text, self.worded.elements)


def held_batches(inputs: Inputs, codes: Sequence[str], folder: Path, store: Store) -> tuple[Held, ...]:
    """What --of puts into the set. Raises InputError for batches that do not belong there, and for what lacks."""
    formula = inputs.formula
    if not formula.contains:
        if codes:
            raise input_error("call.of", f"{formula.product.name} is no set: --of names the batches of one",
                              do="leave --of out, or write [[contains]] into the formula")
        return ()
    batches = [the_batch(code, folder, store) for code in dict.fromkeys(codes)]
    kinds = {item.formula for item in formula.contains}
    faults = [_stranger(batch, formula) for batch in batches if batch.formula_key not in kinds]
    held: list[Held] = []
    for item in formula.contains:
        own = [batch for batch in batches if batch.formula_key == item.formula]
        if not own:
            faults.append(_lacking(item, formula))
        held += [Held(batch.code, item.formula, item.pack, item.count) for batch in own]
    if faults:
        raise InputError(faults)
    return tuple(held)


def _stranger(batch: Batch, formula: Formula) -> Finding:
    text = f"batch {batch.code} is of {batch.formula_key}, which the set does not hold"
    return Finding("set.stranger", "error", text,
                   limit=", ".join(item.formula for item in formula.contains))


def _lacking(item: Contained, formula: Formula) -> Finding:
    return Finding("set.lacking", "error", f"no batch of {item.formula} is named for {formula.product.name}",
                   item.where, do="name one: --of CODE")


def contents(inputs: Inputs, store: Store, folder: Path, setting: Setting, call: PrintCall) -> tuple[Content, ...]:
    """The products of a set on record, worded from what they froze and were made of.

    Raises InputError for one that was taken back or is of no such pack.
    """
    found: list[Content] = []
    faults: list[Finding] = []
    for held in inputs.held:
        batch = the_batch(held.lot, folder, store)
        try:
            found.append(_content(held, batch, inputs, store, folder, setting, call))
        except InputError as error:
            faults += [item for item in error.findings if item.level == "error"]
    if faults:
        raise InputError(faults)
    return tuple(found)


def contents_of_files(inputs: Inputs, folder: Path, setting: Setting, call: PrintCall) -> tuple[Content, ...]:
    """The products of a set as their files have them today, each with the code that its next batch would get.

    Raises InputError for a formula that is not there or has faults.
    """
    files = formula_files(folder)
    found = []
    for item in inputs.formula.contains:
        path = files.get(item.formula)
        if path is None:
            raise input_error("set.formula", f"formulas/ holds no formula {item.formula!r}", where=item.where,
                              do="name a formula of this workshop")
        own = read_inputs(path, setting).inputs
        code = next_free_in(folder, _pattern(own), setting.today, own.formula.product.code)
        held = Held(code, item.formula, item.pack, item.count)
        prepared = prepare(for_readers(own, held, inputs, call), call.on or setting.today)
        mark, _ = mark_batch(prepared, code, "", setting.today)
        found.append(Content(held, prepared, word(prepared, mark, _pattern(own), OfPack(item.pack))))
    return tuple(found)


def refuse_taken_back(batch: Batch, store: Store, folder: Path) -> None:
    """Raise InputError where a batch is a set that holds one taken back."""
    for item in batch.frozen.get("held") or ():
        _refuse(the_batch(item["lot"], folder, store))


def _refuse(batch: Batch) -> None:
    if batch.state not in PRINTABLE:
        raise input_error("set.taken-back", f"batch {batch.code} of {batch.product} is {batch.state}",
                          do="take another batch of it for the set")


def _content(held: Held, batch: Batch, outer: Inputs, store: Store, folder: Path, setting: Setting,
             call: PrintCall) -> Content:
    _refuse(batch)
    if outer.workshop.batch.require_release and batch.state != "released" and not call.draft:
        raise input_error("batch.unreleased", f"batch {batch.code} of {batch.product} is not released",
                          limit="[batch] require-release = true: a set is as good as what lies in it",
                          do=f"labeltool batch release {batch.code} --by NAME")
    frozen: Inputs = stored(Inputs, batch.frozen, f"batch {batch.code}")
    made = as_made(batch, store, folder, setting, frozen)
    inputs = for_readers(frozen, held, outer, call)
    prepared = prepare(inputs, call.on or max(batch.made, setting.today), made.parts)
    mark, _ = mark_batch(prepared, batch.code, batch.key, batch.made, made.best_before)
    return Content(held, prepared, word(prepared, mark, _pattern(inputs), OfPack(held.pack)))


def _pattern(inputs: Inputs) -> Pattern:
    pattern, findings = parse_pattern(inputs.workshop.batch.code, inputs.workshop.where)
    if pattern is None:
        raise InputError(findings.items)
    return pattern


def for_readers(frozen: Inputs, held: Held, outer: Inputs, call: PrintCall) -> Inputs:
    """A product's inputs in its pack, for the markets and languages of the set."""
    pack = find_pack(frozen.formula, held.pack)
    if pack is None:
        raise input_error("set.pack", f"{frozen.formula.product.name} has no pack {held.pack!r}",
                          limit=", ".join(item.name for item in frozen.formula.packs) or "one pack without a name",
                          do='write pack = "…" into the [[contains]] of the set')
    markets = call.markets or outer.formula.product.markets or outer.workshop.markets
    languages = call.languages or outer.workshop.languages
    return view(frozen, pack, None, replace(call, markets=markets, languages=languages))


def with_net(inputs: Inputs, found: Sequence[Content]) -> Inputs:
    """The set's inputs with its content, worked out where the file says none."""
    product = inputs.formula.product
    net = product.net or net_of([item.inside for item in found])
    return replace(inputs, formula=replace(inputs.formula, product=replace(product, net=net)))


def word_set(own: Worded, found: Sequence[Content]) -> Worded:
    """The words of the set's outer and their audit, from its own and its products'."""
    inside = [item.inside for item in found]
    text = set_text(own.text, inside)
    return replace(own, text=text, elements=set_rows(own.elements, inside, text),
                   findings=own.findings + _kept(found))


def _kept(found: Sequence[Content]) -> Iterator[Finding]:
    """What the products' own words gave rise to, each once; notes of their composition stay with their batches."""
    seen = dict.fromkeys(item for one in found for item in one.worded.findings)
    yield from (item for item in seen if item.level != "note")


def earliest(found: Iterable[Content]) -> dt.date | None:
    """The earliest best before of the set's products: the set is good as long as all of it is."""
    days = [item.worded.mark.best_before for item in found]
    return min((day for day in days if day is not None), default=None)
