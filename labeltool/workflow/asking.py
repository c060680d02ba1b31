"""The bench between a question and its answer: what stands, what would speak against an entry, and keeping it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from labeltool.batch.lots import LotBook, Received
from labeltool.batch.made import complete
from labeltool.batch.model import Entry
from labeltool.batch.release import reasons
from labeltool.errors import input_error
from labeltool.finding import Finding, Findings
from labeltool.records.store import Store, open_store
from labeltool.workflow.asmade import as_made
from labeltool.workflow.benching import BenchCall, Entered, enter_all, said, tried
from labeltool.workflow.benchlog import OnBench
from labeltool.workflow.codes import record_folder, record_path, the_batch
from labeltool.workflow.desk import Desk, open_desk
from labeltool.workflow.judging import judged
from labeltool.workflow.lapsing import TAKEN_BACK
from labeltool.workflow.setting import Setting


@dataclass(frozen=True, slots=True)
class Asked:
    """A batch whose bench is asked about."""

    at: OnBench
    book: LotBook
    desk: Desk
    folder: Path

    def knows(self, material: str, lot: str) -> bool:
        """Whether that lot of the material is on record."""
        return self.book.find(material, lot) is not None

    def against(self, entry: Entry) -> Findings:
        """What speaks against an entry, before it is kept."""
        desk = replace(self.desk, found=[], taken=[], received=[])
        desk.take(said(entry))
        return Findings(tuple(desk.found))


def look(code: str, setting: Setting) -> Asked:
    """The bench of a batch as it stands. Raises InputError for a batch that was taken back."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        return _asked(the_batch(code, folder, store).code, store, folder, setting)


def _asked(code: str, store: Store, folder: Path, setting: Setting) -> Asked:
    desk = open_desk(code, store, folder, setting)
    if desk.at.batch.state in TAKEN_BACK:
        raise input_error("batch.closed", f"batch {code} is {desk.at.batch.state}: nothing new is asked for it",
                          do="--note TEXT, or --correct LINE=GRAMS@LOT --why TEXT")
    return Asked(desk.at, desk.book, desk, folder)


def put(asked: Asked, entry: Entry, setting: Setting) -> tuple[Asked, Findings]:
    """Keep an entry; what was found besides. Raises InputError where something speaks against it by now."""
    code = asked.at.batch.code
    with open_store(record_path(asked.folder), create=False) as store:
        done = enter_all(code, lambda _: [said(entry)], store, asked.folder, setting)
        return _asked(code, store, asked.folder, setting), done.findings


def ended(asked: Asked, new: int, setting: Setting) -> Entered:
    """What a round of questions leaves, with what refuses a release where everything is weighed."""
    against: tuple[Finding, ...] = ()
    with open_store(record_path(asked.folder), create=False) as store:
        if complete(asked.at.bench):
            made = as_made(the_batch(asked.at.batch.code, asked.folder, store), store, asked.folder, setting)
            against = reasons(judged(made, setting))
    return Entered(asked.at, new, against=against)


def try_out(call: BenchCall, setting: Setting) -> tuple[Received, ...]:
    """The lots that a call would receive on the way, without keeping anything."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        desk = open_desk(the_batch(call.code, folder, store).code, store, folder, setting)
        for one in tried(call, desk.at, setting):
            desk.take(one)
        return tuple(desk.received)
