"""`pages build`: every batch's public page as a file that a web host finds at the path of its payloads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from labeltool import tables
from labeltool.coding.link import page_path, site_file
from labeltool.errors import InputError, input_error
from labeltool.finding import Finding, Findings
from labeltool.pages.html import Templates
from labeltool.pages.model import PublicPage
from labeltool.pages.public import index_html, public_html
from labeltool.pages.site import Site
from labeltool.records.model import Batch
from labeltool.records.progress import Step, silent
from labeltool.records.progress import told as heard
from labeltool.records.store import Store, open_store
from labeltool.workflow.codes import record_folder, record_path
from labeltool.workflow.page_facts import BatchPage, Teller
from labeltool.workflow.setting import Setting, shown_path

INDEX = "index.html"
_SHOWN = 3


@dataclass(frozen=True, slots=True)
class Built:
    """A site as it was built. `pages` counts files, of which a batch has one for each path."""

    folder: str
    batches: int
    pages: int
    written: int
    removed: int
    same: int
    findings: Findings

    def document(self) -> dict[str, Any]:
        """The JSON object of `pages build`."""
        return {"folder": self.folder, "batches": self.batches, "pages": self.pages, "written": self.written,
                "removed": self.removed, "unchanged": self.same, "problems": [item.as_json() for item in self.findings]}


@dataclass(frozen=True, slots=True)
class Found:
    """A file of the site and the batch it is of."""

    file: str
    page: PublicPage


@cache
def templates() -> Templates:
    """The shipped templates."""
    return Templates(tables.page_file)


def html_of(page: PublicPage) -> str:
    """The public page as HTML, with the shipped words."""
    return public_html(page, templates(), tables.toml("data", "page_words"))


def build(target: Path, setting: Setting, *, index: bool = False,
          step: Step = silent) -> Built:
    """Make the folder `target` hold every batch's page; `step` hears how far it has come.

    Raises InputError, and then nothing was written.
    """
    home = record_folder(setting)
    folder = setting.cwd / target
    _check_folder(folder, home)
    with open_store(record_path(home), create=False) as store:
        batches, count = _told(store, home, setting)
        told = list(heard(batches, "batches read", count, step))
        secret = store.origin()
    found, findings = _files(told)
    pages = {item.file: html_of(item.page) for item in heard(found, "pages made", len(found), step)}
    if index:
        pages[INDEX] = index_html([(item.file, item.page) for item in found], templates(),
                                  tables.toml("data", "page_words"))
    folder.mkdir(exist_ok=True)
    laid = Site(folder, secret).lay(pages, lambda items, whole: heard(items, "pages written", whole, step))
    return Built(shown_path(folder, setting.cwd), len(told), len(found), laid.written, laid.removed, laid.same,
                 findings + laid.findings)


def _told(store: Store, home: Path, setting: Setting) -> tuple[Iterator[BatchPage], int]:
    teller, prints = Teller(store, home, setting), store.outlines()
    batches: list[Batch] = [batch for batch in store.batches() if batch.state != "cancelled"]
    return (teller.tell(batch, prints.get(batch.code_key, ())) for batch in batches), len(batches)


def _check_folder(folder: Path, home: Path) -> None:
    """Raise InputError for a target that is no folder, or that holds the workshop and so the record."""
    if folder.exists() and not folder.is_dir():
        raise input_error("pages.folder", f"{folder} is a file", do="name a folder for the pages")
    if not folder.parent.is_dir():
        raise input_error("pages.folder", f"the folder {folder.parent} does not exist", do="make it first")
    if home.resolve().is_relative_to(folder.resolve()):
        raise input_error(
            "pages.folder", f"{folder} holds the workshop: whoever puts it on a web host would publish the record too",
            do="name a folder of its own: labeltool pages build site",
        )


def _files(told: Sequence[BatchPage]) -> tuple[list[Found], Findings]:
    """The files of all batches. Raises InputError where two batches would share one."""
    owners: dict[str, PublicPage] = {}
    faults, notes = [], [item for one in told for item in one.findings]
    for one in told:
        for payload in one.payloads:
            file, more = file_of(payload, one.page.code)
            notes += more
            if owners.setdefault(file, one.page) is not one.page:
                faults.append(_clash(file, owners[file].code, one.page.code))
    if faults:
        raise InputError(faults)
    plain = [one.page.code for one in told if any("://" not in payload for payload in one.payloads)]
    return [Found(file, page) for file, page in owners.items()], Findings((*notes, *_plain(plain)))


def file_of(payload: str, code: str) -> tuple[str, tuple[Finding, ...]]:
    """The file at which a payload's page lies; at the code's own path, with a warning, where it has none."""
    try:
        return site_file(page_path(payload)), ()
    except ValueError:
        text = f"batch {code}: the link {payload!a} on its labels has a path that no web host can serve"
        return site_file(page_path(code)), (Finding("pages.path", "warning", text, do="reprint the labels"),)


def _clash(file: str, one: str, other: str) -> Finding:
    return Finding("pages.clash", "error", f"batches {one} and {other} would have the same page: {file}",
                   do="recall the labels of one of them, or change [record] link and reprint them")


def _plain(codes: Sequence[str]) -> tuple[Finding, ...]:
    if not codes:
        return ()
    shown = ", ".join(codes[:_SHOWN]) + (f" and {len(codes) - _SHOWN} more" if len(codes) > _SHOWN else "")
    text = f"the QR of {shown} holds the code alone and leads to no page; the page lies at the code's own path, /B/CODE"
    do = "a link under [record] of workshop.toml lets the labels of new batches lead to theirs"
    return (Finding("pages.plain", "note", text, do=do),)
