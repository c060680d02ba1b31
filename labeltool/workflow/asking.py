"""The bench between a question and its answer: what stands, what would speak against an entry, and keeping it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from labeltool.batch.accept import accept
from labeltool.batch.lots import LotBook, Received
from labeltool.batch.model import Entry
from labeltool.finding import Findings
from labeltool.records.store import Store, open_store
from labeltool.workflow.benching import BenchCall, enter_all, refuse_cancelled, said, tried
from labeltool.workflow.benchlog import OnBench
from labeltool.workflow.codes import record_folder, record_path, the_batch
from labeltool.workflow.desk import Desk, open_desk
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
        return accept(self.at.bench, entry, self.desk.rules)[1]


def look(code: str, setting: Setting) -> Asked:
    """The bench of a batch as it stands. Raises InputError for a cancelled batch."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        return _asked(the_batch(code, folder, store).code, store, folder, setting)


def _asked(code: str, store: Store, folder: Path, setting: Setting) -> Asked:
    desk = open_desk(code, store, folder, setting)
    refuse_cancelled(desk.at)
    return Asked(desk.at, desk.book, desk, folder)


def put(asked: Asked, entry: Entry, setting: Setting) -> Asked:
    """Keep an entry. Raises InputError where something speaks against it by now."""
    code = asked.at.batch.code
    with open_store(record_path(asked.folder), create=False) as store:
        enter_all(code, lambda _: [said(entry)], store, asked.folder, setting)
        return _asked(code, store, asked.folder, setting)


def try_out(call: BenchCall, setting: Setting) -> tuple[Received, ...]:
    """The lots that a call would receive on the way, without keeping anything."""
    folder = record_folder(setting)
    with open_store(record_path(folder), create=False) as store:
        desk = open_desk(the_batch(call.code, folder, store).code, store, folder, setting)
        for one in tried(call, desk.at, setting):
            desk.take(one)
        return tuple(desk.received)
