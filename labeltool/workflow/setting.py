"""Where a command runs: folders, environment, clock and chance, handed in as one value."""

from __future__ import annotations

import datetime as dt
import os
import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Setting:
    """The surroundings of one command: `workshop` as the option named it, or None."""

    cwd: Path
    env: Mapping[str, str]
    today: dt.date
    workshop: Path | None = None
    by: str | None = None
    once: str | None = None
    chance: Callable[[], bytes] = lambda: secrets.token_bytes(64)

    def now(self) -> str:
        """This moment, UTC, ISO 8601 to the second."""
        return dt.datetime.now(dt.UTC).isoformat(timespec="seconds")


def real_setting(workshop: Path | None = None, by: str | None = None, once: str | None = None) -> Setting:
    """The setting of this process."""
    return Setting(Path.cwd(), dict(os.environ), dt.date.today(), workshop, by, once)


def shown_path(path: Path, cwd: Path) -> str:
    """A path that opens from the current folder: relative where that is possible."""
    resolved = path.resolve()
    try:
        return str(resolved.relative_to(cwd.resolve()))
    except ValueError:
        return os.path.relpath(resolved, cwd) if resolved.anchor == cwd.resolve().anchor else str(resolved)
