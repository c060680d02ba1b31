"""Prints that a death left between the record and their name: the finished file lies aside, and is put in place."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

from labeltool.finding import Finding, Where
from labeltool.records.printfiles import file_sha256
from labeltool.records.store import Store
from labeltool.workflow.publish import leftovers, put

ASIDE = ".unfinished"


def aside(home: Path, folder: Path) -> Path:
    """Where a PDF for the folder `home` is written before it has its name: for prints/ in a folder of its own.

    Looking for what others left there costs nothing, however many prints there are.
    """
    if home != folder / "prints":
        return home
    place = home / ASIDE
    place.mkdir(exist_ok=True)
    return place


def finish(store: Store, folder: Path, place: Path) -> Iterator[Finding]:
    """Put in place what lies finished under a temporary name in `place`, where a print on record lacks its file."""
    for left in leftovers(place):
        with contextlib.suppress(OSError):
            for name in store.files_of(file_sha256(left)):
                if not (folder / name).exists():
                    put(left, folder / name)
                    text = f"{name} was printed and had not got its name yet; it has now"
                    yield Finding("record.print-finished", "note", text, Where(file=name))
                    break


def finish_all(store: Store, folder: Path) -> tuple[Finding, ...]:
    """The same wherever a print of this record went."""
    homes = {(folder / name).parent for name in store.print_folders()} | {folder / "prints"}
    places = [place for home in sorted(homes) for place in (home, home / ASIDE) if place.is_dir()]
    return tuple(item for place in places for item in finish(store, folder, place))
