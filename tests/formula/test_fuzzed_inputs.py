"""Whatever the files hold, reading answers with findings or an InputError, never with another exception."""

from __future__ import annotations

import contextlib
import tempfile
from pathlib import Path

from formula_workshops import CITRIC, FORMULA, MATERIALS, VALID, WORKSHOP, read, write
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sheets import xlsx

from labeltool.errors import InputError

SLOW = settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)
NAMES = st.sampled_from([*VALID, "formulas/x.csv", "formulas/x.xlsx"])
CSV = "phase,material,inci,percent,purpose\nA,water,,qs,\nB,,Glycerin,5,preservative\n"
ORIGINALS = {
    "workshop.toml": WORKSHOP.encode(), "materials.toml": MATERIALS.encode(),
    "formulas/lotion.toml": FORMULA.encode(),
    "formulas/citric-solution.toml": CITRIC.encode(), "formulas/x.csv": CSV.encode(), "formulas/x.xlsx": xlsx(),
}
PIECES = st.sampled_from([
    b"1e999999999", b"nan", b"-inf", b"true", b'""', b"[]", b"{}", b"9" * 30, b"1979-05-27", b"\xff", b"\0",
    b'"\\u0001"',
    b'"qs"', b'"to pH"', b"[[",
    b"]]", b"=", b"\n", b"\r", b'"""', b",", b";", b"[1, 2]", b'["x"]', b"0", b"-1", b"%", b"'",
])


def survives(files: dict[str, str | bytes | None], name: str) -> None:
    with tempfile.TemporaryDirectory() as folder, contextlib.suppress(InputError):
        loaded, findings = read(write(Path(folder), files), name)
        assert (loaded is None) == bool(findings.errors)


def entry(name: str) -> str:
    return name if name.startswith("formulas/x.") else "formulas/lotion.toml"


@SLOW
@given(NAMES, st.binary(max_size=200))
def test_random_bytes(name: str, content: bytes) -> None:
    survives({name: content}, entry(name))


@SLOW
@given(NAMES, st.lists(st.tuples(st.floats(0, 1), st.integers(0, 20), st.binary(max_size=4) | PIECES), max_size=4))
def test_changed_valid_files(name: str, changes: list[tuple[float, int, bytes]]) -> None:
    content = ORIGINALS[name]
    for share, cut, put in changes:
        at = int(share * len(content))
        content = content[:at] + put + content[at + cut:]
    survives({name: content}, entry(name))


@SLOW
@given(st.sampled_from(["workshop.toml", "materials.toml", "formulas/lotion.toml"]), st.floats(0, 1), PIECES)
def test_any_value_in_place_of_another(name: str, share: float, value: bytes) -> None:
    rows = ORIGINALS[name].split(b"\n")
    valued = [at for at, row in enumerate(rows) if b"=" in row and not row.startswith(b" ")]
    at = valued[min(int(share * len(valued)), len(valued) - 1)]
    rows[at] = rows[at].split(b"=")[0] + b"= " + value
    survives({name: b"\n".join(rows)}, "formulas/lotion.toml")


@SLOW
@given(st.lists(st.lists(st.none() | st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=8)
                         | st.floats(allow_nan=False, allow_infinity=False) | st.booleans() | st.dates(), max_size=6),
                max_size=5))
def test_any_cells(rows: list[list[object]]) -> None:
    survives({"formulas/x.xlsx": xlsx([["phase", "material", "percent", "purpose"], *rows])}, "formulas/x.xlsx")


@SLOW
@given(st.dictionaries(
    st.sampled_from(["name", "net", "ph", "users", "gtin", "claims", "professional", "shelf_life", "x"]),
    st.text(max_size=12),
))
def test_any_options(facts: dict[str, str]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        loaded, findings = read(write(Path(folder), {}), "formulas/lotion.toml", **facts)
        assert (loaded is None) == bool(findings.errors)
