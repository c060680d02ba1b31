"""Batch codes as a person types them, found on record."""

from __future__ import annotations

from pathlib import Path

from labeltool.coding.pattern import parse_pattern
from labeltool.coding.reading import near_codes, read_code
from labeltool.coding.shape import Pattern, code_key
from labeltool.errors import InputError, input_error
from labeltool.formula.load import find_workshop, read_workshop
from labeltool.records.model import Batch
from labeltool.records.store import Store, open_store
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


def patterns(folder: Path, codes: tuple[str, ...]) -> tuple[Pattern, ...]:
    """The workshop's code pattern, where it can be read."""
    workshop, _ = read_workshop(folder)
    pattern, _ = parse_pattern(workshop.batch.code) if workshop is not None else (None, None)
    return (pattern,) if pattern is not None else ()


def find_code(typed: str, folder: Path | None) -> str | None:
    """The code on record that was typed in any spelling; None where there is none."""
    codes = codes_on_record(folder)
    if folder is None or not codes:
        return None
    by_key = {code_key(code): code for code in codes}
    for candidate in (typed, *read_code(typed, patterns(folder, codes))):
        if code_key(candidate) in by_key:
            return by_key[code_key(candidate)]
    return None


def the_batch(typed: str, folder: Path, store: Store) -> Batch:
    """The batch of a typed code. Raises InputError with the codes it could have meant."""
    code = find_code(typed, folder)
    batch = store.batch(code_key(code)) if code is not None else None
    if batch is None:
        near = near_codes(typed, store.all_codes())
        do = f"did you mean {' or '.join(near)}?" if near else "labeltool batch list shows the codes on record"
        raise input_error("batch.unknown", f"no batch {typed} on record", do=do)
    return batch


def record_folder(setting: Setting) -> Path:
    """The workshop folder, whose record must exist. Raises InputError where it does not."""
    folder = find_workshop(None, workshop=setting.workshop, env=setting.env, cwd=setting.cwd)
    if not record_path(folder).exists():
        raise input_error("record.none", f"no batch is on record in {folder.name or folder} yet",
                          do="labeltool print FORMULA opens the first one")
    return folder
