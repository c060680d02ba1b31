"""The desk of `pages serve`: every page read from the record when it is asked for."""

from __future__ import annotations

import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from urllib.parse import unquote

from labeltool import tables
from labeltool.coding.checkdigits import DIGITS, mod97_check
from labeltool.coding.link import page_path
from labeltool.coding.reading import recognise, tidy
from labeltool.coding.shape import Pattern, code_key
from labeltool.errors import InputError
from labeltool.formula.load import read_workshop
from labeltool.pages.model import BenchRow, LookedUp
from labeltool.pages.private import bench_html, bench_list_html, look_up_html, plain_html
from labeltool.pages.words import PageWords, page_words
from labeltool.records.store import Store, open_store
from labeltool.workflow.codes import patterns, record_path
from labeltool.workflow.page_bench import bench_page
from labeltool.workflow.page_building import html_of, templates
from labeltool.workflow.page_facts import Teller
from labeltool.workflow.setting import Setting, real_setting


@dataclass(frozen=True, slots=True)
class Ways:
    """What leads where, at one state of the record: paths to code keys, and the first path of every code.

    `guarded`: the codes whose page lies behind a key, which nobody is to find by the code alone.
    """

    head: str
    owners: Mapping[str, str]
    exact: Mapping[str, str]
    first: Mapping[str, str]
    guarded: frozenset[str] = field(default_factory=frozenset)


class RecordDesk:
    """Pages out of the record of one workshop. Opened anew for each request, so that a withdrawal shows at once."""

    def __init__(self, folder: Path, setting: Setting) -> None:
        self.folder = folder
        self.setting = setting
        self._lock = threading.Lock()
        self._ways = Ways("", {}, {}, {})

    def public(self, path: str) -> tuple[str, str] | None:
        """(exact path, HTML) of the page at a path in any case, or None."""
        with self._store() as store:
            ways = self._known(store)
            exact = path if path in ways.owners else ways.exact.get(path.casefold(), "")
            batch = store.batch(ways.owners[exact]) if exact else None
            if batch is None:
                return None
            told = Teller(store, self.folder, self._today()).tell(batch, store.outlines_of(batch.code_key))
            return exact, html_of(told.page)

    def look_up(self, typed: str, *, home: bool) -> tuple[str | None, str]:
        """The path that a typed code leads to, or None and the form with what it could have meant.

        On the network, codes whose pages lie behind a key are not known.
        """
        if not typed.strip():
            return None, self._form(LookedUp())
        with self._store() as store:
            ways = self._known(store)
        open_to = {code: path for code, path in ways.first.items() if home or code not in ways.guarded}
        shapes = patterns(self.folder)
        reading = recognise(typed, open_to, shapes)
        if reading.code is not None:
            return open_to[reading.code], ""
        near = tuple((code, open_to[code]) for code in reading.near)
        return None, self._form(LookedUp(typed, None, near, slips(typed, shapes)))

    def lost(self) -> str:
        """The page of a path that has none."""
        return self._form(LookedUp(), lost=True)

    def bench_list(self) -> str:
        """The list of batches at the bench."""
        with self._store() as store:
            rows = [BenchRow(item.code, item.product, item.made.isoformat(), item.state) for item in store.batches()]
        return bench_list_html(rows, templates())

    def bench(self, code: str) -> str | None:
        """The bench page of a batch, or None."""
        with self._store() as store:
            found = store.batch(code) if code and code.isascii() else None
            ways = self._known(store)
        if found is None or found.code != code:
            return None
        paths = [path for path, key in ways.owners.items() if key == found.code_key]
        return bench_html(bench_page(found.code, paths, replace(self._today(), workshop=self.folder)), templates())

    def plain(self, title: str, text: str) -> str:
        """A page that says one thing."""
        return plain_html(title, text, templates())

    def _store(self) -> Store:
        return open_store(record_path(self.folder), create=False)

    def _today(self) -> Setting:
        return replace(self.setting, today=real_setting().today)

    def _form(self, found: LookedUp, *, lost: bool = False) -> str:
        return look_up_html(found, self._words(), templates(), lost=lost)

    def _words(self) -> PageWords:
        try:
            workshop, _ = read_workshop(self.folder)
        except InputError:
            workshop = None
        return page_words(tables.toml("data", "page_words"), workshop.languages if workshop else ())

    def _known(self, store: Store) -> Ways:
        """The ways of the record as it stands; read again only when something was added to it."""
        head = store.head()
        with self._lock:
            if self._ways.head != head:
                self._ways = ways_of(store, self.folder, self._today(), head)
            return self._ways


def ways_of(store: Store, folder: Path, setting: Setting, head: str = "") -> Ways:
    """Every path that leads to a page; of two batches with one path, the first."""
    teller, prints = Teller(store, folder, setting), store.outlines()
    owners: dict[str, str] = {}
    open_to: dict[str, str] = {}
    guarded: dict[str, str] = {}
    for batch in store.batches():
        if batch.state == "cancelled":
            continue
        for payload in teller.payloads(batch, prints.get(batch.code_key, ())):
            path = unquote(page_path(payload))
            if owners.setdefault(path, batch.code_key) == batch.code_key:
                (guarded if batch.key and batch.key in path else open_to).setdefault(batch.code, path)
    exact = {path.casefold(): path for path in reversed(owners)}
    return Ways(head, owners, exact, guarded | open_to, frozenset(guarded) - frozenset(open_to))


def slips(typed: str, shapes: Iterable[Pattern]) -> bool:
    """Whether the check digits at the end of a typed code do not fit the rest of it."""
    key = code_key(tidy(typed).replace(" ", ""))
    guarded = any(pattern.has("check") for pattern in shapes) and len(key) > 4
    return guarded and set(key[-2:]) <= set(DIGITS) and mod97_check(key[:-2]) != key[-2:]
