"""The symbol in a terminal is the symbol."""

import pytest

from labeltool.symbol.qr import QUIET_ZONE, matrix
from labeltool.symbol.terminal import terminal_symbol

UPPER, LOWER = {"▀", "█"}, {"▄", "█"}


@pytest.mark.parametrize("payload", ["http://192.0.2.7:8000/", "260503A31", "HTTPS://OTTERSHOLT.EXAMPLE/B/260503A31"])
def test_every_module_stands_in_it_with_its_quiet_zone(payload: str) -> None:
    lines, symbol = terminal_symbol(payload), matrix(payload)
    assert {len(line) for line in lines} == {symbol.size + 2 * QUIET_ZONE}
    rows = [["1" if sign in half else "0" for sign in line] for line in lines for half in (UPPER, LOWER)]
    inner = ["".join(row[QUIET_ZONE:-QUIET_ZONE]) for row in rows[QUIET_ZONE:QUIET_ZONE + symbol.size]]
    assert tuple(inner) == symbol.rows
    edges = rows[:QUIET_ZONE] + rows[QUIET_ZONE + symbol.size:]
    assert len(edges) >= 2 * QUIET_ZONE and all(set(row) == {"0"} for row in edges)
    assert all(set(row[:QUIET_ZONE] + row[-QUIET_ZONE:]) == {"0"} for row in rows)
