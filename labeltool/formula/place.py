"""Where the workshop folder is: named, from the environment, or found upward."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from pathlib import Path

from labeltool.errors import InputError, input_error
from labeltool.finding import Where
from labeltool.formula.files import shown_path

NAME = "workshop.toml"
VARIABLE = "LABELTOOL_WORKSHOP"


def find_workshop(formula: Path | None, *, workshop: Path | None, env: Mapping[str, str], cwd: Path) -> Path:
    """The workshop folder, absolute: as named, from LABELTOOL_WORKSHOP, or the nearest upward that holds workshop.toml.

    Upward from the formula file first, else from the current folder. Raises InputError where there is none.
    """
    if workshop is not None:
        return _named(workshop, "--workshop", cwd)
    if env.get(VARIABLE):
        return _named(Path(env[VARIABLE]), VARIABLE, cwd)
    starts = ([_absolute(formula, cwd).parent] if formula is not None else []) + [_absolute(cwd, cwd)]
    for start in starts:
        for folder in _upward(start):
            if _is_workshop(folder):
                return folder
    raise input_error("workshop.none", f"no {NAME} here or in any folder above",
                      do="make a workshop: labeltool start DIR; or name one: --workshop DIR")


def _named(given: Path, by: str, cwd: Path) -> Path:
    folder = _absolute(given, cwd)
    if folder.name == NAME and not _is_workshop(folder):
        folder = folder.parent
    if not _is_workshop(folder):
        raise _not_there(shown_path(folder, cwd), by)
    return folder


def _not_there(folder: str, by: str) -> InputError:
    return input_error("workshop.none", f"{by}: there is no {NAME} in {folder}", where=Where(folder),
                       do=f"name another folder, or make one: labeltool start {folder}")


def _absolute(path: Path, cwd: Path) -> Path:
    return Path(os.path.normpath(cwd / path))


def _upward(folder: Path) -> Iterator[Path]:
    yield folder
    yield from folder.parents


def _is_workshop(folder: Path) -> bool:
    try:
        return (folder / NAME).is_file()
    except (OSError, ValueError):
        return False
