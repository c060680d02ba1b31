"""The harness of `make torture`, on a small sample; and that it can fail."""

from __future__ import annotations

import sqlite3
import sys

import pytest
from source_tree import ROOT

sys.path.insert(0, str(ROOT / "tools"))

from torture import kills, lines, writers
from torture_proof import Broken, Proof
from torture_shop import new_shop

KILLS, WRITERS, EACH = 5, 4, 3


@pytest.mark.slow
def test_killed_at_random_nothing_is_lost_doubled_or_half_done(tmp_path, samples):
    count = samples(KILLS)
    tally = kills(tmp_path / "shop", count, seed=20260503)
    assert tally["killed"] == count
    print("\n".join(lines(tally, {"processes": 0, "batches": 0, "codes": 0}, 20260503, 0)))


def test_batches_opened_at_once_get_codes_of_their_own(tmp_path):
    assert writers(tmp_path / "shop", WRITERS, EACH)["codes"] == WRITERS * EACH


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    return new_shop(tmp_path_factory.mktemp("proof") / "shop")


def test_a_lost_event_is_noticed(shop):
    proof = Proof(shop)
    proof.hashes.append("0" * 64)
    with pytest.raises(Broken, match="events changed"):
        proof.after(["lot"], "key", acknowledged=False)


def test_work_acknowledged_and_not_on_record_is_noticed(shop):
    with pytest.raises(Broken, match="was acknowledged"):
        Proof(shop).after(["print"], "no such key", acknowledged=True)


def test_a_code_that_was_told_and_lost_is_noticed(shop):
    with pytest.raises(Broken, match="lost"):
        Proof(shop).codes(["260503Z99"], 1)
    with sqlite3.connect(shop.record) as connection:
        code = connection.execute("SELECT code FROM opened").fetchone()[0]
    connection.close()
    with pytest.raises(Broken, match="1 distinct"):
        Proof(shop).codes([code, code], 2)


@pytest.mark.parametrize("name", ["prints/half.pdf", "prints/half.tmp"])
def test_a_half_file_is_noticed(shop, name):
    path = shop.folder / name
    path.write_bytes(b"%PDF-1.4")
    with pytest.raises(Broken, match="half"):
        Proof(shop).checks()
    path.unlink()
    Proof(shop).checks()
