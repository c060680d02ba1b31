from __future__ import annotations

from bench_samples import GOOD, ROWS, D, bench, correction, weighing

from labeltool.batch.history import change, history, told
from labeltool.batch.model import Counted, Filled, Logged, Note, Reading, Size, Weighing, Yield


def logged(*entries):
    return [Logged(entry, f"2026-05-03T10:{minute:02d}:00+00:00", "CD") for minute, entry in enumerate(entries)]


def test_every_correction_says_what_it_was_and_is_why_by_whom_and_when():
    log = logged(
        Size(D(500)), *GOOD, correction(Weighing("glycerin", D("24.9"), 2), "misread"),
        correction(Weighing("glycerin", D("24.9"), 2, "G-2"), "other jar"), Reading("ph", D("5.9"), celsius=D(21)),
        correction(Reading("ph", D("5.3")), "not rinsed"), Yield(D(480)), correction(Yield(D(488)), "tare"),
        Filled(9, "30ml"), correction(Filled(8, "30ml"), "recount"), Counted(1, "spoiled", 2, "back"),
        correction(Counted(1, "spoiled", 3, "back"), "one more"),
    )
    found = history(ROWS, None, log)
    assert [(item.what, item.was, item.now, item.why, item.line) for item in found] == [
        ("line 2 glycerin", "25.02 g, lot G-1", "24.9 g, lot G-1", "misread", 2),
        ("line 2 glycerin", "24.9 g, lot G-1", "24.9 g, lot G-2", "other jar", 2),
        ("ph", "5.9 at 21 °C", "5.3", "not rinsed", None), ("yield", "480 g", "488 g", "tare", None),
        ("filled of 30ml", "9", "8", "recount", None), ("spoiled of print 1, back", "2", "3", "one more", None),
    ]
    assert (found[0].at, found[0].by) == ("2026-05-03T10:04:00+00:00", "CD")


def test_of_two_lots_on_a_line_the_one_of_that_mass_gets_its_right_name():
    start = bench(weighing(2, "glycerin", "10", "G-1"), weighing(2, "glycerin", "15", "G-l"))
    item = Logged(correction(Weighing("glycerin", D(15), 2, "G-2"), "typed wrongly"), "")
    assert str(change(start, item)) == "line 2 glycerin: 15 g, lot G-2 instead of 15 g, lot G-l"


def test_entries_in_words():
    assert told(weighing(5, "oil", "2", "O-9")) == "line 5 oil: 2 g, lot O-9"
    assert told(Reading("ph", D("5.3"), celsius=D(21))) == "ph 5.3 at 21 °C read"
    assert told(correction(Size(D(500)))) == "size 500 g" and told(Note("calm")) == "calm"
    assert told(Yield(D(488))) == "yield: 488 g" and told(Filled(9, "30ml")) == "filled of 30ml: 9"
