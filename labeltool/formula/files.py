"""Input files as bytes and text: bounded, regular, UTF-8; whatever is wrong becomes a finding."""

from __future__ import annotations

import hashlib
import os
import re
import stat
from dataclasses import dataclass
from pathlib import Path

from labeltool.finding import Where
from labeltool.formula.report import Report

MOST_BYTES = 10_000_000
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
_UTF16 = (b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True, slots=True)
class Data:
    """A file's bytes; `name` is how messages call it."""

    path: Path
    name: str
    content: bytes

    @property
    def sha256(self) -> str:
        """Of the content, in hex."""
        return hashlib.sha256(self.content).hexdigest()


def shown_path(path: Path, cwd: Path | None) -> str:
    """The path as messages show it: relative to the current folder where it can be."""
    if cwd is None:
        return path.name
    try:
        return os.path.relpath(cwd / path, cwd)
    except ValueError:
        return str(path)


def is_there(path: Path) -> bool:
    """Whether something lies at the path, or may lie there and cannot be looked at; never raises."""
    try:
        return path.exists()
    except OSError:
        return True
    except ValueError:
        return False


def read_data(path: Path, cwd: Path | None, report: Report) -> Data | None:
    """The bytes of a file of at most 10 MB, or None with the fault reported."""
    name = shown_path(path, cwd)
    where = Where(name)
    try:
        found = path.stat()
        content = _read(path, found.st_size) if stat.S_ISREG(found.st_mode) else None
    except FileNotFoundError:
        report.error("file.missing", f"{name} does not exist", where, do=_beside(path, report))
        return None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        report.error("file.unreadable", f"{name} cannot be read: {reason}", where)
        return None
    if content is None:
        _refuse(found, name, report)
        return None
    return Data(path, name, content)


def _read(path: Path, size: int) -> bytes | None:
    if size > MOST_BYTES:
        return None
    with path.open("rb") as file:
        content = file.read(MOST_BYTES + 1)
    return content if len(content) <= MOST_BYTES else None


def _refuse(found: os.stat_result, name: str, report: Report) -> None:
    if stat.S_ISDIR(found.st_mode):
        report.error("file.folder", f"{name} is a folder", Where(name), do="name a file in it")
    elif not stat.S_ISREG(found.st_mode):
        report.error("file.kind", f"{name} is no ordinary file", Where(name))
    else:
        report.error("file.size", f"{name} is larger than 10 MB", Where(name), limit="10 MB")


def _beside(path: Path, report: Report) -> str | None:
    try:
        names = sorted(item.name for item in path.parent.iterdir())
    except (OSError, ValueError):
        return f"there is no folder {path.parent.name}"
    return report.did_you_mean(path.name, names[:2000])


def text_of(data: Data, report: Report) -> str | None:
    """The text of a UTF-8 file without its byte order mark, or None with the fault of its encoding reported."""
    if data.content.startswith(_UTF16):
        report.error("file.encoding", f"{data.name} is UTF-16", Where(data.name), limit="UTF-8",
                     do="save it again as UTF-8 (spreadsheets call it CSV UTF-8)")
        return None
    try:
        text = data.content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.content.count(b"\n", 0, error.start) + 1
        report.error("file.encoding", f"byte 0x{data.content[error.start]:02X} is not UTF-8", Where(data.name, line),
                     limit="UTF-8", do="save the file again as UTF-8")
        return None
    found = _CONTROL.search(text)
    if found:
        line = text.count("\n", 0, found.start()) + 1
        report.error("file.control", f"control character U+{ord(found.group()):04X}", Where(data.name, line),
                     limit="text, tabs and line breaks", do="delete it")
        return None
    return text
