"""The audit of one formula's label: every element, limit and claim, with the text it was checked against."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from labeltool.coding.link import new_key
from labeltool.coding.pattern import Pattern
from labeltool.errors import InputError
from labeltool.finding import Finding, Findings
from labeltool.formula.model import Pack
from labeltool.formula.sizes import sizes
from labeltool.rules.claims import unread_languages
from labeltool.rules.model import ClaimAdvice, Element, LimitAdvice
from labeltool.stock.onto import onto
from labeltool.stock.surface import surface
from labeltool.wording.audit import LEAFLET
from labeltool.workflow import layouts
from labeltool.workflow.auditing import at_label, audit, markless, worded_for
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.codes import next_free_in
from labeltool.workflow.curving import curve
from labeltool.workflow.declaring import percent
from labeltool.workflow.design import Design, carried, find_artworks
from labeltool.workflow.fitting import Wanted, fit_label
from labeltool.workflow.inputs import Inputs, read_inputs
from labeltool.workflow.packs import Aim, aims_of, chosen_pack, set_of
from labeltool.workflow.planning import behind, diameters_of, pattern_of
from labeltool.workflow.prepare import Judge, Prepared
from labeltool.workflow.sets import Content, contents_of_files, earliest, with_net, word_set
from labeltool.workflow.setting import Setting
from labeltool.workflow.words import Mark, Worded, elsewhere, mark_batch


@dataclass(frozen=True, slots=True)
class Seen:
    """One label as it would be set. `design` is None where no stock holds it."""

    worded: Worded
    design: Design | None
    pack: str = ""
    label: str | None = None

    @property
    def named(self) -> dict[str, Any]:
        """Pack and label as a document tells them, where there are any."""
        found = {"pack": self.pack, "label": self.label}
        return {key: value for key, value in found.items() if value}


@dataclass(frozen=True, slots=True)
class Checked:
    """What the audit found: a row for each element, market, pack and surface, and the labels as they would be set."""

    prepared: Prepared
    elements: tuple[Element, ...]
    labels: tuple[Seen, ...]
    findings: tuple[Finding, ...]

    @property
    def wrong(self) -> bool:
        """Whether an error or a missing element was found."""
        return any(item.level == "error" for item in self.findings) or any(
            item.state == "missing" for item in self.elements
        )

    def document(self) -> dict[str, Any]:
        """The documented JSON object of `check`."""
        return {
            "product": self.prepared.inputs.formula.product.name,
            "elements": [_element(item) for item in self.elements],
            "limits": [_limit(item) for item in self.prepared.advice.limits],
            "claims": [_claim(item) for item in self.prepared.advice.claims],
            "type": [row for item in self.labels for row in _heights(item)],
            "problems": [item.as_json() for item in self.findings],
        }


def check_formula(path: Path, call: PrintCall, setting: Setting) -> Checked:
    """Audit a formula, each of its packs; the batch code shown is the one that the next print would get."""
    opened = read_inputs(path, setting, dict(call.facts))
    inside = contents_of_files(opened.inputs, opened.folder, setting, call)
    inputs = with_net(opened.inputs, inside) if inside else opened.inputs
    judge = Judge(call.on or setting.today)
    pattern = pattern_of(inputs)
    code = next_free_in(opened.folder, pattern, setting.today, inputs.formula.product.code)
    key = new_key(setting.chance())
    last = earliest(inside)
    look = _Look(inputs, call, opened.folder, judge, pattern,
                 lambda one: mark_batch(one, code, key, setting.today, last), inside)
    packs = sizes(inputs.formula) if call.pack is None else (chosen_pack(inputs.formula, call.pack),)
    rows: list[Element] = []
    labels: list[Seen] = []
    found = [*opened.findings, *unread_languages(inputs.formula.product, inputs.workshop.languages)]
    for pack in packs:
        audited, seen, more = look.at(pack)
        rows += audited
        labels += seen
        found += more
    return Checked(judge.of(inputs), tuple(rows), tuple(labels), tuple(dict.fromkeys(found)))


@dataclass(frozen=True, slots=True)
class _Look:
    """How each pack of a formula is looked at."""

    inputs: Inputs
    call: PrintCall
    folder: Path
    judge: Judge
    pattern: Pattern
    mark: Callable[[Prepared], tuple[Mark, Findings]]
    inside: tuple[Content, ...] = ()

    def at(self, pack: Pack) -> tuple[tuple[Element, ...], list[Seen], list[Finding]]:
        """The audit of a pack, its labels, and what was found on the way."""
        aims = aims_of(self.inputs, pack, self.call, self.folder)
        labels, found = [], list(markless(aims, self.folder))
        for aim in aims:
            prepared = self.judge.of(aim.inputs)
            mark, marked = self.mark(prepared)
            worded = worded_for(aim, self.judge, lambda _, mark=mark: mark, self.pattern)  # type: ignore[misc]
            worded = word_set(worded, self.inside) if self.inside else worded
            design, more = _design(prepared, worded, aim.applied(self.call), self.folder, aim)
            labels.append(Seen(worded, design, pack.name, aim.label.name if aim.label else None))
            found += (*prepared.findings, *marked, *worded.findings, *at_label(more, aim))
        if aims[0].label is None:
            return tuple(replace(row, pack=pack.name) for row in labels[0].worded.elements), labels, found
        whole = set_of(self.inputs, pack, self.call, self.folder)
        rows = audit(whole, self.judge, lambda one: self.mark(one)[0], self.pattern, self.folder)
        return rows, labels, found


def _design(
    prepared: Prepared, worded: Worded, call: PrintCall, folder: Path, aim: Aim,
) -> tuple[Design | None, tuple[Finding, ...]]:
    wanted = prepared.inputs.workshop.print
    if call.stock is not None:
        layouts.stock(call.stock, folder)
    artworks = call.artworks or wanted.artwork
    carries = carried(find_artworks(artworks, folder)) if artworks else frozenset()
    led = call.leaflet and (aim.label is None or LEAFLET in carries)
    wish = Wanted(call.stock or wanted.stock, artworks, led)
    try:
        fit = fit_label(prepared, worded, wish, pattern_of(prepared.inputs), folder)
    except InputError as error:
        return None, error.findings
    left = elsewhere(worded, carries) if artworks and aim.label is None else ()
    stock, container = fit.design.stock, prepared.inputs.formula.container
    cautions = (*surface(stock, any(frame.symbols for frame in fit.design.frames), behind(stock, container)),
                *curve(fit.design.frames, diameters_of(fit.design, container)),
                *onto(stock, container, tuple(item.name for item in fit.design.artworks)))
    return fit.design, (*fit.findings, *left, *fit.design.notes, *cautions)


def _element(item: Element) -> dict[str, Any]:
    found = {"element": item.element, "market": item.market, "state": item.state, "text": item.text,
             "source": item.source, "block": item.block, "do": item.do}
    if item.pack:
        found["pack"] = item.pack
    return found if item.on is None else found | {"on": item.on, "labels": list(item.labels)}


def _limit(item: LimitAdvice) -> dict[str, Any]:
    return {"inci": item.inci, "market": item.market, "value": percent(item.value), "limit": item.limit,
            "state": item.state, "level": item.level, "source": item.source, "confidence": item.confidence}


def _claim(item: ClaimAdvice) -> dict[str, Any]:
    return {"phrase": item.phrase, "where": item.where, "level": item.level, "reason": item.reason,
            "instead": item.instead, "source": item.source}


def _heights(found: Seen) -> Iterator[dict[str, Any]]:
    """Each block's smallest allowed height and the height it would get; of a pack's label those it carries."""
    mine = found.design.carried if found.label and found.design else None
    for block in found.worded.text.blocks:
        if mine is not None and block.name not in mine:
            continue
        for least in block.minimums:
            yield {"block": block.name, "measure": least.measure, "minimum-mm": least.height_mm,
                   "height-mm": _height(found.design, block.name, least.measure), "source": least.source} | found.named


def _height(design: Design | None, block: str, measure: str) -> float | None:
    if design is None:
        return None
    from labeltool.workflow.heights import height_mm

    return height_mm(design, block, measure)
