"""What a record leaves beside itself: by it a lost record is told from one that never was."""

from __future__ import annotations

import os
import re
from pathlib import Path

from labeltool.errors import machine_error

_PRINT = re.compile(r".+-[0-9]+\.pdf", re.IGNORECASE)


def refuse_lost(path: Path, *, prints_too: bool = True) -> None:
    """Raise MachineError where a record is gone or empty, and something beside it says that there was one.

    `prints_too`: its prints count; otherwise only a write-ahead log, in which its last events may lie.
    """
    try:
        if path.stat().st_size:
            return
        how = "is empty"
    except FileNotFoundError:
        how = "is gone"
    except OSError:
        return
    left = _log_beside(path) or (_print_beside(path) if prints_too else None)
    if left is not None:
        raise machine_error(
            "record.lost", f"{path.name} {how}, and a record was here: {left} lies beside it",
            do=f"keep {left}, and restore the latest backup: labeltool records restore FILE; to begin with nothing on "
               "record, move it away",
        )


def _log_beside(path: Path) -> str | None:
    log = path.with_name(f"{path.name}-wal")
    try:
        return log.name if log.stat().st_size else None
    except OSError:
        return None


def _print_beside(path: Path) -> str | None:
    try:
        with os.scandir(path.parent / "prints") as entries:
            return next((f"prints/{item.name}" for item in entries if _PRINT.fullmatch(item.name)), None)
    except OSError:
        return None
