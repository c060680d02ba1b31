"""Files written whole or not at all, beside their target and then put in its place."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from labeltool.errors import MachineError, input_error, machine_error


@contextmanager
def replacing(target: Path) -> Iterator[Path]:
    """A temporary path beside `target`; what stands there at the end is flushed to disk and takes its place."""
    if not target.parent.is_dir():
        do = "make it, or name another file"
        raise input_error("call.folder", f"the folder {target.parent} does not exist", do=do)
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        yield part
        _flush(part)
        part.replace(target)
        _flush(target.parent)
    except OSError as error:
        raise unwritable(target, error) from error
    finally:
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)


def unwritable(path: Path, error: OSError) -> MachineError:
    """The error for a file that could not be read or written."""
    return machine_error(
        "machine.files", f"{path}: {error.strerror or error}",
        do="look at the disk's free space and the folder's permissions, and run the same command again",
    )


def _flush(path: Path) -> None:
    """Flush a file or folder to disk; a folder only where the system can."""
    if path.is_dir() and os.name == "nt":
        return
    handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
