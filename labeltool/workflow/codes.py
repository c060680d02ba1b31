"""Batch codes as a person types them, found on record; and the next one that is free."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from pathlib import Path

from labeltool.coding.pattern import parse_pattern
from labeltool.coding.reading import misread, near_codes, read_code
from labeltool.coding.sequence import next_code
from labeltool.coding.shape import Pattern, code_key
from labeltool.errors import InputError, input_error
from labeltool.formula.load import find_workshop, read_workshop
from labeltool.records.model import Batch
from labeltool.records.store import Store, open_store
from labeltool.records.traces import refuse_lost
from labeltool.workflow.setting import Setting


def home(setting: Setting) -> Path | None:
    """The workshop folder, or None where there is none."""
    try:
        return find_workshop(None, workshop=setting.workshop, env=setting.env, cwd=setting.cwd)
    except InputError:
        return None


def record_path(folder: Path) -> Path:
    """Where a workshop's record lies."""
    return folder / "records.sqlite"


def codes_on_record(folder: Path | None) -> tuple[str, ...]:
    """Every code the workshop's record ever gave out."""
    if folder is None or not record_path(folder).exists():
        return ()
    with open_store(record_path(folder), create=False) as store:
        return tuple(store.all_codes())


def next_free(
    store: Store, pattern: Pattern, made: dt.date, product: str | None, planned: Iterable[str] = (),
) -> str:
    """The code that the next batch gets: after those of its day on record and `planned`, and used by none at all."""
    used = [*store.codes_like(pattern.stem(made, product)), *planned]
    while store.code_of(code_key(code := next_code(pattern, made, product, used))) is not None:
        used.append(code)
    return code


def next_free_in(
    folder: Path, pattern: Pattern, made: dt.date, product: str | None, planned: Iterable[str] = (),
) -> str:
    """The same for a workshop, which may have no record yet."""
    if not record_path(folder).exists():
        return next_code(pattern, made, product, planned)
    with open_store(record_path(folder), create=False) as store:
        return next_free(store, pattern, made, product, planned)


def patterns(folder: Path) -> tuple[Pattern, ...]:
    """The workshop's code pattern, where it can be read."""
    workshop, _ = read_workshop(folder)
    pattern, _ = parse_pattern(workshop.batch.code) if workshop is not None else (None, None)
    return (pattern,) if pattern is not None else ()


def find_code(typed: str, folder: Path | None) -> str | None:
    """The code on record that was typed in any spelling; None where there is none."""
    if folder is None or not record_path(folder).exists():
        return None
    with open_store(record_path(folder), create=False) as store:
        return code_in(typed, folder, store)


def code_in(typed: str, folder: Path, store: Store) -> str | None:
    """The code on record that a text means; None where there is none."""
    found = store.code_of(code_key(typed))
    if found is not None:
        return found
    read = (store.code_of(code_key(code)) for code in read_code(typed, patterns(folder)))
    return next((code for code in read if code is not None), None)


def the_batch(typed: str, folder: Path, store: Store) -> Batch:
    """The batch of a typed code. Raises InputError with the codes it could have meant."""
    code = code_in(typed, folder, store)
    batch = store.batch(code_key(code)) if code is not None else None
    if batch is None:
        near = near_codes(typed, store.all_codes())
        do = f"did you mean {' or '.join(near)}?" if near else "labeltool batch list shows the codes on record"
        trouble = ": its check digits do not fit" if misread(typed, patterns(folder)) else ""
        raise input_error("batch.unknown", f"no batch {typed} on record{trouble}", do=do)
    return batch


def code_trouble(typed: str, folder: Path | None) -> str | None:
    """What is wrong with a typed code that is not on record, in the words of the workshop's pattern; None where it has
    not the pattern's form."""
    form = patterns(folder) if folder is not None else ()
    if read_code(typed, form):
        return "a batch code, but no such batch is on record here"
    return "a batch code whose check digits do not fit: a character is mistyped" if misread(typed, form) else None


def record_folder(setting: Setting) -> Path:
    """The workshop folder, whose record must exist. Raises InputError where it does not."""
    folder = find_workshop(None, workshop=setting.workshop, env=setting.env, cwd=setting.cwd)
    refuse_lost(record_path(folder))
    if not record_path(folder).exists():
        raise input_error("record.none", f"no batch is on record in {folder.name or folder} yet",
                          do="labeltool print FORMULA opens the first one")
    return folder
