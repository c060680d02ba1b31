from __future__ import annotations

import pytest
from bench_samples import KNOWN, D
from hypothesis import given
from hypothesis import strategies as st

from labeltool.batch.trace import Traced, Use, trace


def batch(code: str, *uses: tuple[str, str | None, str | None], names: tuple = (), mass: str | None = None) -> Traced:
    found = tuple(Use(material, lot, None if grams is None else D(grams)) for material, lot, grams in uses)
    known = [use.grams for use in found if use.grams is not None]
    whole = D(mass) if mass else (sum(known, D(0)) if known else None)
    return Traced(code, "Oat Lotion", "2026-05-03", "open", found, names, whole, 24, 1)


ACID = batch("260501-A37", ("water", "W-7", "80"), ("acid", "C-1", "20"),
             names=(("Aqua", D(80)), ("Citric Acid", D(20))))
LOTION = batch("260503A31", ("water", "W-7", "356.8"), ("oil", "O-9", "118"), ("ours", "260501A37", "5"),
               names=(("Aqua", D(75)), ("Citric Acid", D("0.2"))))
SOAP = batch("260504A28", ("oil", "O-9", "70"), ("oil", "O-10", "30"))
PLANNED = batch("260505A25", ("water", None, "300"), ("oil", None, None), names=(("Aqua", D(60)),), mass="500")
ALL = (ACID, LOTION, SOAP, PLANNED)


def answers(term: str, batches=ALL) -> dict[str, list[tuple[str, str | None]]]:
    return {
        found.kind: [(item.batch.code, None if item.grams is None else str(item.grams)) for item in found.batches]
        for found in trace(term, batches, KNOWN)
    }


def test_a_lot_leads_to_its_batches_and_on_through_what_is_made_here():
    assert answers("W-7") == {"lot": [("260501-A37", "80"), ("260503A31", "360.8")]}
    assert answers("w-7 ") == answers("W-7")
    assert answers("C-1") == {"lot": [("260501-A37", "20"), ("260503A31", "1")]}
    assert answers("O-10") == {"lot": [("260504A28", "30")]}


def test_a_code_leads_to_itself_its_uses_and_the_batches_that_hold_it():
    (code, lot) = trace("260501a37", ALL, KNOWN)
    assert (code.kind, [item.batch.code for item in code.batches]) == ("code", ["260501-A37", "260503A31"])
    assert [item.grams for item in code.batches] == [D(100), D(5)]
    assert code.uses == (Use("water", "W-7", D(80)), Use("acid", "C-1", D(20)))
    assert (lot.kind, [item.batch.code for item in lot.batches]) == ("lot", ["260503A31"])


def test_a_material_is_traced_by_former_keys_and_through_plans():
    assert answers("oil")["material"] == [("260503A31", "118"), ("260504A28", "100"), ("260505A25", None)]
    assert answers("sunflower") == answers("oil")
    assert answers("acid") == {"material": [("260501-A37", "20"), ("260503A31", "1")]}


def test_a_material_that_starts_from_an_older_batch_of_itself_is_counted_once():
    old = batch("A1", ("water", "W-1", "10"))
    young = batch("B2", ("base", "A1", "5"), ("water", "W-1", "5"))
    assert answers("base", (old, young, batch("C3", ("base", "B2", "10"))))["material"] == [("B2", "5"), ("C3", "10")]


def test_an_inci_name_is_traced_by_what_batches_hold():
    assert answers("citric acid") == {"inci": [("260501-A37", "20"), ("260503A31", "0.9596")]}
    assert answers("AQUA")["inci"][-1] == ("260505A25", "300")


def test_what_touches_nothing_has_no_answer():
    assert trace("Unobtainium", ALL, KNOWN) == ()
    assert trace("", ALL, KNOWN) == ()


def test_a_chain_of_any_length_is_followed_in_any_order():
    chain = [batch("C0", ("water", "W-1", "8"), ("oil", None, "2"))]
    chain += [batch(f"C{step}", ("base", f"C{step - 1}", "5"), ("oil", None, "5")) for step in range(1, 3000)]
    found = dict(answers("W-1", tuple(reversed(chain)))["lot"])
    assert len(found) == 3000
    assert [found["C0"], found["C1"], found["C2"]] == ["8", "4", "2"]


def test_a_circle_on_record_ends():
    circle = (batch("A1", ("base", "B2", "5"), ("water", "W-1", "5")),
              batch("B2", ("base", "A1", "5"), ("oil", None, "5")),
              batch("C3", ("base", "C3", "1"), ("water", "W-1", "1")))
    assert {code for code, _ in answers("W-1", circle)["lot"]} >= {"A1", "B2", "C3"}


@given(st.lists(st.tuples(st.integers(1, 50), st.integers(1, 50)), min_size=1, max_size=8))
def test_nothing_is_lost_or_made_on_the_way(rows):
    """Batches made one from all of the one before it hold all of the lot that went into the first."""
    chain = [batch("C0", ("water", "W-1", "7"), ("oil", None, "3"))]
    for step, (one, other) in enumerate(rows, 1):
        base = ("base", f"C{step - 1}", str(chain[-1].mass_g))
        chain.append(batch(f"C{step}", base, ("oil", None, f"{one}.{other}")))
    assert [grams for _, grams in answers("W-1", tuple(chain))["lot"]] == ["7"] * len(chain)


@pytest.mark.parametrize("mass", [None, "0"])
def test_a_batch_of_unknown_mass_passes_on_the_touch_and_not_the_grams(mass):
    source = Traced("A1", "P", "2026-05-03", "open", (Use("water", "W-1", D(5)),), (), mass and D(mass), 0, 0)
    assert answers("W-1", (source, batch("B2", ("base", "A1", "5")))) == {"lot": [("A1", "5"), ("B2", None)]}
