"""The command line as the tests call it: in this process with a fixed day, or as a process of its own."""

from __future__ import annotations

import contextlib
import datetime as dt
import io
import json
import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from unittest.mock import patch

from labeltool.cli.main import run
from labeltool.workflow import setting

TODAY = dt.date(2026, 5, 3)
CREAM = "calendula-hand-cream"
BALM = "plain-foot-balm"


@dataclass(frozen=True)
class Ran:
    """What a command gave: exit code, stdout, stderr."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The one JSON document on stdout."""
        return json.loads(self.out)

    @property
    def rules(self) -> list[str]:
        """The rules of all problems of the document on stdout."""
        return [item["rule"] for item in self.json["problems"]]


def labeltool(*args: object, cwd: Path, today: dt.date = TODAY, env: Mapping[str, str] | None = None) -> Ran:
    """Run a command in this process, in a folder, on a day."""
    out, err = io.StringIO(), io.StringIO()
    before = Path.cwd()
    os.chdir(cwd)
    try:
        with patch.dict(os.environ, env or {}), patch.object(setting, "dt", clock(today)), \
             contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = _exit_code(lambda: run([str(arg) for arg in args]))
    finally:
        os.chdir(before)
    return Ran(code, out.getvalue(), err.getvalue())


def _exit_code(call: Callable[[], None]) -> int:
    try:
        call()
    except SystemExit as leave:
        return int(leave.code or 0)
    raise AssertionError("the command did not leave with an exit code")


def clock(today: dt.date) -> SimpleNamespace:
    """The datetime module with another today."""
    fixed = type("Fixed", (dt.date,), {"today": classmethod(lambda _: today)})
    return SimpleNamespace(date=fixed, datetime=dt.datetime, UTC=dt.UTC)


def command(*args: object) -> list[str]:
    """The words that run a command as a process of its own."""
    return [sys.executable, "-c", "from labeltool.cli.main import run; run()", *(str(arg) for arg in args)]


def process(*args: object, cwd: Path, env: Mapping[str, str] | None = None) -> Ran:
    """Run a command as a process of its own; no terminal is attached."""
    done = subprocess.run(command(*args), cwd=cwd, env=environment() | dict(env or {}), capture_output=True,
                          stdin=subprocess.DEVNULL, timeout=120, check=False)
    return Ran(done.returncode, done.stdout.decode(), done.stderr.decode())


def environment() -> dict[str, str]:
    """The environment of a process: this one's, with the package in reach and no workshop named."""
    root = str(Path(__file__).resolve().parent.parent)
    return {name: value for name, value in os.environ.items() if name != "LABELTOOL_WORKSHOP"} | {"PYTHONPATH": root}


def tree(folder: Path) -> dict[str, str]:
    """Every file and folder below a folder, with the hash of its bytes."""
    return {
        path.relative_to(folder).as_posix(): _digest(path) for path in sorted(folder.rglob("*"))
    }


def _digest(path: Path) -> str:
    if path.is_symlink():
        return "link"
    return sha256(path.read_bytes()).hexdigest() if path.is_file() else "folder"


@dataclass(frozen=True)
class Shop:
    """A workshop folder, with commands run in it."""

    folder: Path
    today: dt.date = TODAY

    def run(self, *args: object, today: dt.date | None = None) -> Ran:
        """Run a command in the workshop folder."""
        return labeltool(*args, cwd=self.folder, today=today or self.today)

    def done(self, *args: object, today: dt.date | None = None) -> Ran:
        """Run a command that must end well."""
        ran = self.run(*args, today=today)
        assert ran.code == 0, ran.err + ran.out
        return ran

    def document(self, *args: object, today: dt.date | None = None) -> Any:
        """The JSON document of a command that must end well."""
        return self.done(*args, "--json", today=today).json

    def change(self, name: str, old: str, new: str) -> None:
        """Change one part of one file."""
        path = self.folder / name
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {name}"
        path.write_text(text.replace(old, new), encoding="utf-8")

    def write(self, name: str, content: str | bytes) -> Path:
        """Write a file, folders above it made where needed."""
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path


def new_shop(parent: Path, name: str = "shop") -> Shop:
    """A workshop as `start` makes it."""
    ran = labeltool("start", name, cwd=parent)
    assert ran.code == 0, ran.err
    return Shop(parent / name)
