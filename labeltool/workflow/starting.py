"""A new workshop folder from the shipped template: whole, or not at all."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from labeltool import tables
from labeltool.errors import input_error
from labeltool.formula.workshop import NAME


def start_workshop(folder: Path) -> tuple[str, ...]:
    """Make `folder` from the template; returns the relative names made.

    Raises InputError where the folder holds something already, or its parent does not exist.
    """
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise input_error("start.exists", f"{folder} is a file", do="name a new folder")
    if folder.is_dir() and any(folder.iterdir()):
        raise input_error("start.exists", f"{folder} is not empty", do="name a new folder; nothing was changed")
    if not folder.resolve().parent.is_dir():
        raise input_error("start.parent", f"{folder.parent} does not exist", do=f"make it first: mkdir {folder.parent}")
    template = tables.start_files()
    build = Path(tempfile.mkdtemp(prefix=f".{folder.resolve().name}.", dir=folder.resolve().parent))
    try:
        _fill(build, template)
        _put(build, folder)
    finally:
        shutil.rmtree(build, ignore_errors=True)
    return tuple(sorted(template))


def _fill(build: Path, template: dict[str, bytes]) -> None:
    build.chmod(0o755)
    for name, data in template.items():
        path = build / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)


def _put(build: Path, folder: Path) -> None:
    """Put in place; an empty folder, in which a shell may stand, is filled, workshop.toml last."""
    if not folder.is_dir():
        build.replace(folder)
        return
    for path in sorted(build.iterdir(), key=lambda path: path.name == NAME):
        path.replace(folder / path.name)
