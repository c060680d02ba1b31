"""Large files are read whole, and every fault of them is told; bench/reading.py measures how long it takes."""

from __future__ import annotations

from pathlib import Path

import pytest
from formula_workshops import MATERIALS, read, write

ROWS = 20_000
FACTS = '[product]\nname = "Large"\n'


def toml(row: str) -> str:
    return FACTS + "".join(row.replace("?", str(at)) for at in range(ROWS))


@pytest.mark.slow
@pytest.mark.parametrize(("text", "found"), [
    (toml('[[ingredient]]\nmaterial = "water"\npercent = 0.005\nphase = "phase number ? of very many"\n'), 0),
    (toml('[[ingredient]]\nmaterial = "watr?"\npercent = 0.005\n'), ROWS),
    (toml('[[ingredient]]\nmaterial = "water"\npercnt = 0.005\n'), 2 * ROWS),
    (FACTS + "[container]\nshape = [" + "1," * 200_000 + "]\n", None),
    (FACTS + "[sub.a.b.c.d]\n" + "".join(f"e.f.g{at} = 1\n" for at in range(ROWS)), None),
])
def test_a_large_formula(tmp_path: Path, text: str, found: int | None) -> None:
    write(tmp_path, {"formulas/lotion.toml": text, "materials.toml": MATERIALS})
    loaded, findings = read(tmp_path)
    assert (loaded is None) == bool(findings.errors)
    assert found is None or len(findings) == found


@pytest.mark.slow
def test_a_large_spreadsheet(tmp_path: Path) -> None:
    text = "material;percent;note\n" + "water;0,005;a row of a long list of very many rows\n" * ROWS
    write(tmp_path, {"formulas/lotion.toml": FACTS, "formulas/lotion.csv": text})
    loaded, findings = read(tmp_path)
    assert loaded is not None
    assert len(loaded.formula.rows) == ROWS
    assert [item.rule for item in findings] == ["sheet.ignored"]
