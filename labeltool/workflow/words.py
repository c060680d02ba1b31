"""From a prepared product and a batch to the words of its label, and the audit of what they must hold."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from labeltool import tables
from labeltool.coding import dates, payload
from labeltool.coding.pattern import Pattern, grouped
from labeltool.finding import Finding, Findings
from labeltool.rules.model import Element
from labeltool.wording.build import WordingRequest, label_text
from labeltool.wording.elements import elements
from labeltool.wording.model import LabelText
from labeltool.workflow.prepare import Prepared


@dataclass(frozen=True, slots=True)
class Mark:
    """What makes one batch's label that batch's: code, made date, best before, QR payload."""

    code: str
    made: dt.date
    best_before: dt.date | None
    payload: str


@dataclass(frozen=True, slots=True)
class OfPack:
    """What a label says because of its pack: its name, its mark, and whether list or precautions stand elsewhere."""

    pack: str = ""
    mark: str | None = None
    elsewhere: bool = False


@dataclass(frozen=True, slots=True)
class Worded:
    """The words of one label, the audit of its elements, and what was found."""

    mark: Mark
    text: LabelText
    elements: tuple[Element, ...]
    findings: Findings


def mark_batch(
    prepared: Prepared, code: str, key: str, made: dt.date, shortened: dt.date | None = None,
) -> tuple[Mark, Findings]:
    """The batch's mark; findings where the link cannot hold the code. `shortened`: best before, where a lot decides."""
    product = prepared.inputs.formula.product
    best_before = shortened or (dates.best_before(made, product.shelf_life) if product.shelf_life else None)
    printed = dates.printed_day(best_before, made) if best_before else None
    held, findings = payload.payload(
        prepared.inputs.workshop.record, code, key, product.gtin, made=made, best_before=printed,
    )
    return Mark(code, made, best_before, held), Findings() + findings


def word(prepared: Prepared, mark: Mark, pattern: Pattern, of_pack: OfPack = OfPack()) -> Worded:
    """The label's words and the audit of what each market wants on it."""
    product, workshop = prepared.inputs.formula.product, prepared.inputs.workshop
    request = WordingRequest(
        product=product,
        container=prepared.inputs.formula.container,
        workshop=workshop,
        markets=prepared.markets,
        declaration=prepared.declaration.joint,
        warnings=prepared.advice.warnings,
        code=mark.code,
        groups=grouped(mark.code, pattern),
        made=mark.made,
        best_before=mark.best_before,
        payload=mark.payload,
        pack=of_pack.pack,
        mark=of_pack.mark,
        elsewhere=of_pack.elsewhere,
    )
    text, findings = label_text(request, tables.toml("data", "words"))
    return Worded(mark, text, elements(request, text), Findings() + findings)


def missing(worded: Worded, carried: frozenset[str] | None = None) -> tuple[Finding, ...]:
    """An error for every missing element that the artworks (`carried` blocks; None: all) would carry."""
    return tuple(
        Finding(
            "label.missing", "error", f"{item.element} is missing: {item.text}", market=item.market,
            source=item.source, do=item.do,
        )
        for item in worded.elements
        if item.state == "missing" and (carried is None or item.block is None or item.block in carried)
    )


def elsewhere(worded: Worded, carried: frozenset[str]) -> tuple[Finding, ...]:
    """A note that names the required elements which this set of artworks leaves to other labels."""
    left = [
        item.element for item in worded.elements
        if item.state in ("present", "missing") and item.block is not None and item.block not in carried
    ]
    names = ", ".join(dict.fromkeys(left))
    if not names:
        return ()
    text = f"this label does not carry: {names}"
    return (Finding("label.elsewhere", "note", text, do="print them on another label of the same container"),)
