"""Several prints on record in one file: labels of several packs, batches or artworks laid on the same sheets."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from labeltool.errors import input_error
from labeltool.finding import Finding
from labeltool.records.model import Batch, Once, PrintOrder, PrintRow
from labeltool.records.store import Store
from labeltool.workflow.calls import PrintCall, Printed
from labeltool.workflow.issue import Issued, Job, issue, issue_draft
from labeltool.workflow.leaflet import Leaflets
from labeltool.workflow.place import Laid, Wish, count_of, lay
from labeltool.workflow.planning import Plan
from labeltool.workflow.printers import corrected
from labeltool.workflow.printing import (
    draft_target,
    leaflets_of,
    order_of,
    print_batch,
    print_draft,
    printed_of,
    revising,
    shipped_fonts,
)
from labeltool.workflow.setting import Setting


@dataclass(frozen=True, slots=True)
class Share:
    """One batch's part of the sheets: a plan for each of its labels."""

    plans: tuple[Plan, ...]
    batch: Batch


def print_shares(shares: Sequence[Share], call: PrintCall, store: Store, setting: Setting,
                 once: Once | None = None) -> list[Printed]:
    """Print all shares in one file and put a print on record for each plan; one outcome a share."""
    job, fonts, laid = _job([share.plans for share in shares], call.wish)
    codes = [share.batch.code for share in shares for plan in share.plans for _ in range(sum(plan.counts))]
    folder = shares[0].plans[0].folder
    issued = issue(folder, store, job, list(_orders(shares, laid, store, setting, once)), fonts, setting,
                   output=call.output, preview=call.preview, verify=call.verify, codes=codes)
    return [printed_share(share.plans, laid, issued, setting) for share in shares]


def _job(groups: Sequence[tuple[Plan, ...]], wish: Wish) -> tuple[Job, dict[str, bytes], Laid]:
    """All labels on sheets of the first plan's stock, with its printer's correction; and their fonts."""
    plans = [plan for group in groups for plan in group]
    counts = [count for plan in plans for count in plan.counts]
    laid = corrected(lay(plans[0].design.stock, counts, replace(wish, count=None)), plans[0].chosen)
    frames = tuple(frame for plan in plans for frame in plan.design.frames)
    first = plans[0]
    job = Job(frames, laid, _title(plans), first.inputs.workshop.maker.name or "", behind=first.call.behind,
              texts=tuple(plan.worded.text for plan in plans for _ in plan.design.frames),
              diameters=tuple(item for plan in plans for item in plan.diameters), leaflets=_leaflets(groups[0]))
    return job, {sha: data for plan in plans for sha, data in shipped_fonts(plan).items()}, laid


def _title(plans: Sequence[Plan]) -> str:
    codes = list(dict.fromkeys(plan.code for plan in plans))
    if len(codes) > 1:
        return "Batches " + ", ".join(codes)
    packs = ", ".join(dict.fromkeys(plan.aim.pack.name for plan in plans))
    return f"{plans[0].inputs.formula.product.name} {packs}".strip() + f", batch {codes[0]}"


def filling(plans: Sequence[Plan], wish: Wish) -> tuple[Plan, ...]:
    """The plans of labels that share a sheet, with so many of each that one sheet is filled where no count is named."""
    if wish.filled or wish.count is not None or len(plans) == 1:
        return tuple(plans)
    each = count_of(wish, plans[0].design.stock, sum(len(plan.design.frames) for plan in plans))
    return tuple(replace(plan, counts=(each,) * len(plan.counts)) for plan in plans)


def _orders(shares: Sequence[Share], laid: Laid, store: Store, setting: Setting,
            once: Once | None) -> Iterable[Callable[[str, str], PrintOrder]]:
    codes = list(dict.fromkeys(share.batch.code for share in shares))
    start = 0
    for index, share in enumerate(shares):
        for nth, plan in enumerate(share.plans):
            step = _answering(once, share, laid, setting) if once and index == nth == 0 else None
            part = _part(laid, start, len(plan.counts))
            start += len(plan.counts)
            order = _order(plan, share, part, laid, codes, setting, step)
            first = index == nth == 0
            yield revising(order, plan, share.batch, store, setting, once) if first else order


def _answering(once: Once, share: Share, laid: Laid, setting: Setting) -> Once:
    def answer(row: PrintRow) -> dict[str, object]:
        issued = Issued(row, share.plans[0].folder / row.file, row.sha256, None)
        return printed_share(share.plans, laid, issued, setting).document()

    return replace(once, answer=answer)


def _part(laid: Laid, start: int, kinds: int) -> Laid:
    """The labels of one plan among all that were laid."""
    return replace(laid, labels=tuple(pair for pair in laid.labels if start <= pair[0] < start + kinds))


def _order(plan: Plan, share: Share, part: Laid, laid: Laid, codes: Sequence[str], setting: Setting,
           once: Once | None) -> Callable[[str, str], PrintOrder]:
    plain = order_of(replace(plan, laid=part), share.batch, setting, None)

    def order(file: str, sha256: str) -> PrintOrder:
        made = plain(file, sha256)
        return replace(made, sheets=laid.sheets, extra=dict(made.extra) | {"shared": list(codes)}, once=once)

    return order


def printed_share(plans: tuple[Plan, ...], laid: Laid, issued: Issued, setting: Setting) -> Printed:
    """What a share came to: its labels together, the free place after all of them."""
    outcomes = [printed_of(plan, issued, setting) for plan in plans]
    problems: tuple[Finding, ...] = tuple(dict.fromkeys(item for one in outcomes for item in one.problems))
    return replace(
        outcomes[0], labels=sum(sum(plan.counts) for plan in plans), sheets=laid.sheets,
        next_skip=laid.next_skip, problems=problems, x_height_mm=min(one.x_height_mm for one in outcomes),
        artworks=tuple(dict.fromkeys(name for one in outcomes for name in one.artworks)),
        labels_of=tuple(name for one in outcomes for name in one.labels_of),
        leaflet=next((one.leaflet for one in outcomes if one.leaflet), None),
    )


def print_file(plans: tuple[Plan, ...], batch: Batch, store: Store, setting: Setting,
               once: Once | None) -> Printed | dict[str, Any]:
    """Print labels of one batch and stock in one file; a call done before under its key gets the first result."""
    if len(plans) == 1:
        return print_batch(plans[0], batch, store, setting, once)
    known = store.answered(once)
    if known is not None and known.done:
        return dict(known.result)
    return print_shares([Share(plans, batch)], plans[0].call, store, setting, once)[0]


def draft_file(plans: tuple[Plan, ...], setting: Setting) -> Printed:
    """The same labels as a draft, off the record."""
    first = plans[0]
    if len(plans) == 1:
        return print_draft(first, setting)
    target = draft_target(first, setting, "-".join(plan.aim.name for plan in plans))
    job, fonts, laid = _job([plans], first.call.wish)
    issued = issue_draft(replace(job, draft=True), fonts, target, setting, first.call.preview)
    return printed_share(plans, laid, issued, setting)


def _leaflets(plans: Sequence[Plan]) -> Leaflets | None:
    """The leaflets of a pack beside its labels: all say the same, so the first label that has one gives it."""
    return next((found for plan in plans if (found := leaflets_of(plan)) is not None), None)


def needed(groups: Sequence[tuple[Plan, ...]]) -> list[tuple[Plan, ...]]:
    """The files that have labels in them, without the labels of which enough are on record; the first if none has."""
    found = [tuple(plan for plan in group if sum(plan.counts)) for group in groups]
    return [group for group in found if group] or [groups[0][:1]]


def by_stock(plans: Sequence[Plan]) -> list[tuple[Plan, ...]]:
    """The plans that share a file: those of one stock. Raises InputError where one file was named for several."""
    found: dict[str, list[Plan]] = {}
    for plan in plans:
        found.setdefault(plan.design.stock.name, []).append(plan)
    call = plans[0].call
    if len(found) > 1 and (call.output or call.preview):
        names = ", ".join(found)
        raise input_error("call.output", f"-o and --preview take one file, and these labels take several: {names}",
                          do="name one --label, or one --stock for all")
    if len(found) > 1 and (call.wish.skip or call.wish.places):
        raise input_error("call.skip", f"--skip and --places are of one stock, not of {' and '.join(found)}",
                          do="name one --label, or one --stock for all")
    return [filling(group, call.wish) for group in found.values()]
