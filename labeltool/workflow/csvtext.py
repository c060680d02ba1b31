"""The text of a small CSV file that somebody filled in."""

from __future__ import annotations

from pathlib import Path

from labeltool.errors import input_error

MOST_BYTES = 10_000_000


def read_csv_text(path: Path, name: str) -> str:
    """The file's text, without a byte order mark. Raises InputError where it is none; `name`: as it was typed."""
    if not path.is_file():
        raise input_error("csv.missing", f"{name} is no file", do="--from takes a CSV file: FILE.csv")
    if path.stat().st_size > MOST_BYTES:
        raise input_error("csv.large", f"{name} is over 10 MB")
    try:
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise input_error("csv.encoding", f"{name} is not UTF-8", do="save it as CSV UTF-8") from error
