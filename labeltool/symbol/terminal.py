"""A QR code as lines of text."""

from __future__ import annotations

from labeltool.symbol.qr import QUIET_ZONE, matrix

_HALVES = {("0", "0"): " ", ("1", "0"): "▀", ("0", "1"): "▄", ("1", "1"): "█"}


def terminal_symbol(payload: str) -> tuple[str, ...]:
    """The symbol with its quiet zone, two rows of modules a line, dark modules as ink: print it dark on light."""
    symbol = matrix(payload)
    side = "0" * QUIET_ZONE
    blank = "0" * (symbol.size + 2 * QUIET_ZONE)
    rows = [blank] * QUIET_ZONE + [f"{side}{row}{side}" for row in symbol.rows] + [blank] * (QUIET_ZONE + 1)
    return tuple(
        "".join(_HALVES[pair] for pair in zip(rows[place], rows[place + 1], strict=True))
        for place in range(0, len(rows) - 1, 2)
    )
