"""Labels of several batches, packs and labels on the same sheets: `print CODE:12 CODE/30ml:6`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from labeltool.errors import InputError, input_error
from labeltool.finding import Finding
from labeltool.records.store import open_store
from labeltool.workflow.calls import PrintCall, Printed
from labeltool.workflow.codes import record_folder, record_path, the_batch
from labeltool.workflow.place import MOST
from labeltool.workflow.reopening import plan_batch
from labeltool.workflow.setting import Setting
from labeltool.workflow.sharing import Share, print_shares

_FORM = re.compile(r"([^/:]+)(?:/([^/:]+))?:([0-9]{1,7})")
FORM = "CODE:N or CODE/PACK:N"


@dataclass(frozen=True, slots=True)
class Asked:
    """One part of the sheets as typed: a code, perhaps a pack, and how many of each of its labels."""

    code: str
    pack: str | None
    count: int


def parts_of_call(what: Sequence[str]) -> list[Asked]:
    """The arguments in the form CODE:N or CODE/PACK:N; [] where none is of that form.

    Raises InputError where only some are, or a number is none.
    """
    found = [_FORM.fullmatch(text) for text in what]
    if not any(found):
        return []
    if not all(found):
        raise input_error("call.shares", "some of these name a count and some do not", limit=f"{FORM} for every one")
    asked = [Asked(match[1], match[2], int(match[3])) for match in found if match]
    if any(not 1 <= item.count <= MOST for item in asked):
        raise input_error("call.shares", "a count is not between 1 and 1,000,000", limit=FORM)
    return asked


def print_mixed(asked: Sequence[Asked], call: PrintCall, setting: Setting) -> list[Printed]:
    """Print labels of several batches or packs one after the other on the same sheets, in one file."""
    if call.draft or call.revise or call.wish.filled or call.wish.count is not None or setting.once is not None\
            or call.leaflet:
        raise input_error("call.shares", f"{FORM} goes without --count, --draft, --revise, --leaflet and --once")
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        shares = []
        faults: list[Finding] = []
        for item in asked:
            try:
                batch = the_batch(item.code, folder, store)
                one = replace(call, wish=replace(call.wish, count=item.count), pack=item.pack or call.pack)
                shares.append(Share(plan_batch(batch, store, folder, one, setting), batch))
            except InputError as error:
                faults += [fault for fault in error.findings if fault.level == "error"]
        if faults:
            raise InputError(faults)
        _same_stock(shares)
        _each_once(shares)
        return print_shares(_by_batch(shares), call, store, setting)


def _same_stock(shares: Sequence[Share]) -> None:
    names = dict.fromkeys(plan.design.stock.name for share in shares for plan in share.plans)
    if len(names) > 1:
        raise input_error("call.shares", f"these labels would take different stocks: {', '.join(names)}",
                          do="name one for all: --stock NAME")


def _each_once(shares: Sequence[Share]) -> None:
    named = [(share.batch.code, share.plans[0].aim.pack.name) for share in shares]
    if len(set(named)) < len(named):
        raise input_error("call.shares", "a batch or pack is named twice", do="add its counts together")


def _by_batch(shares: Sequence[Share]) -> list[Share]:
    """The shares of one batch side by side, as the record gives its prints back."""
    codes = list(dict.fromkeys(share.batch.code for share in shares))
    return sorted(shares, key=lambda share: codes.index(share.batch.code))
