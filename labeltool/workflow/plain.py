"""Values taken out of the record, which must be what they were."""

from __future__ import annotations

from typing import Any

from labeltool.codec import from_plain
from labeltool.errors import machine_error


def stored(kind: type[Any], plain: Any, what: str) -> Any:
    """A value that the record holds. Raises MachineError where it does not fit."""
    try:
        return from_plain(kind, plain)
    except (ValueError, TypeError, KeyError) as error:
        raise machine_error("record.value", f"the record's {what} cannot be read: {error}",
                            do="run labeltool records check") from error
