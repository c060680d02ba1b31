"""The audit of one formula's label: every element, limit and claim, with the text it was checked against."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from labeltool.coding.link import new_key
from labeltool.errors import InputError
from labeltool.finding import Finding
from labeltool.rules.model import ClaimAdvice, Element, LimitAdvice
from labeltool.stock.onto import onto
from labeltool.stock.surface import surface
from labeltool.workflow import layouts
from labeltool.workflow.calls import PrintCall
from labeltool.workflow.codes import next_free_in
from labeltool.workflow.declaring import percent
from labeltool.workflow.design import Design, carried, find_artworks
from labeltool.workflow.fitting import Wanted, fit_label
from labeltool.workflow.inputs import read_inputs
from labeltool.workflow.planning import behind, pattern_of
from labeltool.workflow.prepare import Prepared, prepare
from labeltool.workflow.setting import Setting
from labeltool.workflow.words import Worded, elsewhere, mark_batch, word


@dataclass(frozen=True, slots=True)
class Checked:
    """What the audit found. `design` is the label as it would be set, None where no stock holds it."""

    prepared: Prepared
    worded: Worded
    design: Design | None
    findings: tuple[Finding, ...]

    @property
    def wrong(self) -> bool:
        """Whether an error or a missing element was found."""
        return any(item.level == "error" for item in self.findings) or any(
            item.state == "missing" for item in self.worded.elements
        )

    def document(self) -> dict[str, Any]:
        """The documented JSON object of `check`."""
        return {
            "product": self.prepared.inputs.formula.product.name,
            "elements": [_element(item) for item in self.worded.elements],
            "limits": [_limit(item) for item in self.prepared.advice.limits],
            "claims": [_claim(item) for item in self.prepared.advice.claims],
            "type": list(_heights(self)),
            "problems": [item.as_json() for item in self.findings],
        }


def check_formula(path: Path, call: PrintCall, setting: Setting) -> Checked:
    """Audit a formula; the batch code shown is the one that the next print would get."""
    opened = read_inputs(path, setting, dict(call.facts))
    inputs = opened.inputs
    prepared = prepare(inputs, call.on or setting.today)
    pattern = pattern_of(inputs)
    code = next_free_in(opened.folder, pattern, setting.today, inputs.formula.product.code)
    mark, marked = mark_batch(prepared, code, new_key(setting.chance()), setting.today)
    worded = word(prepared, mark, pattern)
    found = (*opened.findings, *prepared.findings, *marked, *worded.findings)
    design, more = _design(prepared, worded, call, opened.folder)
    return Checked(prepared, worded, design, (*found, *more))


def _design(
    prepared: Prepared, worded: Worded, call: PrintCall, folder: Path,
) -> tuple[Design | None, tuple[Finding, ...]]:
    wanted = prepared.inputs.workshop.print
    if call.stock is not None:
        layouts.stock(call.stock, folder)
    find_artworks(call.artworks, folder)
    artworks = call.artworks or wanted.artwork
    wish = Wanted(call.stock or wanted.stock, artworks, call.leaflet)
    try:
        fit = fit_label(prepared, worded, wish, pattern_of(prepared.inputs), folder)
    except InputError as error:
        return None, error.findings
    left = elsewhere(worded, carried(find_artworks(artworks, folder))) if artworks else ()
    stock, container = fit.design.stock, prepared.inputs.formula.container
    cautions = (*surface(stock, any(frame.symbols for frame in fit.design.frames), behind(stock, container)),
                *onto(stock, container, tuple(item.name for item in fit.design.artworks)))
    return fit.design, (*fit.findings, *left, *fit.design.notes, *cautions)


def _element(item: Element) -> dict[str, Any]:
    return {"element": item.element, "market": item.market, "state": item.state, "text": item.text,
            "source": item.source, "block": item.block, "do": item.do}


def _limit(item: LimitAdvice) -> dict[str, Any]:
    return {"inci": item.inci, "market": item.market, "value": percent(item.value), "limit": item.limit,
            "state": item.state, "level": item.level, "source": item.source, "confidence": item.confidence}


def _claim(item: ClaimAdvice) -> dict[str, Any]:
    return {"phrase": item.phrase, "where": item.where, "level": item.level, "reason": item.reason,
            "instead": item.instead, "source": item.source}


def _heights(found: Checked) -> Iterator[dict[str, Any]]:
    """Each block's smallest allowed height and the height it would get."""
    for block in found.worded.text.blocks:
        for least in block.minimums:
            yield {"block": block.name, "measure": least.measure, "minimum-mm": least.height_mm,
                   "height-mm": _height(found.design, block.name, least.measure), "source": least.source}


def _height(design: Design | None, block: str, measure: str) -> float | None:
    if design is None:
        return None
    from labeltool.workflow.heights import height_mm

    return height_mm(design, block, measure)
