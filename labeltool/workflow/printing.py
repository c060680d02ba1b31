"""The main job: formula files or open batches in, labels out, every print on record."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from labeltool import tables
from labeltool.codec import to_plain
from labeltool.errors import input_error
from labeltool.finding import Finding, Findings
from labeltool.records.model import Batch, CodeTaken, Once, PrintOrder, PrintRow
from labeltool.records.store import Store
from labeltool.workflow.calls import Printed
from labeltool.workflow.codes import next_free
from labeltool.workflow.curving import KEY as DIAMETERS
from labeltool.workflow.design import pictures
from labeltool.workflow.grading import low, told_of
from labeltool.workflow.inputs import frozen
from labeltool.workflow.issue import Issued, Job, date_on_label, issue, issue_draft, plain_stock, printed_words
from labeltool.workflow.leaflet import Leaflets, beside_labels
from labeltool.workflow.opening import opening_of
from labeltool.workflow.planning import Plan, plans
from labeltool.workflow.setting import Setting, shown_path
from labeltool.workflow.telling import told


def open_new(plans: tuple[Plan, ...], store: Store, setting: Setting,
             once: Once | None = None) -> tuple[tuple[Plan, ...], Batch]:
    """The batch opened, with the plans made for the code it got: another may have taken the planned one meanwhile."""
    opens = replace(once, step="open", answer=None) if once is not None else None
    while True:
        plan = plans[0]
        try:
            batch = store.open_batch(opening_of(plan.inputs, plan.pattern, plan.code, plan.key, plan.made,
                                                plan.call.size_g, setting, opens))
        except CodeTaken:
            code = next_free(store, plan.pattern, plan.made, plan.inputs.formula.product.code)
            plans = _for_code(plans, code, plan.key, setting)
            continue
        return (plans if batch.code == plan.code else _for_code(plans, batch.code, batch.key, setting)), batch


def _for_code(planned: tuple[Plan, ...], code: str, key: str, setting: Setting) -> tuple[Plan, ...]:
    first = planned[0]
    again = plans(first.folder, first.inputs, first.asked, setting, code, first.made, key, Findings(),
                  contents=first.contents)
    return tuple(replace(new, findings=old.findings) for new, old in zip(again, planned, strict=True))


def print_batch(
    plan: Plan, batch: Batch, store: Store, setting: Setting, once: Once | None = None,
) -> Printed | dict[str, Any]:
    """Print the planned labels of a batch on record."""
    known = store.answered(once)
    if known is not None and known.done:
        return dict(known.result)
    if not plan.laid.labels:
        raise input_error("call.count-filled", f"batch {batch.code}: every filled pack has its label on record",
                          do="--count N prints more all the same")
    order = order_of(plan, batch, setting, once)
    issued = issue(
        plan.folder, store, job_of(plan), (revising(order, plan, batch, store, setting, once),), shipped_fonts(plan),
        setting,
        output=plan.call.output, preview=plan.call.preview, verify=plan.call.verify, codes=(batch.code,),
    )
    return printed_of(plan, issued, setting)


def print_draft(plan: Plan, setting: Setting) -> Printed:
    """Print the planned labels with "draft" across each, off the record."""
    target = draft_target(plan, setting)
    issued = issue_draft(job_of(plan, draft=True), shipped_fonts(plan), target, setting, plan.call.preview)
    return printed_of(plan, issued, setting)


def draft_target(plan: Plan, setting: Setting, labels: str = "") -> Path:
    """Where a draft goes: -o, else prints/draft-FORMULA.pdf, with pack and labels where there are any."""
    if plan.call.output is not None:
        return setting.cwd / plan.call.output
    own = labels or (plan.aim.label.name if plan.aim.label else "")
    name = "-".join(item for item in ("draft", plan.inputs.formula.key, plan.aim.pack.name, own) if item)
    (plan.folder / "prints").mkdir(exist_ok=True)
    return plan.folder / "prints" / f"{name}.pdf"


def job_of(plan: Plan, *, draft: bool = False) -> Job:
    """The labels to write; the title names product and code, the author is the maker."""
    return Job(plan.design.frames, plan.laid, _title(plan), plan.inputs.workshop.maker.name or "", draft,
               plan.call.behind, tuple(plan.worded.text for _ in plan.design.frames), plan.diameters,
               leaflets_of(plan))


def _title(plan: Plan) -> str:
    named = f"{plan.inputs.formula.product.name} {plan.aim.pack.name}".strip()
    return f"{named}, batch {plan.code}"


def leaflets_of(plan: Plan) -> Leaflets | None:
    """The leaflets of a print, where it has any: one for each container."""
    return Leaflets(plan.leaflet, max(plan.counts), _title(plan)) if plan.leaflet else None


def shipped_fonts(plan: Plan) -> dict[str, bytes]:
    """The font files and pictures that the frames name, by SHA-256."""
    used = {weight: sha for frame in plan.design.frames for weight, sha in frame.fonts}
    used |= dict(plan.leaflet.fonts) if plan.leaflet else {}
    return {sha: tables.font_bytes(weight) for weight, sha in used.items()} | pictures(plan.design.artworks)


def revising(
    order: Callable[[str, str], PrintOrder], plan: Plan, batch: Batch, store: Store, setting: Setting,
    once: Once | None,
) -> Callable[[str, str], PrintOrder]:
    """The same order, with today's words frozen in its transaction where `--revise` asks for it."""
    if not plan.call.revise:
        return order

    def both(file: str, sha256: str) -> PrintOrder:
        step = replace(once, step="revise", answer=None) if once is not None else None
        store.revise(batch.code, frozen(plan.inputs), by=setting.by or plan.inputs.workshop.record.by,
                     at=setting.now(), why=plan.call.why or "", once=step)
        return order(file, sha256)

    return both


def order_of(plan: Plan, batch: Batch, setting: Setting, once: Once | None) -> Callable[[str, str], PrintOrder]:
    """The maker of the record's row, once file and hash are known."""
    text = plan.worded.text

    def answer(row: PrintRow) -> dict[str, Any]:
        return printed_of(plan, _of_row(plan, row), setting).document()

    def order(file: str, sha256: str) -> PrintOrder:
        return PrintOrder(
            code=batch.code, artworks=tuple(item.name for item in plan.design.artworks),
            labels=len(plan.laid.labels), sheets=plan.laid.sheets, skip=plan.call.wish.skip,
            places=tuple(place.place for _, place in plan.laid.labels) if plan.call.wish.places else (),
            stock=plain_stock(plan.design.stock), frames=tuple(to_plain(item) for item in plan.design.frames),
            text=to_plain(text), words=printed_words(plan.full or text), file=file, sha256=sha256,
            markets=tuple(plan.prepared.markets),
            languages=text.languages, at=setting.now(), by=setting.by or plan.inputs.workshop.record.by,
            extra=extra(plan) | {"unreleased": batch.state != "released"},
            printer=plan.chosen.printer, correction=to_plain(plan.laid.correction),
            once=replace(once, answer=answer) if once is not None else None, pack=plan.aim.pack.name,
        )

    return order


def _of_row(plan: Plan, row: PrintRow) -> Issued:
    return Issued(row, plan.folder / row.file, row.sha256, None)


def extra(plan: Plan) -> dict[str, object]:
    """What a reprint says besides the frames: title, author, dates, payload."""
    best = plan.worded.mark.best_before
    found: dict[str, object] = {
        "title": job_of(plan).title, "author": job_of(plan).author, "payload": plan.worded.mark.payload,
        "best-before": best.isoformat() if best else None, "counts": list(plan.counts),
        "places": plan.call.wish.places,
        "on": plan.prepared.on.isoformat(), "behind": plan.call.behind, "public": told(plan.prepared, plan.full),
        DIAMETERS: list(plan.diameters),
    } | ({"leaflet": plan.leaflet.plain()} if plan.leaflet else {})
    return found | ({"label": plan.aim.label.name, "surface": plan.aim.label.on} if plan.aim.label else {})


def printed_of(plan: Plan, issued: Issued, setting: Setting, more: Sequence[Finding] = ()) -> Printed:
    """The outcome to show."""
    stock, kept = plan.design.stock, issued.row.extra if issued.row else None
    return Printed(
        code=plan.code, made=plan.made, best_before=plan.worded.mark.best_before, labels=len(plan.laid.labels),
        sheets=plan.laid.sheets, stock=stock.name, artworks=tuple(item.name for item in plan.design.artworks),
        file=shown_path(issued.target, setting.cwd), sha256=issued.sha256, qr=plan.worded.mark.payload,
        x_height_mm=min(frame.x_height_mm for frame in plan.design.frames), next_skip=plan.laid.next_skip,
        problems=(*plan.findings, *issued.findings, *low(kept), *more), product=plan.inputs.formula.product.name,
        number=issued.row.number if issued.row else None, preview=issued.preview, per_page=stock.per_page,
        printer=plan.chosen.printer, grade=told_of(kept),
        leaflet=shown_path(beside_labels(issued.target), setting.cwd) if plan.leaflet else None,
        pack=plan.aim.pack.name, labels_of=(plan.aim.label.name,) if plan.aim.label else (),
        symbol=any(frame.symbols for frame in plan.design.frames), date_on_label=date_on_label(plan.design.frames),
    )

