"""Labels of several batches on the same sheets: `print CODE:12 CODE:6`."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.records.model import Batch, PrintOrder
from labeltool.records.store import Store, open_store
from labeltool.workflow.calls import PrintCall, Printed
from labeltool.workflow.codes import record_folder, record_path, the_batch
from labeltool.workflow.issue import Issued, Job, issue
from labeltool.workflow.place import MOST, Laid, Wish, lay
from labeltool.workflow.planning import Plan
from labeltool.workflow.printers import corrected
from labeltool.workflow.printing import order_of, printed_of, shipped_fonts
from labeltool.workflow.reopening import plan_batch
from labeltool.workflow.setting import Setting

_FORM = re.compile(r"(.+):([0-9]{1,7})")


@dataclass(frozen=True, slots=True)
class Share:
    """One batch's part of the sheets."""

    plan: Plan
    batch: Batch


def parts_of_call(what: Sequence[str]) -> list[tuple[str, int]]:
    """The (code, count) pairs of arguments in the form CODE:N; [] where none is of that form.

    Raises InputError where only some are, or a number is none.
    """
    found = [_FORM.fullmatch(text) for text in what]
    if not any(found):
        return []
    if not all(found):
        raise input_error("call.shares", "some of these name a count and some do not", limit="CODE:N for every batch")
    pairs = [(match[1], int(match[2])) for match in found if match]
    if any(not 1 <= count <= MOST for _, count in pairs):
        raise input_error("call.shares", "a count is not between 1 and 1,000,000", limit="CODE:N")
    return pairs


def print_mixed(pairs: Sequence[tuple[str, int]], call: PrintCall, setting: Setting) -> list[Printed]:
    """Print labels of several batches one after the other on the same sheets, in one file."""
    if call.draft or call.revise or call.wish.filled or call.wish.count is not None or setting.once is not None\
            or call.leaflet:
        raise input_error("call.shares", "CODE:N goes without --count, --draft, --revise, --leaflet and --once")
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        shares = []
        faults: list[Finding] = []
        for code, count in pairs:
            try:
                batch = the_batch(code, folder, store)
                wish = replace(call.wish, count=count)
                shares.append(Share(plan_batch(batch, store, folder, replace(call, wish=wish), setting), batch))
            except InputError as error:
                faults += [item for item in error.findings if item.level == "error"]
        if faults:
            raise InputError(faults)
        _same_stock(shares)
        laid = _lay(shares, call.wish)
        return _print(shares, laid, store, setting, call)


def _same_stock(shares: Sequence[Share]) -> None:
    names = dict.fromkeys(share.plan.design.stock.name for share in shares)
    if len(names) > 1:
        raise input_error("call.shares", f"these batches would take different stocks: {', '.join(names)}",
                          do="name one for all: --stock NAME")
    codes = [share.batch.code for share in shares]
    if len(set(codes)) < len(codes):
        raise input_error("call.shares", "a batch is named twice", do="add its counts together")


def _lay(shares: Sequence[Share], wish: Wish) -> Laid:
    counts = [count for share in shares for count in share.plan.counts]
    plan = shares[0].plan
    return corrected(lay(plan.design.stock, counts, wish), plan.chosen)


def _print(shares: Sequence[Share], laid: Laid, store: Store, setting: Setting, call: PrintCall) -> list[Printed]:
    frames = tuple(frame for share in shares for frame in share.plan.design.frames)
    plans = [share.plan for share in shares]
    codes = [share.batch.code for share in shares for _ in range(sum(share.plan.counts))]
    title = "Batches " + ", ".join(share.batch.code for share in shares)
    job = Job(frames, laid, title, plans[0].inputs.workshop.maker.name or "", behind=call.behind,
              texts=tuple(share.plan.worded.text for share in shares for _ in share.plan.design.frames))
    fonts = {sha: data for plan in plans for sha, data in shipped_fonts(plan).items()}
    orders = [_order(share, laid, shares, setting) for share in shares]
    issued = issue(plans[0].folder, store, job, orders, fonts, setting, output=call.output, preview=call.preview,
                   verify=call.verify, codes=codes)
    return [_printed(share, laid, issued, setting) for share in shares]


def _order(share: Share, laid: Laid, shares: Sequence[Share], setting: Setting) -> Callable[[str, str], PrintOrder]:
    plain = order_of(share.plan, share.batch, setting, None)
    shared = [one.batch.code for one in shares]

    def order(file: str, sha256: str) -> PrintOrder:
        made = plain(file, sha256)
        return replace(made, sheets=laid.sheets, extra=dict(made.extra) | {"shared": shared})

    return order


def _printed(share: Share, laid: Laid, issued: Issued, setting: Setting) -> Printed:
    return replace(printed_of(share.plan, issued, setting), sheets=laid.sheets, next_skip=laid.next_skip)
