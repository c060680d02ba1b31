"""A finished PDF onto the disk and the record, in an order that no crash can turn into a lie.

The code is on record before this begins. Then: written beside the target under a temporary name and synced, read back,
committed to the record with its hash, and put in place.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from labeltool.errors import input_error

CREATOR = b"labeltool"
STALE_S = 3600
_PRINT = re.compile(r".+-[0-9]+\.pdf", re.IGNORECASE)


def check_target(path: Path) -> None:
    """Raise InputError where the target's folder is missing, or a file stands there that labeltool did not make."""
    if path.suffix.lower() != ".pdf":
        raise input_error("output.name", f"{path.name} is no PDF name", do="end the name of -o with .pdf")
    if not path.parent.is_dir():
        raise input_error("output.folder", f"the folder {path.parent} does not exist", do="make it first")
    if path.is_dir() or (path.exists() and not made_here(path)):
        raise input_error("output.foreign", f"{path} was not made by labeltool and stays",
                          do="name another file")


def check_outputs(output: Path | None, preview: Path | None, cwd: Path) -> None:
    """Raise InputError where -o or --preview may not be written: asked before anything is."""
    if output is not None:
        check_target(cwd / output)
        _check_kept(cwd / output)
    if preview is not None:
        from labeltool.output.png import check_picture

        check_picture(cwd / preview)


def _check_kept(path: Path) -> None:
    """A print in a workshop's prints folder keeps its file."""
    home = path.resolve().parent
    kept = home.name == "prints" and (home.parent / "workshop.toml").is_file() and _PRINT.fullmatch(path.name)
    if kept and path.exists():
        raise input_error("output.exists", f"{path} is a print on record and is never replaced", do="name another file")


def check_prints(folder: Path, code: str | None, on_record: Callable[[Path], Sequence[str]] = lambda _: ()) -> None:
    """Raise InputError where a workshop's prints folder is none, or holds a print of `code`, not yet given out."""
    home = folder / "prints"
    if home.exists() and not home.is_dir():
        raise input_error("output.folder", f"{home} is a file, and the PDFs go into a folder of that name",
                          do="move it away")
    if code is not None and (home / f"{code}-1.pdf").exists() and code not in on_record(folder):
        raise input_error("output.exists", f"{code}-1.pdf stands in {home}, and no batch {code} is on record",
                          do="restore the record (labeltool records restore FILE), or move the PDF away")


def made_here(path: Path) -> bool:
    """Whether a file is a PDF that labeltool wrote."""
    with path.open("rb") as stream:
        data = stream.read(16)
        stream.seek(max(0, path.stat().st_size - 8192))
        tail = stream.read()
    return data.startswith(b"%PDF-") and (CREATOR in tail or CREATOR in path.read_bytes())


def digest(data: bytes) -> str:
    """The SHA-256 of a file's bytes, in hex."""
    return hashlib.sha256(data).hexdigest()


@contextlib.contextmanager
def beside(folder: Path, data: bytes) -> Iterator[Path]:
    """A temporary file with `data` in `folder`, synced to the disk; gone at the end unless it was moved.

    What a killed print left behind an hour ago or longer goes first.
    """
    _sweep(folder)
    handle, name = tempfile.mkstemp(prefix=".labeltool-", suffix=".tmp", dir=folder)
    path = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        yield path
    finally:
        path.unlink(missing_ok=True)


def _sweep(folder: Path) -> None:
    for left in leftovers(folder):
        with contextlib.suppress(OSError):
            if time.time() - left.stat().st_mtime > STALE_S:
                left.unlink()


def leftovers(folder: Path) -> list[Path]:
    """Files under temporary names in a folder."""
    return sorted(folder.glob(".labeltool-*.tmp"))


def put(temporary: Path, target: Path) -> None:
    """Move a finished file to its name, readable as any new file is, and sync the folder."""
    temporary.chmod(0o666 & ~_umask())
    temporary.replace(target)
    _sync_folder(target.parent)


def _put_data(temporary: Path, target: Path, data: bytes) -> None:
    """The same for a print on record, which another process may have put in place meanwhile."""
    try:
        put(temporary, target)
    except FileNotFoundError:
        if not target.is_file() or target.read_bytes() != data:
            raise


def publish(data: bytes, folder: Path, name_and_commit: Callable[[], Path], check: Callable[[Path], None]) -> Path:
    """Write, check, commit, put in place; returns the target that `name_and_commit` gave.

    `check` reads the temporary file back and raises where it is wrong: then nothing is committed or left behind.
    """
    with beside(folder, data) as temporary:
        check(temporary)
        target = name_and_commit()
        _put_data(temporary, target, data)
    return target


def _umask() -> int:
    value = os.umask(0)
    os.umask(value)
    return value


def _sync_folder(folder: Path) -> None:
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
