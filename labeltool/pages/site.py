"""A folder of pages for a web host: only what changed is written, only what was made here is replaced or removed."""

from __future__ import annotations

import contextlib
import hashlib
import hmac
import json
import os
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from labeltool.errors import InputError
from labeltool.finding import Finding, Findings

MANIFEST = ".labeltool-pages"
MADE_HERE = b'<meta name="generator" content="labeltool">'
TEMPORARY = ".labeltool-"
STALE_S = 3600
_HEAD = 2048
_SIGNS = 32

T = TypeVar("T")
Watch = Callable[[Iterable[T], int], Iterable[T]]


@dataclass(frozen=True, slots=True)
class Laid:
    """What became of a folder: files written, left as they were, removed; what was found on the way."""

    written: int
    same: int
    removed: int
    findings: Findings = field(default_factory=Findings)


class Site:
    """A folder of pages. The manifest in it names no path, for paths can be secrets: it holds keyed hashes of them.

    `secret` is the record's own, so that another record's pages in the same folder are foreign.
    """

    def __init__(self, folder: Path, secret: str) -> None:
        self.folder = folder
        self.secret = secret.encode()
        self.known = _read_manifest(folder / MANIFEST)

    def lay(self, pages: Mapping[str, str], watch: Watch[str] = lambda items, _: items) -> Laid:
        """Make the folder hold these pages (file: HTML), and no other of its own.

        Raises InputError, before anything is written, where something foreign stands in the way.
        """
        whole = {name: text.encode("utf-8") for name, text in pages.items()}
        changed = [name for name, data in whole.items() if not _holds(self.folder / name, data)]
        self._refuse(changed)
        fresh = {self._mark(name): _digest(data) for name, data in whole.items()}
        if changed:
            self._write_manifest(self.known | fresh)
        for name in watch(changed, len(changed)):
            _put(self.folder / name, whole[name])
        removed, kept, findings = self._clear(set(whole))
        self._write_manifest(kept | fresh)
        return Laid(len(changed), len(whole) - len(changed), removed, Findings(tuple(findings)))

    def _mark(self, name: str) -> str:
        return hmac.new(self.secret, name.encode("utf-8", "surrogateescape"), hashlib.sha256).hexdigest()[:_SIGNS]

    def _refuse(self, names: Iterable[str]) -> None:
        found = [fault for name in names if (fault := self._fault(name))]
        if found:
            raise InputError(found)

    def _fault(self, name: str) -> Finding | None:
        path = self.folder / name
        steps = [self.folder / step for step in reversed(Path(name).parents) if step.parts]
        for step in (*steps, path):
            if step.is_symlink():
                return _foreign(f"{step} is a link to elsewhere, and a page belongs there")
        for step in steps:
            if step.exists() and not step.is_dir():
                return _foreign(f"{step} is a file, and a page belongs into a folder of that name")
        if path.is_dir() or (path.exists() and not _made_here(path)):
            return _foreign(f"{path} was not made by labeltool and stays, and a page belongs there")
        return None

    def _clear(self, wanted: set[str]) -> tuple[int, dict[str, str], list[Finding]]:
        """Remove the files made here that are no longer wanted; those that somebody changed stay, and are told."""
        removed, kept, findings = 0, dict[str, str](), list[Finding]()
        for path in list(_files(self.folder)):
            _sweep(path)
            name = path.relative_to(self.folder).as_posix()
            digest = None if name in wanted else self.known.get(self._mark(name))
            if digest is None or not path.exists():
                continue
            if _digest(path.read_bytes()) == digest:
                path.unlink()
                removed += 1
                self._prune(path.parent)
            else:
                kept[self._mark(name)] = digest
                text = f"{path} is no longer wanted, but was changed by another hand and stays"
                findings.append(Finding("pages.changed", "warning", text, do="remove it yourself, or keep it"))
        return removed, kept, findings

    def _prune(self, folder: Path) -> None:
        """Remove folders that are empty now, up to the site's own."""
        while folder != self.folder:
            try:
                folder.rmdir()
            except OSError:
                return
            folder = folder.parent

    def _write_manifest(self, marks: Mapping[str, str]) -> None:
        document = {"format": 1, "files": dict(sorted(marks.items()))}
        data = json.dumps(document, separators=(",", ":")).encode()
        path = self.folder / MANIFEST
        if not _holds(path, data):
            _put(path, data)
        self.known = dict(marks)


def _read_manifest(path: Path) -> dict[str, str]:
    """The marks and digests of a manifest; nothing where there is none or it is none of ours."""
    try:
        document: Any = json.loads(path.read_bytes())
    except (OSError, ValueError):
        return {}
    files = document.get("files") if isinstance(document, dict) and document.get("format") == 1 else None
    if not isinstance(files, dict):
        return {}
    return {mark: digest for mark, digest in files.items() if isinstance(digest, str)}


def _digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:_SIGNS]


def _holds(path: Path, data: bytes) -> bool:
    try:
        return path.stat().st_size == len(data) and not path.is_symlink() and path.read_bytes() == data
    except OSError:
        return False


def _made_here(path: Path) -> bool:
    with path.open("rb") as stream:
        return MADE_HERE in stream.read(_HEAD)


def _files(folder: Path) -> Iterator[Path]:
    for place, _, names in os.walk(folder):
        for name in names:
            path = Path(place) / name
            if not path.is_symlink():
                yield path


def _sweep(path: Path) -> None:
    """Remove what a killed build left half written an hour ago or longer."""
    if path.name.startswith(TEMPORARY) and path.suffix == ".tmp":
        with contextlib.suppress(OSError):
            if time.time() - path.stat().st_mtime > STALE_S:
                path.unlink()


def _put(path: Path, data: bytes) -> None:
    """Write a file whole or not at all, readable as any new file is."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=TEMPORARY, suffix=".tmp", dir=path.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
        temporary.chmod(0o644)
        temporary.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink()
        raise


def _foreign(text: str) -> Finding:
    return Finding("pages.foreign", "error", text, do="move it away, or build into another folder")
