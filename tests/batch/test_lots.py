from __future__ import annotations

import datetime as dt
import json
from dataclasses import replace

import pytest
from bench_samples import KNOWN, MADE, MATERIALS, D

from labeltool.batch.lots import (
    Blocked,
    Lot,
    Received,
    block_findings,
    fold_lots,
    from_record,
    lot_of_batch,
    overdrawn,
    receive_findings,
    stock,
)
from labeltool.codec import to_plain

DATE = dt.date(2027, 1, 1)


def received(material: str = "oil", lot: str = "W-7", **facts: object) -> Received:
    return Received(material, lot, MADE, **({"composition": MATERIALS.get(material)} | facts))


def rules(findings: object, level: str = "error") -> list[str]:
    return [item.rule for item in findings if item.level == level]


def test_a_lot_is_known_by_material_and_lot_together():
    book = fold_lots([received("oil"), received("glycerin", grams=D(5))])
    assert book.find("oil", "W-7").grams is None
    assert book.find("glycerin", "W-7").grams == 5
    assert book.find("water", "W-7") is None
    assert book.find("oil", None) is None
    assert [lot.material for lot in book.named("w-7")] == ["oil", "glycerin"]


@pytest.mark.parametrize("typed", ["W-7", "w-7", " W-7 ", "W-7\t"])
def test_case_and_spacing_do_not_part_lots(typed):
    assert fold_lots([received()]).find("oil", typed).lot == "W-7"


def test_a_former_key_finds_todays_lots_and_the_other_way_round():
    assert fold_lots([received("sunflower")], KNOWN).find("oil", "W-7") is not None
    assert fold_lots([received("oil")], KNOWN).find("sunflower", "W-7") is not None
    assert fold_lots([received("oil")]).find("sunflower", "W-7") is None


def test_a_lot_keeps_the_composition_of_its_day_under_the_key_that_asks():
    old = replace(MATERIALS["oil"], name="Oil of 2026")
    book = fold_lots([received(composition=old)], KNOWN)
    assert book.material_of("sunflower", "W-7") == replace(old, key="sunflower")
    assert book.material_of("oil", "W-8") is None


def test_more_of_a_lot_adds_up_and_fills_what_was_not_said():
    book = fold_lots([received(grams=D(100)), received(grams=D(50), expires=DATE, supplier="Example Oils")])
    lot = book.find("oil", "W-7")
    assert (lot.grams, lot.expires, lot.supplier, len(book.lots)) == (D(150), DATE, "Example Oils", 1)
    assert fold_lots([received(), received(grams=D(50))]).find("oil", "W-7").grams == 50
    assert fold_lots([received(grams=D(50)), received()]).find("oil", "W-7").grams == 50


def test_a_blocked_lot_stays_blocked():
    book = fold_lots([received(), Blocked("oil", "w-7", "rancid"), received(grams=D(5))])
    assert book.find("oil", "W-7").blocked == "rancid"


def test_receiving_the_same_lot_with_other_facts_is_refused():
    book = fold_lots([received(expires=DATE)])
    assert rules(receive_findings(book, received(expires=DATE, grams=D(1)), MADE)) == []
    assert rules(receive_findings(book, received(), MADE)) == []
    assert rules(receive_findings(book, received(expires=MADE), MADE)) == ["lot.differs"]
    other = replace(MATERIALS["oil"], fragrance=True)
    assert rules(receive_findings(book, received(composition=other), MADE)) == ["lot.differs"]
    moved = replace(MATERIALS["oil"], name="Renamed", source="a new sheet")
    assert rules(receive_findings(book, received(composition=moved), MADE)) == []


@pytest.mark.parametrize(("entry", "error", "warning"), [
    (received(), [], []),
    (received(lot=" "), ["lot.name"], []),
    (received(grams=D(-1)), ["lot.grams"], []),
    (received(grams=D("NaN")), ["lot.grams"], []),
    (received(expires=MADE - dt.timedelta(days=1)), [], ["lot.expired"]),
    (replace(received(), received=MADE + dt.timedelta(days=1)), [], ["lot.received"]),
])
def test_what_speaks_against_receiving(entry, error, warning):
    found = receive_findings(fold_lots([]), entry, MADE)
    assert (rules(found), rules(found, "warning")) == (error, warning)


def test_receiving_more_of_a_blocked_lot_warns():
    book = fold_lots([received(), Blocked("oil", "W-7", "rancid")])
    assert rules(receive_findings(book, received(), MADE), "warning") == ["lot.blocked"]


def test_blocking_needs_a_lot_and_a_reason():
    book = fold_lots([received()])
    assert rules(block_findings(book, Blocked("oil", "W-7", "rancid"))) == []
    assert rules(block_findings(book, Blocked("oil", "W-8", " "))) == ["lot.unknown", "lot.why"]


def test_a_batch_is_the_lot_of_a_material_made_here():
    good = lot_of_batch("acid", "260501A37", MADE, DATE, "released")
    bad = lot_of_batch("acid", "260501B10", MADE, DATE, "recalled")
    book = fold_lots([received("acid", "260501A37", grams=D(9))], made_here=[good, bad])
    assert book.find("acid", "260501B10").blocked == "batch 260501B10 is recalled"
    assert book.find("acid", "260501A37").grams == 9
    assert (good.expires, good.blocked) == (DATE, None)


def test_what_is_left_of_each_lot():
    book = fold_lots([received(grams=D(100)), received("glycerin"), received("water", grams=D(10))], KNOWN)
    used = [("sunflower", "w-7", D(60)), ("oil", "W-7", D(50)), ("oil", None, D(999)), ("glycerin", "W-7", D(1))]
    assert [(lot.material, left) for lot, left in stock(book, used)] == [
        ("oil", D(-10)), ("glycerin", None), ("water", D(10)),
    ]
    (found,) = overdrawn(book, used)
    assert (found.rule, found.level) == ("lot.overdrawn", "warning")
    assert "10 g more" in found.text
    assert not overdrawn(book, used[:1]).items


@pytest.mark.parametrize("entry", [
    received(grams=D("1.50"), expires=DATE, supplier="Example Oils", supplier_lot="77"),
    Blocked("oil", "W-7", "rancid"),
])
def test_lot_entries_go_on_record_and_back(entry):
    assert from_record(json.loads(json.dumps(to_plain(entry)))) == entry


def test_a_lot_blocked_before_it_was_received_is_received_blocked():
    book = fold_lots([Blocked("oil", "W-7", "rancid"), received(grams=D(5))])
    assert book.lots == (Lot("oil", "W-7", MADE, MATERIALS["oil"], None, D(5), blocked="rancid"),)
